// Does the fit recover what is known? People drawn from the fit's own priors, twelve visits each with a laboratory's
// noise; how often does each 90 % interval hold the truth, and how often is it said that the values cannot tell?
#pragma once

#include <string>

namespace drawdown::tests {

struct Coverage {
  int people = 0;
  int load = 0, liver = 0, acute = 0;  // intervals that hold the truth
  int cannot_tell = 0;
  int not_done = 0;
  double narrowest_share = 1.0;  // of the prior's interval, the load's narrowest
};
// On two threads; the same people for the same seed.
[[nodiscard]] Coverage fit_coverage(int people, unsigned seed);
[[nodiscard]] std::string summary(const Coverage& coverage);

}  // namespace drawdown::tests
