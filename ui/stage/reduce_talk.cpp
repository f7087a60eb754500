// A talk.
#include <algorithm>
#include <utility>

#include "stage/edits.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const StartTalk&) const {
  s.first.step.reset();
  if (s.document.now.story.talk.empty()) return;
  s.talk.aside.clear();
  s.talk.shows_own = false;
  s.talk.step = 0;
  come_back();
  go_to_step(0);
}
void Reducer::operator()(const EndTalk&) const {
  s.talk.step.reset();
  s.talk.aside.clear();
  s.talk.shows_own = false;
}
void Reducer::operator()(const TakeUpAside&) const {
  if (!s.talk.step || s.talk.aside.empty()) return;
  end_drag(s);
  remember(s, s.document.now);
  std::swap(s.document.now.edits, s.talk.aside);
  ask_run();
}
void Reducer::operator()(const ShowOwnInTalk&) const {
  s.talk.shows_own = s.talk.step.has_value();
}
void Reducer::operator()(const StepTalk& a) const {
  if (!s.talk.step) return;
  const auto last = static_cast<int>(s.document.now.story.talk.size()) - 1;
  come_back();
  go_to_step(static_cast<std::size_t>(std::clamp(static_cast<int>(*s.talk.step) + a.steps, 0, std::max(last, 0))));
}
void Reducer::operator()(const JumpTalk& a) const {
  if (!s.talk.step || a.step >= s.document.now.story.talk.size()) return;
  come_back();
  go_to_step(a.step);
}
void Reducer::operator()(const ComeBack&) const {
  if (!branched(s)) return;
  const bool revealed = s.talk.revealed;
  come_back();
  go_to_step(*s.talk.step);
  s.talk.revealed = revealed;
}
void Reducer::operator()(const Reveal&) const {
  s.talk.revealed = true;
}
void Reducer::come_back() const {
  if (!branched(s)) return;
  end_drag(s);
  remember(s, s.document.now);
  s.talk.aside = std::exchange(s.document.now.edits, {});
  ask_run();
}
void Reducer::go_to_step(std::size_t index) const {
  const auto& talk = s.document.now.story.talk;
  if (index >= talk.size()) return;
  s.talk.step = index;
  s.talk.revealed = false;
  s.time.playing = false;
  s.time.day = std::clamp(talk[index].day, 0.0, last_day());
  if (const auto view = look::named<View>(view_names, talk[index].look)) s.page.view = *view;
  if (s.page.view == View::study) open_page();
}

}  // namespace drawdown::stage
