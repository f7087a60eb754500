// What is on the screen and how it looks.
#include <algorithm>

#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const SetDepth& a) const {
  s.depth = a.depth;
}
void Reducer::operator()(const SetTextPercent& a) const {
  s.look.text_percent = std::clamp(a.percent, 80, 200);
}
void Reducer::operator()(const SetRoom& a) const {
  s.look.room = a.room;
}
void Reducer::operator()(const SetView& a) const {
  s.view = a.view;
  if (s.view == View::study) open_page();
}
void Reducer::operator()(const SetOverlay& a) const {
  const bool cautions_read = s.overlay == Overlay::cautions && a.overlay == Overlay::none;
  s.overlay = a.overlay;
  if (cautions_read && s.first_time) start_first_minute();
}
void Reducer::operator()(const StartFirstMinute&) const {
  start_first_minute();
}
void Reducer::operator()(const EndFirstMinute&) const {
  s.first.reset();
}
void Reducer::operator()(const OpenFolder& a) const {
  s.overlay = Overlay::files;
  step.effects.emplace_back(ListFolder{a.path.empty() ? s.folder.path : a.path});
}
void Reducer::operator()(const FolderListed& a) const {
  s.folder = a.folder;
}
void Reducer::operator()(const ToggleUnit&) const {
  s.unit = s.unit == scenario::Unit::g_per_l ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l;
}
void Reducer::operator()(const NextTrack&) const {
  s.track = (s.track + 1) % tracks_of(*s.document.story.model).size();
}
void Reducer::operator()(const ToggleLaboratory&) const {
  s.other_laboratory = !s.other_laboratory;
}
void Reducer::operator()(const NextSample&) const {
  s.sample = (s.sample + 1) % 1000;
}
void Reducer::operator()(const ToggleNote&) const {
  s.note_hidden = !s.note_hidden;
}
void Reducer::operator()(const ToggleFromToday&) const {
  s.from_today = !s.from_today;
}
void Reducer::operator()(const ToggleAllLevers&) const {
  s.all_levers = !s.all_levers;
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
  s.stopped.reset();
}
void Reducer::start_first_minute() const {
  const std::string path = first_minute::ask(s);
  if (!path.empty()) step.effects.emplace_back(ReadStory{path});
}

}  // namespace drawdown::stage
