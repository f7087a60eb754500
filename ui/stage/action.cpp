// The variant's functions, compiled here alone.
#include "stage/action.hpp"

#include <utility>

namespace drawdown::stage {

template <class A, class>
Action::Action(A action) : any_(std::in_place_type<A>, std::move(action)) {}
Action::Action(const Action& other) = default;
Action::Action(Action&& other) noexcept = default;
Action& Action::operator=(const Action& other) = default;
Action& Action::operator=(Action&& other) noexcept = default;
Action::~Action() = default;

template Action::Action(GoToDay);
template Action::Action(StepDays);
template Action::Action(TogglePlay);
template Action::Action(SetSpeed);
template Action::Action(Tick);
template Action::Action(SetDepth);
template Action::Action(SetTextPercent);
template Action::Action(SetRoom);
template Action::Action(SetView);
template Action::Action(SetOverlay);
template Action::Action(ToggleUnit);
template Action::Action(NextTrack);
template Action::Action(ToggleLaboratory);
template Action::Action(NextSample);
template Action::Action(StartTalk);
template Action::Action(EndTalk);
template Action::Action(StepTalk);
template Action::Action(JumpTalk);
template Action::Action(ComeBack);
template Action::Action(TakeUpAside);
template Action::Action(ShowOwnInTalk);
template Action::Action(StartFirstMinute);
template Action::Action(EndFirstMinute);
template Action::Action(OpenFolder);
template Action::Action(FolderListed);
template Action::Action(OpenResults);
template Action::Action(ResultsText);
template Action::Action(AnswerPending);
template Action::Action(EditLine);
template Action::Action(PasteResults);
template Action::Action(TypeResult);
template Action::Action(AddTypedResult);
template Action::Action(SetResultsUnit);
template Action::Action(SetDateOrder);
template Action::Action(AnswerSlips);
template Action::Action(SetNoise);
template Action::Action(SetOwnPage);
template Action::Action(NextOutlook);
template Action::Action(AskFit);
template Action::Action(CancelFit);
template Action::Action(FitFinished);
template Action::Action(KeepResults);
template Action::Action(ResultsDeleted);
template Action::Action(ForgetResults);
template Action::Action(WriteSheet);
template Action::Action(WrittenDown);
template Action::Action(Reveal);
template Action::Action(ToggleNote);
template Action::Action(ToggleFromToday);
template Action::Action(ToggleAllLevers);
template Action::Action(ToggleMotion);
template Action::Action(ToggleLanguage);
template Action::Action(MoveLever);
template Action::Action(PlaceDated);
template Action::Action(EndDrag);
template Action::Action(ResetLever);
template Action::Action(ResetAll);
template Action::Action(KeepRun);
template Action::Action(DropKept);
template Action::Action(NameKept);
template Action::Action(SeekStory);
template Action::Action(StorySketched);
template Action::Action(Undo);
template Action::Action(Redo);
template Action::Action(OpenStory);
template Action::Action(StoryOpened);
template Action::Action(LayEdits);
template Action::Action(RunFinished);
template Action::Action(SetStudyPage);
template Action::Action(ToggleTraced);
template Action::Action(ToggleNoise);
template Action::Action(AskStudy);
template Action::Action(ShowTissue);
template Action::Action(CircleFinished);
template Action::Action(TracerFinished);
template Action::Action(EffectsFinished);
template Action::Action(TruthFinished);
template Action::Action(StudyFailed);
template Action::Action(BesideFinished);
template Action::Action(ReportProblem);
template Action::Action(DismissProblem);

}  // namespace drawdown::stage
