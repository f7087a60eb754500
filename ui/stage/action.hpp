// Everything a person, the clock or a finished run can do to the state; and the effects the state asks of the world.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "stage/state.hpp"

namespace drawdown::stage {

struct GoToDay {
  double day;
};
struct StepDays {
  double days;
};
struct TogglePlay {};
struct SetSpeed {
  double days_per_second;
};
struct Tick {
  double seconds;
};
struct SetDepth {
  look::Depth depth;
};
struct SetTextPercent {
  int percent;
};
struct SetRoom {
  look::Room room;
};
struct SetView {
  View view;
};
struct SetOverlay {
  Overlay overlay;
};
struct ToggleUnit {};
struct NextTrack {};
struct ToggleLaboratory {};
struct NextSample {};
struct StartTalk {};
struct EndTalk {};
struct StepTalk {
  int steps;
};
struct JumpTalk {
  std::size_t step;
};
// Back from a what-if to the step the talk is at.
struct ComeBack {};
// What the audience changed before the step was entered, once more; and the story's levers again.
struct TakeUpAside {};
// In this talk, and in no other.
struct ShowOwnInTalk {};
struct StartFirstMinute {};
struct EndFirstMinute {};
// Shows the file chooser on a folder; empty = where it was, or the person's home.
struct OpenFolder {
  std::string path;
};
struct FolderListed {
  Folder folder;
};
// Own results: their text comes from a file, the clipboard or the keyboard.
struct OpenResults {
  std::string path;
};
struct ResultsText {
  std::string path;
  std::string text;
  bool kept = false;
  std::uint64_t asked = 0;  // the question it answers; 0 = none: taken at once
};
// A table pasted while another stands there: is it the same person's, or does it start anew?
struct AnswerPending {
  bool same_person;
};
// Takes a line of the text, by its number from 1, back into the line being typed.
struct EditLine {
  std::size_t line;
};
struct PasteResults {
  std::string text;
};
struct TypeResult {
  std::string line;
};
struct AddTypedResult {};
struct SetResultsUnit {
  scenario::Unit unit;
};
struct SetDateOrder {
  labs::DateOrder order;
};
struct AnswerSlips {
  labs::SlipAnswer answer;
};
struct SetNoise {
  labs::Noise noise;
};
struct SetOwnPage {
  OwnPage page;
};
struct NextOutlook {};
struct AskFit {};
struct CancelFit {};
struct FitFinished {
  std::shared_ptr<const labs::Explained> why;  // one of the two
  std::shared_ptr<const labs::Fit> fit;
  std::shared_ptr<labs::FitControl> control;  // whose it is
};
struct KeepResults {};
struct ResultsDeleted {};
struct ForgetResults {};
enum class Paper { pdf, html };
struct WriteSheet {
  Paper paper;
};
struct WrittenDown {
  std::string path;
  bool kept;  // the results themselves
};
struct Reveal {};
struct ToggleNote {};
struct ToggleFromToday {};
struct ToggleAllLevers {};
struct ToggleMotion {};
struct ToggleLanguage {};
struct MoveLever {
  body::LeverId lever;
  double value;
  bool dragging;  // more of the same drag may follow; the undo step is made when it ends
};
struct PlaceDated {
  body::LeverId lever;  // of kind dated: done once, on the playhead's day
};
struct EndDrag {};
struct ResetLever {
  body::LeverId lever;
};
struct ResetAll {};
struct KeepRun {};
struct DropKept {
  std::size_t index;
};
struct NameKept {
  std::size_t index;
  std::string given;
};
struct SeekStory {
  std::string sought;
};
struct StorySketched {
  std::string path;
  std::shared_ptr<const Sketch> sketch;  // none: its run did not start
};
struct Undo {};
struct Redo {};
struct OpenStory {
  std::string path;
};
struct StoryOpened {
  scenario::Scenario story;
  std::string path = {};  // the file it came from
};
// What-ifs laid over the story at once, as a session left them.
struct LayEdits {
  std::vector<scenario::Edit> edits;
};
struct RunFinished {
  std::uint64_t number;
  std::shared_ptr<const Run> run;
  // Of the run; none: made when the run is taken over.
  std::shared_ptr<const readout::Account> account = {};
  std::shared_ptr<const FlowCourse> flows = {};
};
struct SetStudyPage {
  StudyPage page;
};
struct ToggleTraced {};
struct ToggleNoise {};
// Works the page's study out for the playhead's day.
struct AskStudy {};
struct ShowTissue {
  std::size_t tissue;
};
struct CircleFinished {
  CircleShown shown;
};
struct TracerFinished {
  TracerShown shown;
};
struct EffectsFinished {
  EffectsShown shown;
};
struct TruthFinished {
  std::vector<study::TruthEntry> entries;
};
struct StudyFailed {
  std::string why;
  std::shared_ptr<labs::FitControl> control = {};  // of the fit that failed, if it was one
};
struct BesideFinished {
  std::shared_ptr<const Run> run;
  std::uint64_t story = 0;  // AppState::story_run when it was asked
  std::shared_ptr<const readout::Account> account = {};
};
struct ReportProblem {
  std::string text;
};
struct DismissProblem {};

using AnyAction = std::variant<
    GoToDay, StepDays, TogglePlay, SetSpeed, Tick, SetDepth, SetTextPercent, SetRoom, SetView, SetOverlay, ToggleUnit,
    NextTrack, ToggleLaboratory, NextSample, StartTalk, EndTalk, StepTalk, JumpTalk, ComeBack, TakeUpAside,
    ShowOwnInTalk, StartFirstMinute, EndFirstMinute, OpenFolder, FolderListed, OpenResults, ResultsText, AnswerPending,
    EditLine, PasteResults, TypeResult, AddTypedResult, SetResultsUnit, SetDateOrder, AnswerSlips, SetNoise, SetOwnPage,
    NextOutlook, AskFit, CancelFit, FitFinished, KeepResults, ResultsDeleted, ForgetResults, WriteSheet, WrittenDown,
    Reveal, ToggleNote, ToggleFromToday, ToggleAllLevers, ToggleMotion, ToggleLanguage, MoveLever, PlaceDated, EndDrag,
    ResetLever, ResetAll, KeepRun, DropKept, NameKept, SeekStory, StorySketched, Undo, Redo, OpenStory, StoryOpened,
    LayEdits, RunFinished, SetStudyPage, ToggleTraced, ToggleNoise, AskStudy, ShowTissue, CircleFinished,
    TracerFinished, EffectsFinished, TruthFinished, StudyFailed, BesideFinished, ReportProblem, DismissProblem>;
template <class A, class Of>
inline constexpr bool is_one_of = false;
template <class A, class... Of>
inline constexpr bool is_one_of<A, std::variant<Of...>> = (std::is_same_v<A, Of> || ...);

// One of them. A class of its own, so that the variant's many functions are compiled once (action.cpp) and not in every
// panel that asks for something.
class Action {
 public:
  template <class A, class = std::enable_if_t<is_one_of<A, AnyAction>>>
  Action(A action);  // NOLINT(google-explicit-constructor): an action is what it is one of
  Action(const Action& other);
  Action(Action&& other) noexcept;
  Action& operator=(const Action& other);
  Action& operator=(Action&& other) noexcept;
  ~Action();
  [[nodiscard]] const AnyAction& any() const { return any_; }

