// What the slope and the level mean today, in words made from the flows: never canned, so it is right under every
// lever setting.
#pragma once

#include <string>
#include <vector>

#include "look/words.hpp"
#include "stage/state.hpp"

namespace drawdown::stage {

enum class Trend { falling, steady, rising };
enum class Which { c3, c4 };

// How one protein stands today.
enum class Standing {
  falling,  // the pool loses more than half a per cent a day
  rising,   // gains so much
  usual,    // steady within 8 % of this person's level
  masked,   // the same, but made and used faster, both by more than 8 %
  below,    // steady below the usual level
  above     // steady above it
};
inline constexpr look::Names<6> standing_names{"falling", "rising", "usual", "masked", "below", "above"};

// Each is one short sentence, said only if the comparison beside it holds for the figures shown.
enum class Claim {
  used_more,      // used > made; of a level that falls likewise
  made_more,      // made > used; of a level that rises likewise
  even,           // about as much: |made - used| is at most 3 % of what is usually made
  taken_out,      // falling: plasma exchange takes it; said if it weighs half as much as the weightiest of the three
  given,          // rising: the replacement brings it; likewise
  into_tissue,    // falling: more goes into tissue fluid than comes back; likewise
  out_of_tissue,  // rising: more comes back from there than goes; likewise
  complexes,      // most of what the share used has risen by is spent at complexes in tissue
  red_cells,      // on red cells
  alternative,    // C3, by the alternative pathway without complexes
  fluid,          // C4, in the fluid
  wear,           // by ordinary turnover
  slower,         // the share used is below the usual
  less_made,      // less is made than usual
  more_made,      // more is made than usual
  towards_usual,  // it moves towards the usual level, and neither made nor used differs from usual that way
  lasts_shorter   // how long a molecule lasts against usual: one over the share's ratio
};
inline constexpr look::Names<17> claim_names{"used_more",     "made_more",     "even",      "taken_out", "given",
                                             "into_tissue",   "out_of_tissue", "complexes", "red_cells", "alternative",
                                             "fluid",         "wear",          "slower",    "less_made", "more_made",
                                             "towards_usual", "lasts_shorter"};

struct Reading {
  Trend trend = Trend::steady;
  Standing standing = Standing::usual;
  std::vector<Claim> claims;   // in the order they are said
  double level = 0.0;          // g/L
  double against_usual = 1.0;  // level / usual level
  double made = 1.0;           // made a day / usual
  double speed = 1.0;          // share of the pool used a day / usual
  double percent_a_day = 0.0;  // slope, % of the pool
  bool below_range = false;
  bool above_range = false;
  [[nodiscard]] bool says(Claim claim) const;
};

// What differs from usual by less than this share is not named as a cause.
inline constexpr double least_cause = 0.02;
// Within this of the usual level one is at it.
inline constexpr double near_usual = 0.08;
[[nodiscard]] Reading read_balance(const Run& run, double day, Which which);

// A share of the pool used a day: "49 %", and from 100 % on as so many times a day.
[[nodiscard]] std::string share_text(double share, int decimals, const look::WordBook& words);

// Decimals with which two figures that a sentence says differ are seen to differ: at least `least`, at most five.
[[nodiscard]] int decimals_to_differ(double a, double b, int least);

// One or two sentences for both proteins.
[[nodiscard]] std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth);

// What kept run and present run differ in, in words.
[[nodiscard]] std::string difference_in_words(const KeptRun& kept, const Run& now, const look::WordBook& words,
                                              scenario::Unit unit);

// "0.73" g/L or "73" mg/dL.
[[nodiscard]] std::string level_text(double grams_per_litre, Which which, scenario::Unit unit);
// The same beside its range: a level that is not at a limit is not printed as the limit either.
[[nodiscard]] std::string level_text_beside(double level, const scenario::Interval& range, Which which,
                                            scenario::Unit unit);
[[nodiscard]] const char* unit_text(scenario::Unit unit);

}  // namespace drawdown::stage
