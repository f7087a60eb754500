// Why a level is where it is, worked out once more for the tests of words, apart from the program's own account: from
// the rates of single reactions, whose names decide what counts for what, and its own integration of the equations that
// stand at the head of sim/readout/account.hpp.
#pragma once

#include <array>
#include <vector>

#include "simulate.hpp"

namespace drawdown::support {

// What a debt is owed to; tissues together.
enum class Group { tissue, red_cells, fluid, loop, c1, wear, made, taken, given, volume, leak, before };
inline constexpr std::size_t groups = 12;
inline constexpr std::array<const char*, groups> group_names{
    "tissue", "red cells", "fluid", "loop", "C1", "wear", "made", "taken", "given", "volume", "leak", "before"};

// One protein at one moment; levels and debts in g/L, slopes a day.
struct OwnAccount {
  double usual = 0, level = 0, tap = 0, drain = 0, volume = 1, in = 0, out = 0, from_tissue = 0;
  double percent_a_day = 0;  // of usual
  std::array<double, groups> debt{}, debt_slope{};
  double in_tissue = 0, by_classical = 0, used = 0;  // nmol/L an hour, now
  [[nodiscard]] double against() const { return usual > 0 ? level / usual : 1.0; }
};
struct OwnPair {
  double day = 0;
  OwnAccount c3, c4;
};

// On these days, in rising order, within the run.
std::vector<OwnPair> own_accounts(const Run& run, const std::vector<double>& days);

}  // namespace drawdown::support
