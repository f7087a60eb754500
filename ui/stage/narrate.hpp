// What the slope and the level mean today, in words made from the flows: never canned, so it is right under every
// lever setting.
#pragma once

#include <string>

#include "look/words.hpp"
#include "stage/state.hpp"

namespace drawdown::stage {

enum class Trend { falling, steady, rising };

// How one protein stands.
enum class Standing {
  falling,          // more leaves than comes
  rising,           // more comes than leaves
  usual,            // steady near this person's level, used at the usual speed
  masked,           // steady near this person's level, but used and made faster
  low_used_faster,  // low and steady: made equals used again, each molecule lasts less long
  low_made_less,    // low and steady: less is made, nothing is used faster
  high              // high and steady
};

struct Reading {
  Trend trend = Trend::steady;
  Standing standing = Standing::usual;
  double level = 0.0;          // g/L
  double against_usual = 1.0;  // level / usual level
  double made = 1.0;           // made a day / usual
  double speed = 1.0;          // share of the pool used a day / usual
  double percent_a_day = 0.0;  // slope, % of the pool
  bool below_range = false;
  bool above_range = false;
};

enum class Which { c3, c4 };

// Falling or rising means more than half a per cent of the pool a day; near the usual level means within a tenth;
// faster means by more than a seventh.
[[nodiscard]] Reading read_balance(const Run& run, double day, Which which);

// One or two sentences for both proteins.
[[nodiscard]] std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth);

// What kept run and present run differ in, in words.
[[nodiscard]] std::string difference_in_words(const KeptRun& kept, const Run& now, const look::WordBook& words,
                                              scenario::Unit unit);

// "0.73" g/L or "73" mg/dL.
[[nodiscard]] std::string level_text(double grams_per_litre, Which which, scenario::Unit unit);
[[nodiscard]] const char* unit_text(scenario::Unit unit);

}  // namespace drawdown::stage
