// What each action does to the state: one function an action, a file a part of the state (reduce_*.cpp). Not to be used
// outside the reducer.
#pragma once

#include <string>
#include <vector>

#include "stage/action.hpp"

namespace drawdown::stage {

struct Reducer {
  Step& step;
  AppState& s;

  // reduce_time.cpp: the playhead
  void operator()(const GoToDay& a) const;
  void operator()(const StepDays& a) const;
  void operator()(const TogglePlay&) const;
  void operator()(const SetSpeed& a) const;
  void operator()(const Tick& a) const;

  // reduce_look.cpp: what is on the screen and how it looks
  void operator()(const SetDepth& a) const;
  void operator()(const SetTextPercent& a) const;
  void operator()(const SetRoom& a) const;
  void operator()(const SetView& a) const;
  void operator()(const SetOverlay& a) const;
  void operator()(const StartFirstMinute&) const;
  void operator()(const EndFirstMinute&) const;
  void operator()(const OpenFolder& a) const;
  void operator()(const FolderListed& a) const;
  void operator()(const ToggleUnit&) const;
  void operator()(const NextTrack&) const;
  void operator()(const ToggleLaboratory&) const;
  void operator()(const NextSample&) const;
  void operator()(const ToggleNote&) const;
  void operator()(const ToggleFromToday&) const;
  void operator()(const ToggleAllLevers&) const;
  void operator()(const ToggleLanguage&) const;
  void operator()(const ToggleMotion&) const;
  void operator()(const ReportProblem& a) const;
  void operator()(const DismissProblem&) const;
  void start_first_minute() const;

  // reduce_study.cpp: the pages that work something out
  void operator()(const SetStudyPage& a) const;
  void operator()(const ToggleTraced&) const;
  void operator()(const ToggleNoise&) const;
  void operator()(const AskStudy&) const;
  void operator()(const ShowTissue& a) const;
  // The circle is worked out anew where it is looked at and no longer of what is on the screen.
  void ask_circle() const;
  void operator()(const CircleFinished& a) const;
  void operator()(const TracerFinished& a) const;
  void operator()(const EffectsFinished& a) const;
  void operator()(const TruthFinished& a) const;
  void operator()(const StudyFailed& a) const;
  // A page just opened works its study out once by itself.
  void open_page() const;
  void ask_study() const;

  // reduce_talk.cpp: a talk
  void operator()(const StartTalk&) const;
  void operator()(const EndTalk&) const;
  void operator()(const TakeUpAside&) const;
  void operator()(const ShowOwnInTalk&) const;
  void operator()(const StepTalk& a) const;
  void operator()(const JumpTalk& a) const;
  void operator()(const ComeBack&) const;
  void operator()(const Reveal&) const;
  void come_back() const;
  void go_to_step(std::size_t index) const;

  // reduce_own.cpp: a person's own results
  void operator()(const OpenResults& a) const;
  void operator()(const ResultsText& a) const;
  void operator()(const PasteResults& a) const;
  void operator()(const AnswerPending& a) const;
  void operator()(const EditLine& a) const;
  void operator()(const TypeResult& a) const;
  void operator()(const AddTypedResult&) const;
  void operator()(const SetResultsUnit& a) const;
  void operator()(const SetDateOrder& a) const;
  void operator()(const AnswerSlips& a) const;
  void operator()(const SetNoise& a) const;
  void operator()(const SetOwnPage& a) const;
  void operator()(const NextOutlook&) const;
  void operator()(const AskFit&) const;
  void operator()(const CancelFit&) const;
  void run_fit(bool outlook) const;
  void operator()(const FitFinished& a) const;
  void operator()(const KeepResults&) const;
  void operator()(const ResultsDeleted&) const;
  void operator()(const ForgetResults&) const;
  void operator()(const WriteSheet& a) const;
  void operator()(const WrittenDown& a) const;

  // reduce_levers.cpp: levers, undo and redo
  void operator()(const MoveLever& a) const;
  void operator()(const PlaceDated& a) const;
  void operator()(const EndDrag&) const;
  void operator()(const ResetLever& a) const;
  void operator()(const ResetAll&) const;
  void operator()(const Undo&) const;
  void operator()(const Redo&) const;
  void operator()(const LayEdits& a) const;
  void go(std::vector<Document>& from, std::vector<Document>& to, bool again) const;

  // reduce_runs.cpp: stories and their runs
  void operator()(const BesideFinished& a) const;
  void operator()(const KeepRun&) const;
  void operator()(const DropKept& a) const;
  void operator()(const NameKept& a) const;
  void operator()(const SeekStory& a) const;
  void operator()(const StorySketched& a) const;
  void operator()(const OpenStory& a) const;
  void operator()(const StoryOpened& a) const;
  void operator()(const RunFinished& a) const;
  void remember_opened(StoryEntry entry) const;

  [[nodiscard]] double last_day() const { return s.document.now.story.days; }
  // The story as told, run again.
  void ask_run() const;
};

}  // namespace drawdown::stage
