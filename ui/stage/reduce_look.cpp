// What is on the screen and how it looks.
#include <algorithm>

#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const SetDepth& a) const {
  s.page.depth = a.depth;
}
void Reducer::operator()(const SetTextPercent& a) const {
  s.look.text_percent = std::clamp(a.percent, 80, 200);
}
void Reducer::operator()(const SetRoom& a) const {
  s.look.room = a.room;
}
void Reducer::operator()(const SetView& a) const {
  s.page.view = a.view;
  if (s.page.view == View::study) open_page();
}
void Reducer::operator()(const SetOverlay& a) const {
  const bool cautions_read = s.page.overlay == Overlay::cautions && a.overlay == Overlay::none;
  s.page.overlay = a.overlay;
  if (cautions_read && s.first.time) start_first_minute();
  if (a.overlay != Overlay::stories) return;
  s.files.sought.clear();
  std::vector<std::string> asked;
  for (const auto* entries : {&s.files.stories, &s.files.recent}) {
    for (const StoryEntry& entry : *entries) {
      if (entry.sketch || !entry.problem.empty()) continue;
      if (std::find(asked.begin(), asked.end(), entry.path) != asked.end()) continue;
      asked.push_back(entry.path);
      step.effects.emplace_back(SketchStory{entry.path});
    }
  }
}
void Reducer::operator()(const StartFirstMinute&) const {
  start_first_minute();
}
void Reducer::operator()(const EndFirstMinute&) const {
  s.first.step.reset();
}
void Reducer::operator()(const OpenFolder& a) const {
  s.page.overlay = Overlay::files;
  step.effects.emplace_back(ListFolder{a.path.empty() ? s.files.folder.path : a.path});
}
void Reducer::operator()(const FolderListed& a) const {
  s.files.folder = a.folder;
}
void Reducer::operator()(const ToggleUnit&) const {
  s.page.unit = s.page.unit == scenario::Unit::g_per_l ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l;
}
void Reducer::operator()(const NextTrack&) const {
  s.page.track = (s.page.track + 1) % tracks_of(*s.document.now.story.model).size();
}
void Reducer::operator()(const ToggleLaboratory&) const {
  s.lab.other_laboratory = !s.lab.other_laboratory;
}
void Reducer::operator()(const NextSample&) const {
  s.lab.sample = (s.lab.sample + 1) % 1000;
}
void Reducer::operator()(const ToggleNote&) const {
  s.talk.note_hidden = !s.talk.note_hidden;
}
void Reducer::operator()(const ToggleFromToday&) const {
  s.levers.from_today = !s.levers.from_today;
}
void Reducer::operator()(const ToggleAllLevers&) const {
  s.levers.all = !s.levers.all;
}
void Reducer::operator()(const ToggleLanguage&) const {
  if (const auto next = next_language(s)) s.look.language = next->code;
}
void Reducer::operator()(const ToggleMotion&) const {
  s.look.reduced_motion = !s.look.reduced_motion;
}
void Reducer::operator()(const ReportProblem& a) const {
  s.problem = a.text;
}
void Reducer::operator()(const DismissProblem&) const {
  s.problem.clear();
  s.runs.stopped.reset();
}
void Reducer::start_first_minute() const {
  const std::string path = first_minute::ask(s);
  if (!path.empty()) step.effects.emplace_back(ReadStory{path});
}

}  // namespace drawdown::stage
