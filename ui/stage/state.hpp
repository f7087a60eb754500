// Everything the screen shows, as one plain value. No drawing, no window, no file: what a panel needs is read from
// here, what a person does comes back as an action.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "account_of.hpp"
#include "labs/explained.hpp"
#include "labs/fit.hpp"
#include "labs/read.hpp"
#include "look/library.hpp"
#include "look/palette.hpp"
#include "look/words.hpp"
#include "simulate.hpp"
#include "stage/flow_course.hpp"
#include "study/circle.hpp"
#include "study/sensitivity.hpp"
#include "study/tracer.hpp"
#include "study/truth.hpp"

namespace drawdown::stage {

// `words` (sentence and numbers) is a page of its own only where they do not fit under the balance.
enum class View { balance, words, course, levers, compare, study, cascade, tissues, lab, own };
inline constexpr look::Names<10> view_names{"balance", "words",   "course",  "levers", "compare",
                                            "study",   "cascade", "tissues", "lab",    "own"};
enum class StudyPage { tracer, levers, truth };
// As pictures ask for them, beside the views.
inline constexpr look::Names<3> study_page_names{"tracer", "effects", "truth"};
// `tools`: what stands in the head where there is room for it.
enum class Overlay { none, cautions, stories, keys, glossary, files, tools };
inline constexpr look::Names<7> overlay_names{"none", "cautions", "stories", "keys", "glossary", "files", "tools"};

// What can be drawn beside C3 and C4: nothing, then the model's readouts that are tracks, then the liver's output.
struct Track {
  std::string key;  // its words: track.<key>
  std::optional<body::ReadoutId> readout;
  std::optional<body::LeverId> lever;
  int decimals = 1;
};
[[nodiscard]] std::vector<Track> tracks_of(const body::Model& model);

struct Look {
  int text_percent = 100;  // 80 to 200
  look::Room room = look::Room::bright;
  bool reduced_motion = false;
  bool bare = false;  // a picture without words, figures and signs: can it be read?
  std::string language = "en";
};

// The tracer study of everyone on the screen: the present run and the kept ones.
struct TracerShown {
  struct One {
    std::string name;  // empty = the present run
    study::TracerResult result;
  };
  double day = 0.0;
  study::Traced protein = study::Traced::c3;
  std::vector<One> people;
  std::uint64_t story = 0;  // RunsPart::of_story when it was asked
};

struct EffectsShown {
  double day = 0.0;
  std::vector<study::LeverEffect> effects;  // largest first, without what does nothing
  std::uint64_t story = 0;                  // RunsPart::of_story when it was asked
};

// The circle of the tissue looked at, worked out for a day of a run.
struct CircleShown {
  study::Circle circle;
  std::uint64_t run = 0;  // RunsPart::shown when it was asked
};

// What undo restores: the story as told and the what-ifs laid over it.
struct Document {
  scenario::Scenario story;
  std::vector<scenario::Edit> edits;
};

// What undoing took back, or doing again brought: levers as they were before and are now, on the playhead's day.
struct Undone {
  struct Moved {
    body::LeverId lever;
    double from = 0.0, to = 0.0;  // not a number: no value of it differs, but something done for a time
  };
  bool again = false;  // it was done again
  std::vector<Moved> moved;
};

struct KeptRun {
  std::string name;  // A, B, C ...
  std::shared_ptr<const Run> run;
  std::shared_ptr<const readout::Account> account = {};  // of C3 and C4 (account_of.hpp)
  std::string given = {};                                // what a person calls it; empty = nothing
};

inline constexpr look::Names<5> run_status_names{"ok", "step_too_small", "non_finite", "step_limit", "cancelled"};
// Why a run ended before the story did.
struct RunStop {
  solve::Status status = solve::Status::ok;
  bool settling = false;  // before day 0: there is no course at all
  double day = 0.0;       // how far it got
  std::string species;    // the one that was not finite; empty = none
};
[[nodiscard]] RunStop stop_of(const Run& run);

// A story's course in small.
struct Sketch {
  std::vector<double> c3, c4;  // evenly from day 0 to the last
};
// As shares of what is usual for this person, or for the standard person: so a low usual shows.
enum class Against { own_usual, standard };
[[nodiscard]] std::shared_ptr<const Sketch> sketch_of(const Run& run, Against against);

struct StoryEntry {
  std::string path;
  std::string title;
  std::string message;
  std::string problem;                        // why it cannot be opened; empty = it can
  std::string question = {};                  // which of scenario::questions it answers; empty = none is named
  std::shared_ptr<const Sketch> sketch = {};  // none until it was worked out
};

// What the file chooser shows: a folder's folders and the files the program reads, in order of name.
struct Folder {
  struct Entry {
    std::string name;
    bool folder = false;
  };
  std::string path;
  std::vector<Entry> entries;
  std::string problem;  // why it cannot be listed; empty = it can
};

// The short opening: the one thing to do, done by hand. Each part waits for the person or for the level.
enum class FirstMinute { raise_complexes, watch_it_fall, raise_liver, watch_it_rise, done };
inline constexpr look::Names<5> first_minute_names{"raise_complexes", "watch_it_fall", "raise_liver", "watch_it_rise",
                                                   "done"};

// A person's own serial results, as typed, pasted or opened. They stay on this machine, in memory, unless keeping them
// is asked for.
// `charts` is a page of its own only where they do not fit beside the others.
enum class OwnPage { findings, figures, lines, noise, fit, charts };
inline constexpr look::Names<6> own_page_names{"findings", "figures", "lines", "noise", "fit", "charts"};
struct OwnResults {
  std::string text;
  std::string path;         // the file it came from, which is never changed; empty = typed or pasted
  labs::ReadOptions asked;  // unit and date order the person has said
  labs::Reading reading;
  labs::Noise noise;
  labs::Judgement judged;
  std::string typed;    // the line being typed
  std::string pending;  // a table pasted while another stands there, until it is said whose it is
  std::string problem;  // why the text could not be read; empty = it could
  std::string done;     // what was just written, and where
  bool kept = false;    // on this machine, in the program's own folder
  OwnPage page = OwnPage::findings;
  std::size_t outlook = 0;                     // of the fit's: shown on the charts
  std::shared_ptr<const labs::Explained> why;  // which mechanisms could make the pattern
  std::shared_ptr<const labs::Fit> fit;        // one person of the model, for what might follow
  std::shared_ptr<labs::FitControl> fitting;   // one of the two is under way
  [[nodiscard]] bool any() const { return !text.empty(); }
};

// The story as told, what was changed in it, and the way back.
struct DocumentPart {
  Document now;
  std::string path;  // the file it came from; empty if none
  std::vector<Document> undo;
  std::vector<Document> redo;
  std::optional<Document> before_drag;  // set while a lever is being dragged
  std::optional<Undone> undone;         // the last thing done, if it was undoing or doing again
};

struct RunsPart {
  std::shared_ptr<const Run> now;                   // the last good course
  std::shared_ptr<const readout::Account> account;  // of its C3 and C4: there whenever the run is
  std::shared_ptr<const FlowCourse> flows;          // likewise
  std::vector<KeptRun> kept;
  std::uint64_t asked = 0;         // number of the last run asked for
  std::uint64_t shown = 0;         // number of the run shown
  std::uint64_t of_story = 0;      // number of this story's first run: earlier ones are of another story
  std::optional<RunStop> stopped;  // of the last run: shown in a banner until dismissed
};

struct TimePart {
  double day = 0.0;
  bool playing = false;
  double speed = 10.0;  // days a second
};

// What is looked at, and in which words.
struct PagePart {
  View view = View::balance;
  Overlay overlay = Overlay::none;
  look::Depth depth = look::Depth::plain;
  scenario::Unit unit = scenario::Unit::g_per_l;
  std::size_t track = 0;                      // which of tracks_of the story's model
  std::optional<std::size_t> tissue;          // whose circle is looked at; none: where most is settled
  std::vector<look::LanguageName> languages;  // that there are; the shell fills it in
};

struct LeversPart {
  bool from_today = false;  // levers change the story from the playhead on, not as a whole
  bool all = false;         // also the levers the story does not use
  // While a lever is dragged: which, and the account of the run before.
  std::optional<body::LeverId> dragged;
  std::shared_ptr<const readout::Account> before;
};

struct TalkPart {
  std::optional<std::size_t> step;    // none: no talk is on
  std::vector<scenario::Edit> aside;  // what the audience changed, kept when a step was entered
  bool shows_own = false;             // a person's own results may be shown in this talk
  bool revealed = false;              // the step's answer is shown
  bool note_hidden = false;           // the speaker's note is not on the screen
};

struct LabPart {
  unsigned sample = 0;            // which of the day's samples the lab sheet shows
  bool other_laboratory = false;  // the lab sheet uses another laboratory's interval
};

struct StudyPart {
  StudyPage page = StudyPage::tracer;
  study::Traced traced = study::Traced::c3;
  bool counting_noise = false;
  bool busy = false;  // a study is being worked out
  std::optional<TracerShown> tracer;
  std::optional<EffectsShown> effects;
  std::optional<CircleShown> circle;
  bool circling = false;  // it is being worked out
  std::vector<study::TruthEntry> truth;
};

struct FilesPart {
  std::vector<StoryEntry> stories;
  std::vector<StoryEntry> recent;  // opened before, the newest first
  std::string sought;              // what is looked for among them
  Folder folder;
  std::string example;              // invented results to show; empty = none
  std::string own;                  // where own results are kept when that is asked for; empty = nowhere
  std::uint64_t results_asked = 0;  // number of the last file of results asked for, or of the last forgetting
};

struct FirstMinutePart {
  bool time = false;  // nobody has used the program here yet: after the cautions comes the first minute
  std::optional<FirstMinute> step;
  bool asked = false;   // its story is being read
  bool pulled = false;  // the lever it waits for has been moved far enough
  double from = 0.0;    // the day from which the level is watched
};

struct AppState {
  DocumentPart document;
  RunsPart runs;
  TimePart time;
  PagePart page;
  Look look;
  LeversPart levers;
  TalkPart talk;
  LabPart lab;
  StudyPart study;
  OwnResults own;
  FilesPart files;
  FirstMinutePart first;
  std::string problem;       // shown in a banner until dismissed
  std::optional<int> today;  // days since 1970-01-01, as the program was told when it began; nothing: it was not
};

// What the banner says, in words: the problem, or where and why the last run stopped; empty = nothing to say.
[[nodiscard]] std::string banner_text(const AppState& state, const look::WordBook& words);
// The story with its what-ifs: what is run.
[[nodiscard]] scenario::Scenario told(const Document& document);
// The value a lever is set to by what governs it on the playhead's day (a ramp's goal while it ramps): in the story as
// told, and with the what-ifs.
[[nodiscard]] double story_value(const AppState& state, body::LeverId lever);
[[nodiscard]] double current_value(const AppState& state, body::LeverId lever);
[[nodiscard]] bool is_edited(const AppState& state, body::LeverId lever);
// The tissue whose circle is looked at; only with a run.
[[nodiscard]] std::size_t tissue_shown(const AppState& state);
// The circle is worked out for what is on the screen.
[[nodiscard]] bool circle_is_current(const AppState& state);
// A talk is on and the person's own results were not chosen for it: nothing of them may be shown.
[[nodiscard]] bool own_rests(const AppState& state);
// The language that comes after the one chosen; none if none is known.
[[nodiscard]] std::optional<look::LanguageName> next_language(const AppState& state);
// The talk has been left for a what-if.
[[nodiscard]] bool branched(const AppState& state);
// The lever the first minute waits for now, if it waits for one.
[[nodiscard]] std::optional<body::LeverId> first_minute_lever(const AppState& state);
// And how far up it waits for it.
[[nodiscard]] double first_minute_goal(const AppState& state);

}  // namespace drawdown::stage
