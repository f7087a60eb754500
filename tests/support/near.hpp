// Equal to within a share of the larger of the two, however small they are. doctest's own Approx adds its epsilon once
// more as an absolute allowance (scale 1), which lets anything pass for values far below one.
#pragma once

#include <doctest/doctest.h>

namespace drawdown::support {

inline doctest::Approx near(double value, double share) {
  return doctest::Approx(value).epsilon(share).scale(0.0);
}

}  // namespace drawdown::support
