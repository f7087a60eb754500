// One sampler of people. A person is drawn from documented distributions by seed and number alone (random.hpp), and
// differs from others only by levers and events, so that all people share one body. Two groups under one seed have the
// same persons in them, with another illness.
//
// What is drawn but cannot act yet: body weight and plasma volume. Everything in the model is per litre of plasma, so a
// level does not hang on them; they act where a dose is given by weight (replacement of C1 inhibitor) and stand in the
// record for grams a day. Age and sex are not drawn: no figure to draw their effect from.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "scenario/scenario.hpp"
#include "study/people_groups.hpp"
#include "study/random.hpp"

namespace drawdown::study {

// Between healthy people, how one protein's usual level and ordinary turnover spread: both log-normal about 1,
// correlated by `level_to_turnover`. What is made is their product. In the body activation adds its own part (factors
// B, H and I differ too), so these are a little narrower than what a laboratory or a tracer would find; a test finds
// that. Levels of proteins with `shared` correlate with each other by `shared_correlation`.
struct ProteinSpread {
  const char* protein;  // the model's name
  double level_sd;      // of the logarithm; C4 besides its gene copies
  double turnover_sd;   // of the logarithm of ordinary loss
  bool shared;
  const char* source;
};
// People who lose a protein faster make more of it, yet have less: from C3's three spreads, 11^2 = 15^2 + 13^2 + 2 r 15
// 13, r = -0.70; -0.72 without what activation adds. Taken for all proteins: assumed.
inline constexpr double level_to_turnover = -0.72;
// Factor B with factor I, r 0.71 (Clin Exp Immunol 1977;28:61); taken for all proteins of the liver: assumed. With the
// genes' share of C4's spread it leaves 0.5-0.65 between C3 and C4 in health, as derived from reference intervals.
inline constexpr double shared_correlation = 0.71;
[[nodiscard]] const std::vector<ProteinSpread>& protein_spreads();

// One protein in one person, times usual: its level were there no activation, and its ordinary loss.
struct Own {
  double level = 1.0;
  double turnover = 1.0;
};

struct Person {
  const Group* group = nullptr;
  Key key;
  // What was drawn. Levers' units where it is a lever.
  double weight = 70.0;         // kg
  double plasma_volume = 40.0;  // mL/kg
  std::vector<Own> own;         // in the order of protein_spreads()
  int c4_copies = 4;
  double liver = 1.0;
  double response = 1.0;
  double fixation = 1.0;
  double clearance = 1.0;
  double anti_c1q = 0.0;
  double quiet_drive = 0.0;
  double kidney_share = 0.0;
  double severity = 0.0;
  double onset_day = 0.0;
  double build_up_days = 0.0;
  double treatment_day = 0.0;
  double treatment = 0.0;
  double synthesis = 1.0;  // share of the own hepatic output left in the illness
  scenario::Laboratory laboratory;
  std::vector<double> visits;  // days of blood tests up to `longest_days`, rising; one is the treatment day
  // Where the levers of the standard model stand before day 0.
  std::vector<double> levers;
};
inline constexpr double longest_days = 730.0;

// The person with this number in the group drawn by this seed.
[[nodiscard]] Person person(const Group& group, std::uint64_t seed, std::uint64_t number);
// The names of all that is drawn of a person: the slots of random.hpp, each its own.
[[nodiscard]] std::vector<std::string> drawn_names();

// The person's story, `days` long (1 to `longest_days`): the levers, the laboratory and the events that begin before
// its end, in order of day.
[[nodiscard]] scenario::Scenario story_of(const Person& person, double days = 365.0);

// Events of a story being told, kept inside the levers' limits.
class StoryEvents {
 public:
  explicit StoryEvents(scenario::Scenario& story) : story_(&story) {}
  // A lever by its place in the standard model: where it stands before day 0; moved by a straight ramp; for so many
  // hours.
  void before(body::LeverId lever, double value);
  void move(double day, body::LeverId lever, double value, double ramp_days = 0.0);
  void hold(double day, body::LeverId lever, double value, double hours);

 private:
  void add(scenario::Event event);
  scenario::Scenario* story_;
};

enum class Test { c3, c4 };
// What a blood test reads of a level (g/L), printed with two decimals of g/L (whole mg/dL), halves up. The noise is
// log-normal with median 1 and the analytical and within-person variation of change_value.hpp; the same `visit` (a
// number of one's own choosing) has the same noise.
[[nodiscard]] double reading(const Person& person, Test test, double level, std::uint32_t visit);
// The same before it is printed, for a key of one's own.
[[nodiscard]] double noisy(const Key& key, Test test, double level, std::uint32_t visit);
// As printed: whole hundredths of g/L.
[[nodiscard]] double printed(double level);
// Judged on what is printed: 0.895 prints as 0.90, which is not below 0.90.
[[nodiscard]] bool below(double reading, double limit);

}  // namespace drawdown::study
