// How far the program's own exp, log and power lie from the long double ones of the C library, over many arguments.
#pragma once

#include <cstddef>
#include <vector>

namespace drawdown::support {

struct ElementaryError {
  const char* name = "";
  std::size_t arguments = 0;
  std::size_t not_nearest = 0;  // results that are not the double nearest to the true value
  long most_steps = 0;          // doubles between result and nearest, at the worst
  double most = 0.0;            // distance from the true value in units in the last place, at the worst
  double at = 0.0;              // the argument it was at
};

// exp, log and power, `count` arguments each: drawn by bits, so over all sizes, and near the places where a part of the
// computation begins or ends. Always the same ones.
[[nodiscard]] std::vector<ElementaryError> elementary_errors(std::size_t count);

}  // namespace drawdown::support