 private:
  AnyAction any_;
};

// Asked of the world; carried out by the worker, answered with an action.
struct RunStory {
  std::uint64_t number;
  scenario::Scenario story;
  std::vector<double> usual_levers;
};
struct ReadStory {
  std::string path;
};
struct ListFolder {
  std::string path;
};
struct ReadResults {
  std::string path;
  std::uint64_t asked;
};
struct RunFit {
  bool outlook = false;  // the fit of one person; else explanations are weighed
  std::vector<labs::Row> rows;
  labs::Titles titles;
  labs::Noise noise;
  std::shared_ptr<labs::FitControl> control;
};
struct WriteResults {
  std::string path;
  std::string text;
};
struct DeleteResults {
  std::string path;
};
struct MakeSheet {
  Paper paper;
  OwnResults own;
  std::string language;
};
// The second person of a story, kept beside the first.
struct RunBeside {
  scenario::Scenario story;
  std::uint64_t number = 0;  // AppState::story_run, as in the studies: an answer about another story is dropped
};
struct RunTracer {
  std::vector<KeptRun> people;  // the present run first, without a name
  study::Traced protein;
  double day;
  bool counting_noise;
  std::uint64_t story = 0;
};
struct RunEffects {
  std::shared_ptr<const Run> run;
  double day;
  std::uint64_t story = 0;
};
struct RunTruth {};
struct RunCircle {
  std::shared_ptr<const Run> run;
  std::size_t tissue;
  double day;
  std::uint64_t number;  // RunsPart::shown
};
// A story's course for the gallery.
struct SketchStory {
  std::string path;
};
using Effect = std::variant<RunStory, ReadStory, ListFolder, ReadResults, RunFit, WriteResults, DeleteResults,
                            MakeSheet, RunBeside, RunTracer, RunEffects, RunTruth, RunCircle, SketchStory>;
// Studies take longer than a frame and must not hold up a dragged lever.
[[nodiscard]] bool is_study(const Effect& effect);
// What the study page shown asks for; only with a run.
[[nodiscard]] Effect study_asked(const AppState& state);

struct Step {
  AppState state;
  std::vector<Effect> effects;
};

// Pure: the same state and action always give the same step.
[[nodiscard]] Step reduce(AppState state, const Action& action);

}  // namespace drawdown::stage
