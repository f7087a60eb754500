// Values so far from a file's others that their unit may have slipped.
#pragma once

#include <vector>

namespace drawdown::labs {

struct SlipFactors {
  std::vector<double> factors;
  bool from_common = false;  // no value could be what it says: they were held against `common`
};
// For each value (above zero, in one unit) 100 or 1000 if it is about so many times the reference, 0.01 or 0.001 if it
// is that part of it, both within a factor of the square root of 10; else 1.
//
// The reference: of the values that can be what they say (not above `most`, and not 30 times below what is common) the
// largest group within a factor of the square root of 10 about one of them, of groups as large the one nearer to
// `common`; its median. So good values are never asked about because bad ones are many. If none can be what it says,
// `common` itself.
[[nodiscard]] SlipFactors slip_factors(const std::vector<double>& values, double common, double most);

}  // namespace drawdown::labs
