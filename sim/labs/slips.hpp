// Values so far from a file's others that their unit may have slipped.
#pragma once

#include <vector>

namespace drawdown::labs {

// For each value (above zero, in one unit) 100 or 1000 if it is about so many times the median of the others, 0.01 or
// 0.001 if it is that part of it, both within a factor of the square root of 10; else 1. Of two values only the one
// farther from `common` can be meant.
[[nodiscard]] std::vector<double> slip_factors(const std::vector<double>& values, double common);

}  // namespace drawdown::labs
