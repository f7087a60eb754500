// Values so far from a file's others that their unit may have slipped.
#pragma once

#include <optional>
#include <vector>

#include "scenario/scenario.hpp"

namespace drawdown::labs {

struct SlipsFound {
  double reference = 0.0;
  bool from_common = false;     // no value could be what it says: the reference is `common`
  std::vector<bool> suspected;  // by value
};
// Of values (above zero, in one unit) those that are suspected: 100 or 1000 times more or less than the reference,
// within a factor of the square root of 10, or above `most`, the most that can be what it says.
//
// The reference: of the values that can be what they say (not above `most`, and not 30 times below what is common) the
// largest group within a factor of the square root of 10 about one of them, of groups as large the one nearer to
// `common`; its median. So good values are never asked about because bad ones are many. If none can be what it says,
// `common` itself.
[[nodiscard]] SlipsFound find_slips(const std::vector<double>& values, double common, double most);

// Less than this cannot be what it says, where `common` is common.
[[nodiscard]] double least_plausible(double common);

// What a suspected value would be if it had been written in another unit than was read, g/L: of what the units in use
// make of it (mg/dL or mg/L taken for g/L, g/L or mg/L taken for mg/dL) the one nearest to the reference, if that can
// be what it says. Nothing where no unit explains it.
[[nodiscard]] std::optional<double> meant_in_other_unit(double written, scenario::Unit read_as, double reference,
                                                        double most);

}  // namespace drawdown::labs
