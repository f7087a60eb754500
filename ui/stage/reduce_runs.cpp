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
}  // namespace

void Reducer::operator()(const BesideFinished& a) const {
  if (a.story != s.story_run) return;
  if (a.run && !a.run->complete()) s.stopped = stop_of(*a.run);
  if (a.run && a.run->started()) s.kept.push_back({"A", a.run});
}
void Reducer::operator()(const KeepRun&) const {
  if (!s.run || s.shown < s.story_run) return;  // what is drawn until this story's run is there is the last story's
  if (s.kept.size() >= most_kept) s.kept.erase(s.kept.begin());
  char letter = 'A';
  for (const KeptRun& kept : s.kept) letter = std::max(letter, static_cast<char>(kept.name.front() + 1));
  s.kept.push_back({std::string(1, letter > 'Z' ? 'A' : letter), s.run});
}
void Reducer::operator()(const DropKept& a) const {
  if (a.index < s.kept.size()) s.kept.erase(s.kept.begin() + static_cast<std::ptrdiff_t>(a.index));
}
void Reducer::operator()(const OpenStory& a) const {
  step.effects.emplace_back(ReadStory{a.path});
}
void Reducer::operator()(const StoryOpened& a) const {
  s.document = {a.story, {}};
  s.story_path = a.path;
  if (!a.path.empty()) remember_opened({a.path, a.story.title, a.story.message.plain, ""});
  s.before_drag.reset();
  s.undo.clear();
  s.redo.clear();
  s.kept.clear();
  s.playing = false;
  s.problem.clear();
  s.tracer.reset();
  s.talk.reset();
  s.talk_aside.clear();
  s.own_in_talk = false;
  s.effects.reset();
  s.studying = false;
  s.story_run = s.asked + 1;
  if (!a.story.beside.empty()) step.effects.emplace_back(RunBeside{scenario::beside_story(a.story), s.story_run});
  s.unit = a.story.laboratory.unit;
  s.from_today = false;
  // Open where something has happened: a little after the second event, or at the start.
  s.day = 0.0;
  if (!a.story.events.empty()) {
    s.day = std::min(std::floor(a.story.events.front().day + a.story.events.front().ramp_days + 7.0), a.story.days);
  }
  if (s.overlay == Overlay::stories || s.overlay == Overlay::files) s.overlay = Overlay::none;
  first_minute::begin(s);
  ask_run();
}
void Reducer::operator()(const RunFinished& a) const {
  if (a.number <= s.shown || a.number < s.story_run || !a.run) return;  // overtaken by a later one
  const bool first_of_story = s.shown < s.story_run;
  s.shown = a.number;
  s.stopped.reset();
  if (!a.run->complete()) s.stopped = stop_of(*a.run);
  if (!a.run->started()) {  // the last good course stays, but not another story's
    if (first_of_story) s.run.reset();
    return;
  }
  s.run = a.run;
  s.problem.clear();
}
void Reducer::remember_opened(StoryEntry entry) const {
  auto& r = s.recent;
  r.erase(std::remove_if(r.begin(), r.end(), [&](const auto& e) { return e.path == entry.path; }), r.end());
  r.insert(r.begin(), std::move(entry));
  if (r.size() > most_recent) r.resize(most_recent);
}

}  // namespace drawdown::stage
