// Stories and their runs.
#include <algorithm>
#include <cmath>
#include <utility>

#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

namespace {
constexpr std::size_t most_kept = 4;
constexpr std::size_t most_recent = 6;
constexpr std::size_t most_given = 60;  // bytes
}  // namespace

void Reducer::operator()(const BesideFinished& a) const {
  if (a.story != s.runs.of_story) return;
  if (a.run && !a.run->complete()) s.runs.stopped = stop_of(*a.run);
  if (a.run && a.run->started()) s.runs.kept.push_back({"A", a.run, a.account ? a.account : account_with(a.run)});
}
void Reducer::operator()(const KeepRun&) const {
  if (!s.runs.now || s.runs.shown < s.runs.of_story)
    return;  // what is drawn until this story's run is there is the last story's
  if (s.runs.kept.size() >= most_kept) s.runs.kept.erase(s.runs.kept.begin());
  char letter = 'A';
  for (const KeptRun& kept : s.runs.kept) letter = std::max(letter, static_cast<char>(kept.name.front() + 1));
  s.runs.kept.push_back({std::string(1, letter > 'Z' ? 'A' : letter), s.runs.now, s.runs.account});
}
void Reducer::operator()(const DropKept& a) const {
  if (a.index < s.runs.kept.size()) s.runs.kept.erase(s.runs.kept.begin() + static_cast<std::ptrdiff_t>(a.index));
}
void Reducer::operator()(const NameKept& a) const {
  if (a.index < s.runs.kept.size() && a.given.size() <= most_given) s.runs.kept[a.index].given = a.given;
}
void Reducer::operator()(const SeekStory& a) const {
  if (a.sought.size() <= most_given) s.files.sought = a.sought;
}
void Reducer::operator()(const StorySketched& a) const {
  if (!a.sketch) return;
  for (auto* entries : {&s.files.stories, &s.files.recent}) {
    for (StoryEntry& entry : *entries) {
      if (entry.path == a.path) entry.sketch = a.sketch;
    }
  }
}
void Reducer::operator()(const OpenStory& a) const {
  step.effects.emplace_back(ReadStory{a.path});
}
void Reducer::operator()(const StoryOpened& a) const {
  s.document.now = {a.story, {}};
  s.document.path = a.path;
  if (!a.path.empty()) remember_opened({a.path, a.story.title, a.story.message.plain, "", a.story.question});
  s.document.before_drag.reset();
  s.document.undo.clear();
  s.document.redo.clear();
  s.document.undone.reset();
  s.runs.kept.clear();
  s.time.playing = false;
  s.problem.clear();
  s.study.tracer.reset();
  s.talk.step.reset();
  s.talk.aside.clear();
  s.talk.shows_own = false;
  s.study.effects.reset();
  s.study.busy = false;
  s.runs.of_story = s.runs.asked + 1;
  if (!a.story.beside.empty()) step.effects.emplace_back(RunBeside{scenario::beside_story(a.story), s.runs.of_story});
  s.page.unit = a.story.laboratory.unit;
  s.levers.from_today = false;
  // Open where something has happened: a little after the second event, or at the start.
  s.time.day = 0.0;
  if (!a.story.events.empty()) {
    s.time.day =
        std::min(std::floor(a.story.events.front().day + a.story.events.front().ramp_days + 7.0), a.story.days);
  }
  if (s.page.overlay == Overlay::stories || s.page.overlay == Overlay::files) s.page.overlay = Overlay::none;
  first_minute::begin(s);
  ask_run();
}
void Reducer::operator()(const RunFinished& a) const {
  if (a.number <= s.runs.shown || a.number < s.runs.of_story || !a.run) return;  // overtaken by a later one
  const bool first_of_story = s.runs.shown < s.runs.of_story;
  s.runs.shown = a.number;
  s.runs.stopped.reset();
  if (!a.run->complete()) s.runs.stopped = stop_of(*a.run);
  if (!a.run->started()) {  // the last good course stays, but not another story's
    if (first_of_story) {
      s.runs.now.reset();
      s.runs.account.reset();
      s.runs.flows.reset();
    }
    return;
  }
  s.runs.now = a.run;
  s.runs.account = a.account ? a.account : account_with(a.run);
  s.runs.flows = a.flows ? a.flows : flow_course(*a.run);
  s.problem.clear();
}
void Reducer::remember_opened(StoryEntry entry) const {
  auto& r = s.files.recent;
  r.erase(std::remove_if(r.begin(), r.end(), [&](const auto& e) { return e.path == entry.path; }), r.end());
  r.insert(r.begin(), std::move(entry));
  if (r.size() > most_recent) r.resize(most_recent);
}

}  // namespace drawdown::stage
