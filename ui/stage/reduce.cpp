// What each action does to the state.
#include <algorithm>
#include <cmath>
#include <utility>

#include "stage/action.hpp"
#include "stage/edits.hpp"
#include "stage/first_minute.hpp"
#include "stage/own_results.hpp"

namespace drawdown::stage {

namespace {

constexpr std::size_t most_kept = 4;
constexpr std::size_t most_recent = 6;

double last_day(const AppState& s) {
  return s.document.story.days;
}

void ask_run(Step& step) {
  AppState& s = step.state;
  s.asked += 1;
  step.effects.emplace_back(RunStory{s.asked, told(s.document), usual_levers(s.document)});
}

struct Reducer {
  Step& step;
  AppState& s;

  void operator()(const GoToDay& a) const {
    if (!std::isnan(a.day)) s.day = std::clamp(a.day, 0.0, last_day(s));
  }
  void operator()(const StepDays& a) const {
    s.playing = false;
    if (!std::isnan(a.days)) s.day = std::clamp(s.day + a.days, 0.0, last_day(s));
  }
  void operator()(const TogglePlay&) const {
    if (!s.playing && s.day >= last_day(s)) s.day = 0.0;
    s.playing = !s.playing;
  }
  void operator()(const SetSpeed& a) const {
    if (!std::isnan(a.days_per_second)) s.speed = std::clamp(a.days_per_second, 1.0, 100.0);
  }
  void operator()(const Tick& a) const {
    if (!s.playing || std::isnan(a.seconds)) return;
    s.day = std::min(s.day + s.speed * std::clamp(a.seconds, 0.0, 0.25), last_day(s));
    if (s.day >= last_day(s)) s.playing = false;
    first_minute::watch(s);
  }
  void operator()(const SetDepth& a) const { s.depth = a.depth; }
  void operator()(const SetTextPercent& a) const { s.look.text_percent = std::clamp(a.percent, 80, 200); }
  void operator()(const SetRoom& a) const { s.look.room = a.room; }
  void operator()(const SetView& a) const {
    s.view = a.view;
    if (s.view == View::study) open_page();
  }
  void operator()(const SetStudyPage& a) const {
    s.study_page = a.page;
    open_page();
  }
  void operator()(const ToggleTraced&) const {
    s.traced = s.traced == study::Traced::c3 ? study::Traced::c4 : study::Traced::c3;
    ask_study();
  }
  void operator()(const ToggleNoise&) const {
    s.counting_noise = !s.counting_noise;
    ask_study();
  }
  void operator()(const AskStudy&) const { ask_study(); }
  void operator()(const TracerFinished& a) const {
    if (a.shown.story != s.story_run) return;
    s.tracer = a.shown;
    s.studying = false;
  }
  void operator()(const EffectsFinished& a) const {
    if (a.shown.story != s.story_run) return;
    s.effects = a.shown;
    s.studying = false;
  }
  void operator()(const TruthFinished& a) const {
    s.truth = a.entries;
    s.studying = false;
  }
  void operator()(const StudyFailed& a) const {
    if (a.control && a.control == s.own.fitting) s.own.fitting.reset();
    s.problem = a.why;
    s.studying = false;
  }
  void operator()(const BesideFinished& a) const {
    if (a.story != s.story_run) return;
    if (a.run && !a.run->complete()) s.stopped = stop_of(*a.run);
    if (a.run && a.run->started()) s.kept.push_back({"A", a.run});
  }
  void operator()(const SetOverlay& a) const {
    const bool cautions_read = s.overlay == Overlay::cautions && a.overlay == Overlay::none;
    s.overlay = a.overlay;
    if (cautions_read && s.first_time) start_first_minute();
  }
  void operator()(const StartFirstMinute&) const { start_first_minute(); }
  void operator()(const EndFirstMinute&) const { s.first.reset(); }
  void operator()(const OpenFolder& a) const {
    s.overlay = Overlay::files;
    step.effects.emplace_back(ListFolder{a.path.empty() ? s.folder.path : a.path});
  }
  void operator()(const FolderListed& a) const { s.folder = a.folder; }
  void operator()(const ToggleUnit&) const {
    s.unit = s.unit == scenario::Unit::g_per_l ? scenario::Unit::mg_per_dl : scenario::Unit::g_per_l;
  }
  void operator()(const NextTrack&) const {
    s.track = static_cast<Track>((static_cast<std::size_t>(s.track) + 1) % track_names.size());
  }
  void operator()(const ToggleLaboratory&) const { s.other_laboratory = !s.other_laboratory; }
  void operator()(const NextSample&) const { s.sample = (s.sample + 1) % 1000; }
  void operator()(const StartTalk&) const {
    s.first.reset();
    if (s.document.story.talk.empty()) return;
    s.talk_aside.clear();
    s.own_in_talk = false;
    s.talk = 0;
    come_back();
    go_to_step(0);
  }
  void operator()(const EndTalk&) const {
    s.talk.reset();
    s.talk_aside.clear();
    s.own_in_talk = false;
  }
  void operator()(const TakeUpAside&) const {
    if (!s.talk || s.talk_aside.empty()) return;
    end_drag(s);
    remember(s, s.document);
    std::swap(s.document.edits, s.talk_aside);
    ask_run(step);
  }
  void operator()(const ShowOwnInTalk&) const { s.own_in_talk = s.talk.has_value(); }
  void operator()(const StepTalk& a) const {
    if (!s.talk) return;
    const auto last = static_cast<int>(s.document.story.talk.size()) - 1;
    come_back();
    go_to_step(static_cast<std::size_t>(std::clamp(static_cast<int>(*s.talk) + a.steps, 0, std::max(last, 0))));
  }
  void operator()(const JumpTalk& a) const {
    if (!s.talk || a.step >= s.document.story.talk.size()) return;
    come_back();
    go_to_step(a.step);
  }
  void operator()(const ComeBack&) const {
    if (!branched(s)) return;
    const bool revealed = s.revealed;
    come_back();
    go_to_step(*s.talk);
    s.revealed = revealed;
  }
  void operator()(const OpenResults& a) const { step.effects.emplace_back(ReadResults{a.path, ++s.results_asked}); }
  void operator()(const ResultsText& a) const {
    if (a.asked == 0 || a.asked == s.results_asked) own_results::take(s, a);  // else forgotten, or overtaken
  }
  void operator()(const PasteResults& a) const { own_results::paste(s, a.text); }
  void operator()(const AnswerPending& a) const { own_results::settle_pending(s, a.same_person); }
  void operator()(const EditLine& a) const { own_results::edit_line(s, a.line); }
  void operator()(const TypeResult& a) const { s.own.typed = a.line; }
  void operator()(const AddTypedResult&) const {
    own_results::add(s, s.own.typed);
    s.own.typed.clear();
  }
  void operator()(const SetResultsUnit& a) const {
    s.own.asked.unit = a.unit;
    s.unit = a.unit;
    own_results::read_again(s);
  }
  void operator()(const SetDateOrder& a) const {
    s.own.asked.order = a.order;
    own_results::read_again(s);
  }
  void operator()(const AnswerSlips& a) const {
    s.own.asked.slips = a.answer;
    own_results::read_again(s);
  }
  void operator()(const SetNoise& a) const {
    s.own.noise = a.noise;
    own_results::judge_again(s);
  }
  void operator()(const SetOwnPage& a) const { s.own.page = a.page; }
  void operator()(const NextOutlook&) const {
    if (s.own.fit && !s.own.fit->outlooks.empty()) s.own.outlook = (s.own.outlook + 1) % s.own.fit->outlooks.size();
  }
  void operator()(const AskFit&) const {
    if (s.own.fitting || s.own.reading.rows.size() < labs::fewest_to_fit) return;
    s.own.fitting = std::make_shared<labs::FitControl>();
    s.own.page = OwnPage::fit;
    step.effects.emplace_back(RunFit{s.own.reading.rows, s.own.noise, s.own.fitting});
  }
  void operator()(const CancelFit&) const { own_results::stop_fit(s); }
  void operator()(const FitFinished& a) const {
    if (!s.own.fitting || s.own.fitting != a.control) return;  // of results that are no longer these
    s.own.fitting.reset();
    s.own.fit = a.fit;
  }
  void operator()(const KeepResults&) const {
    if (s.own.any() && !s.own_file.empty()) step.effects.emplace_back(WriteResults{s.own_file, s.own.text});
  }
  void operator()(const ResultsDeleted&) const { s.own.kept = false; }
  void operator()(const ForgetResults&) const {
    own_results::forget(s);
    if (!s.own_file.empty()) step.effects.emplace_back(DeleteResults{s.own_file});
  }
  void operator()(const WriteSheet& a) const {
    if (s.own.any()) step.effects.emplace_back(MakeSheet{a.paper, s.own, s.look.spanish});
  }
  void operator()(const WrittenDown& a) const {
    if (!s.own.any()) return;  // forgotten meanwhile
    s.own.done = a.path;
    if (a.kept) s.own.kept = true;
  }
  void operator()(const Reveal&) const { s.revealed = true; }
  void operator()(const ToggleNote&) const { s.note_hidden = !s.note_hidden; }
  void operator()(const ToggleFromToday&) const { s.from_today = !s.from_today; }
  void operator()(const ToggleAllLevers&) const { s.all_levers = !s.all_levers; }
  void operator()(const ToggleLanguage&) const { s.look.spanish = !s.look.spanish; }
  void operator()(const ToggleMotion&) const { s.look.reduced_motion = !s.look.reduced_motion; }
  void operator()(const MoveLever& a) const {
    if (a.lever >= s.document.story.lever_rows().size() || !std::isfinite(a.value)) return;
    if (a.dragging && !s.before_drag) s.before_drag = s.document;
    Document before = s.document;
    move_lever(s, a.lever, a.value);
    if (s.document.edits == before.edits) return;
    first_minute::pulled(s, a);
    if (!a.dragging) {
      if (s.before_drag) {
        end_drag(s);
      } else {
        remember(s, std::move(before));
      }
    }
    ask_run(step);
  }
  void operator()(const PlaceDated& a) const {
    if (a.lever >= s.document.story.lever_rows().size() ||
        s.document.story.lever_rows()[a.lever].kind != body::LeverKind::dated)
      return;
    const body::Lever& lever = s.document.story.lever_rows()[a.lever];
    end_drag(s);
    remember(s, s.document);
    s.document.edits.push_back({a.lever, -1, s.day, lever.session_value, lever.session_hours});
    ask_run(step);
  }
  void operator()(const EndDrag&) const {
    end_drag(s);
    first_minute::let_go(s);
  }
  void operator()(const ResetLever& a) const {
    if (!is_edited(s, a.lever)) return;
    end_drag(s);
    remember(s, s.document);
    without_lever(s.document.edits, a.lever);
    ask_run(step);
  }
  void operator()(const ResetAll&) const {
    if (s.document.edits.empty()) return;
    end_drag(s);
    remember(s, s.document);
    s.document.edits.clear();
    ask_run(step);
  }
  void operator()(const KeepRun&) const {
    if (!s.run || s.shown < s.story_run) return;  // what is drawn until this story's run is there is the last story's
    if (s.kept.size() >= most_kept) s.kept.erase(s.kept.begin());
    char letter = 'A';
    for (const KeptRun& kept : s.kept) letter = std::max(letter, static_cast<char>(kept.name.front() + 1));
    s.kept.push_back({std::string(1, letter > 'Z' ? 'A' : letter), s.run});
  }
  void operator()(const DropKept& a) const {
    if (a.index < s.kept.size()) s.kept.erase(s.kept.begin() + static_cast<std::ptrdiff_t>(a.index));
  }
  void operator()(const Undo&) const { go(s.undo, s.redo); }
  void operator()(const Redo&) const { go(s.redo, s.undo); }
  void operator()(const OpenStory& a) const { step.effects.emplace_back(ReadStory{a.path}); }
  void operator()(const StoryOpened& a) const {
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
    ask_run(step);
  }
  void operator()(const LayEdits& a) const {
    s.document.edits = a.edits;
    ask_run(step);
  }
  void operator()(const RunFinished& a) const {
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
  void operator()(const ReportProblem& a) const { s.problem = a.text; }
  void operator()(const DismissProblem&) const {
    s.problem.clear();
    s.stopped.reset();
  }

  void remember_opened(StoryEntry entry) const {
    auto& r = s.recent;
    r.erase(std::remove_if(r.begin(), r.end(), [&](const auto& e) { return e.path == entry.path; }), r.end());
    r.insert(r.begin(), std::move(entry));
    if (r.size() > most_recent) r.resize(most_recent);
  }

  void come_back() const {
    if (!branched(s)) return;
    end_drag(s);
    remember(s, s.document);
    s.talk_aside = std::exchange(s.document.edits, {});
    ask_run(step);
  }

  void start_first_minute() const {
    const std::string path = first_minute::ask(s);
    if (!path.empty()) step.effects.emplace_back(ReadStory{path});
  }

  void go_to_step(std::size_t index) const {
    const auto& talk = s.document.story.talk;
    if (index >= talk.size()) return;
    s.talk = index;
    s.revealed = false;
    s.playing = false;
    s.day = std::clamp(talk[index].day, 0.0, last_day(s));
    if (const auto view = look::named<View>(view_names, talk[index].look)) s.view = *view;
    if (s.view == View::study) open_page();
  }

  // A page just opened works its study out once by itself.
  void open_page() const {
    const bool missing = (s.study_page == StudyPage::tracer && !s.tracer) ||
                         (s.study_page == StudyPage::levers && !s.effects) ||
                         (s.study_page == StudyPage::truth && s.truth.empty());
    if (missing && s.run) ask_study();
  }
  void ask_study() const {
    if (!s.run) return;
    s.studying = true;
    step.effects.push_back(study_asked(s));
  }

  void go(std::vector<Document>& from, std::vector<Document>& to) const {
    end_drag(s);
    if (from.empty()) return;
    to.push_back(s.document);
    s.document = std::move(from.back());
    from.pop_back();
    s.day = std::min(s.day, last_day(s));
    ask_run(step);
  }
};

}  // namespace

bool is_study(const Effect& effect) {
  return std::holds_alternative<RunTracer>(effect) || std::holds_alternative<RunEffects>(effect) ||
         std::holds_alternative<RunTruth>(effect) || std::holds_alternative<RunFit>(effect);
}

Step reduce(AppState state, const Action& action) {
  Step step{std::move(state), {}};
  std::visit(Reducer{step, step.state}, action);
  return step;
}

}  // namespace drawdown::stage
