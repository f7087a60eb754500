// The pages that work something out.
#include <algorithm>

#include "stage/reducer.hpp"

namespace drawdown::stage {

Effect study_asked(const AppState& s) {
  if (s.study.page == StudyPage::truth) return RunTruth{};
  if (s.study.page == StudyPage::levers) return RunEffects{s.runs.now, s.time.day, s.runs.of_story};
  std::vector<KeptRun> people{{"", s.runs.now}};
  for (const KeptRun& kept : s.runs.kept) {
    if (people.size() < 3) people.push_back(kept);
  }
  return RunTracer{std::move(people), s.study.traced, s.time.day, s.study.counting_noise, s.runs.of_story};
}

void Reducer::operator()(const SetStudyPage& a) const {
  s.study.page = a.page;
  open_page();
}
void Reducer::operator()(const ToggleTraced&) const {
  s.study.traced = s.study.traced == study::Traced::c3 ? study::Traced::c4 : study::Traced::c3;
  ask_study();
}
void Reducer::operator()(const ToggleNoise&) const {
  s.study.counting_noise = !s.study.counting_noise;
  ask_study();
}
void Reducer::operator()(const AskStudy&) const {
  ask_study();
}
void Reducer::operator()(const ShowTissue& a) const {
  s.page.tissue = a.tissue;
}
void Reducer::ask_circle() const {
  if (s.page.view != View::tissues || s.time.playing || s.study.circling) return;
  if (!s.runs.now || circle_is_current(s)) return;
  s.study.circling = true;
  step.effects.emplace_back(
      RunCircle{s.runs.now, tissue_shown(s), std::min(s.time.day, s.runs.now->last_day()), s.runs.shown});
}
void Reducer::operator()(const CircleFinished& a) const {
  s.study.circle = a.shown;
  s.study.circling = false;
}
void Reducer::operator()(const TracerFinished& a) const {
  if (a.shown.story != s.runs.of_story) return;
  s.study.tracer = a.shown;
  s.study.busy = false;
}
void Reducer::operator()(const EffectsFinished& a) const {
  if (a.shown.story != s.runs.of_story) return;
  s.study.effects = a.shown;
  s.study.busy = false;
}
void Reducer::operator()(const TruthFinished& a) const {
  s.study.truth = a.entries;
  s.study.busy = false;
}
void Reducer::operator()(const StudyFailed& a) const {
  if (a.control && a.control == s.own.fitting) s.own.fitting.reset();
  s.problem = a.why;
  s.study.busy = false;
}
void Reducer::open_page() const {
  const bool missing = (s.study.page == StudyPage::tracer && !s.study.tracer) ||
                       (s.study.page == StudyPage::levers && !s.study.effects) ||
                       (s.study.page == StudyPage::truth && s.study.truth.empty());
  if (missing && s.runs.now) ask_study();
}
void Reducer::ask_study() const {
  if (!s.runs.now) return;
  s.study.busy = true;
  step.effects.push_back(study_asked(s));
}

}  // namespace drawdown::stage
