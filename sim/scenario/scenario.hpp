// A story as a value: the person, the laboratory, where the levers stand and when they move. What the simulation runs
// and what a TOML file holds. Times in days; levers by their index in the model.
#pragma once

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "body/body.hpp"
#include "scenario/claim.hpp"

namespace drawdown::scenario {

struct Event {
  double day = 0.0;
  body::LeverId lever;
  double value = 0.0;
  double ramp_days = 0.0;  // 0 = at once; else a straight ramp from the value before
  double for_hours = 0.0;  // 0 = stays; else back to the value before after so many hours
  std::string label;       // shown on the time line; may be empty
};

// One sentence for each depth of words.
struct Words {
  std::string plain;
  std::string clinic;
  std::string mechanism;
};

struct TalkStep {
  double day = 0.0;
  std::string look;  // the view to show
  Words say;
  std::string ask;
  std::string reveal;
  std::vector<Claim> claims;  // what the step says of the numbers; `drawdown check` holds the run to them
};

struct Interval {
  double low = 0.0;   // g/L
  double high = 0.0;  // g/L
};

enum class Unit { g_per_l, mg_per_dl };

// What a story answers: `question = "..."` in its file; the gallery of stories has a part for each, in this order.
inline constexpr std::array<std::string_view, 6> questions{"usual", "fall", "missed", "others", "treatment", "sample"};

struct Laboratory {
  // 1996 consensus on CRM 470, limits from memory; laboratories differ widely.
  Interval c3{0.90, 1.80};
  Interval c4{0.10, 0.40};
  Unit unit = Unit::g_per_l;
};

struct Scenario {
  std::string name;  // file name without folder and ending
  std::string title;
  std::string question;  // one of `questions`; empty = none is named
  Words message;
  std::vector<Claim> claims;  // what the message says of the numbers; each names its days
  double days = 365.0;
  std::shared_ptr<const body::Model> model = body::standard_model();  // what the person and the levers are of
  body::Patient patient;
  Laboratory laboratory;
  std::vector<double> levers = body::resting_levers();  // before day 0
  std::vector<Event> events;                            // in order of day
  std::vector<TalkStep> talk;
  std::vector<double> beside;  // levers of a second person to compare with, settled and without events; empty = none
  std::vector<std::string> learn;
  std::vector<std::string> sources;

  [[nodiscard]] const std::vector<body::Lever>& lever_rows() const { return model->levers(); }
};

// A what-if laid over a story. Exactly one of: the lever's value before day 0 (event < 0 and from_day < 0), the
// value of one of the story's own events (event >= 0), a new value held from a day on (from_day >= 0), or something
// done on a day for so many hours (from_day >= 0 and for_hours > 0), which leaves the story's own plans standing.
struct Edit {
  body::LeverId lever;
  int event = -1;
  double from_day = -1.0;
  double value = 0.0;
  double for_hours = 0.0;
};
[[nodiscard]] bool operator==(const Edit& a, const Edit& b);
// The second person's story.
[[nodiscard]] Scenario beside_story(const Scenario& story);
[[nodiscard]] Scenario edited(const Scenario& story, const std::vector<Edit>& edits);

// The edit that means "the value this lever has on this day": of the event that governs it then, else of the start.
[[nodiscard]] Edit governing_edit(const Scenario& story, body::LeverId lever, double day, double value);
// And the value itself.
[[nodiscard]] double governing_value(const Scenario& story, body::LeverId lever, double day);

}  // namespace drawdown::scenario
