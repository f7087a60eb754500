// The pages that work something out.

#include "stage/reducer.hpp"

namespace drawdown::stage {

Effect study_asked(const AppState& s) {
  if (s.study_page == StudyPage::truth) return RunTruth{};
  if (s.study_page == StudyPage::levers) return RunEffects{s.run, s.day, s.story_run};
  std::vector<KeptRun> people{{"", s.run}};
  for (const KeptRun& kept : s.kept) {
    if (people.size() < 3) people.push_back(kept);
  }
  return RunTracer{std::move(people), s.traced, s.day, s.counting_noise, s.story_run};
}

void Reducer::operator()(const SetStudyPage& a) const {
  s.study_page = a.page;
  open_page();
}
void Reducer::operator()(const ToggleTraced&) const {
  s.traced = s.traced == study::Traced::c3 ? study::Traced::c4 : study::Traced::c3;
  ask_study();
}
void Reducer::operator()(const ToggleNoise&) const {
  s.counting_noise = !s.counting_noise;
  ask_study();
}
void Reducer::operator()(const AskStudy&) const {
  ask_study();
}
void Reducer::operator()(const TracerFinished& a) const {
  if (a.shown.story != s.story_run) return;
  s.tracer = a.shown;
  s.studying = false;
}
void Reducer::operator()(const EffectsFinished& a) const {
  if (a.shown.story != s.story_run) return;
  s.effects = a.shown;
  s.studying = false;
}
void Reducer::operator()(const TruthFinished& a) const {
  s.truth = a.entries;
  s.studying = false;
}
void Reducer::operator()(const StudyFailed& a) const {
  if (a.control && a.control == s.own.fitting) s.own.fitting.reset();
  s.problem = a.why;
  s.studying = false;
}
void Reducer::open_page() const {
  const bool missing = (s.study_page == StudyPage::tracer && !s.tracer) ||
                       (s.study_page == StudyPage::levers && !s.effects) ||
                       (s.study_page == StudyPage::truth && s.truth.empty());
  if (missing && s.run) ask_study();
}
void Reducer::ask_study() const {
  if (!s.run) return;
  s.studying = true;
  step.effects.push_back(study_asked(s));
}

}  // namespace drawdown::stage
