// A talk.
#include <algorithm>
#include <utility>

#include "stage/edits.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const StartTalk&) const {
  s.first.reset();
  if (s.document.story.talk.empty()) return;
  s.talk_aside.clear();
  s.own_in_talk = false;
  s.talk = 0;
  come_back();
  go_to_step(0);
}
void Reducer::operator()(const EndTalk&) const {
  s.talk.reset();
  s.talk_aside.clear();
  s.own_in_talk = false;
}
void Reducer::operator()(const TakeUpAside&) const {
  if (!s.talk || s.talk_aside.empty()) return;
  end_drag(s);
  remember(s, s.document);
  std::swap(s.document.edits, s.talk_aside);
  ask_run();
}
void Reducer::operator()(const ShowOwnInTalk&) const {
  s.own_in_talk = s.talk.has_value();
}
void Reducer::operator()(const StepTalk& a) const {
  if (!s.talk) return;
  const auto last = static_cast<int>(s.document.story.talk.size()) - 1;
  come_back();
  go_to_step(static_cast<std::size_t>(std::clamp(static_cast<int>(*s.talk) + a.steps, 0, std::max(last, 0))));
}
void Reducer::operator()(const JumpTalk& a) const {
  if (!s.talk || a.step >= s.document.story.talk.size()) return;
  come_back();
  go_to_step(a.step);
}
void Reducer::operator()(const ComeBack&) const {
  if (!branched(s)) return;
  const bool revealed = s.revealed;
  come_back();
  go_to_step(*s.talk);
  s.revealed = revealed;
}
void Reducer::operator()(const Reveal&) const {
  s.revealed = true;
}
void Reducer::come_back() const {
  if (!branched(s)) return;
  end_drag(s);
  remember(s, s.document);
  s.talk_aside = std::exchange(s.document.edits, {});
  ask_run();
}
void Reducer::go_to_step(std::size_t index) const {
  const auto& talk = s.document.story.talk;
  if (index >= talk.size()) return;
  s.talk = index;
  s.revealed = false;
  s.playing = false;
  s.day = std::clamp(talk[index].day, 0.0, last_day());
  if (const auto view = look::named<View>(view_names, talk[index].look)) s.view = *view;
  if (s.view == View::study) open_page();
}

}  // namespace drawdown::stage
