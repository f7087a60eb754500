// What a level does and why, in one state and one reason, from its account: what stands over the picture.
//
//   falling, filling  the slope is at least 0.1 % of usual a day; slowly under 0.5, and then only of a level that is
//   more
//                     than 2 % off usual. Why: the debt that changes fastest the way the level goes.
//   below, above      holds more than 8 % off usual. Why: the largest debt of that sign.
//   usual             else; `hidden` where tap and drain are both at least half as wide again, `usual_low` where what
//   is
//                     usual for this person is below the laboratory's range.
// Tissues are added up as complexes. The limits are ours: no source.
#pragma once

#include <array>

#include "readout/account.hpp"

namespace drawdown::readout {

enum class LevelState { falling, filling, below, above, usual, hidden, usual_low };
inline constexpr std::array<const char*, 7> level_state_names{"falling", "filling", "below",    "above",
                                                              "usual",   "hidden",  "usual_low"};
enum class Why {
  none,
  complexes,  // used where complexes sit
  red_cells,
  fluid,  // in the fluid, without complexes
  loop,
  c1_free,
  wear,
  made,   // less is made than usual, or (filling) more than usual
  again,  // made: back towards usual (falling: what was made more than usual ends; filling: what was made less ends)
  taken_out,
  given,
  volume,
  leak,
  lost,
  before,
  surfaces  // of C3, complexes that are none: next to nothing of it by the classical pathway (whoever knows says so)
};
inline constexpr std::array<const char*, 16> why_names{
    "none",  "complexes", "red_cells", "fluid",  "loop", "c1_free", "wear",   "made",
    "again", "taken_out", "given",     "volume", "leak", "lost",    "before", "surfaces"};

// Tissues are complexes; never `none` or `again`.
[[nodiscard]] Why why_of(const Tokens& tokens, std::size_t token);

struct Verdict {
  LevelState state = LevelState::usual;
  bool slowly = false;
  Why why = Why::none;
};
[[nodiscard]] bool operator==(const Verdict& a, const Verdict& b);

// Within this share of usual one is at it; tap and drain this wide hide each other.
inline constexpr double near_usual = 0.08;
inline constexpr double wide = 1.5;

// `lowest`: the lower limit of the laboratory's range, g/L.
[[nodiscard]] Verdict verdict_of(const Tokens& tokens, const AccountOf& account, double lowest);

}  // namespace drawdown::readout
