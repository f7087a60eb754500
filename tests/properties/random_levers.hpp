// Random lever settings within their ranges, each run for half a year after a healthy start and half a year back: what
// may never happen is counted.
#pragma once

#include <string>

namespace drawdown::support {

struct RandomSummary {
  int settings = 0;
  int failures = 0;     // runs that did not end ok
  int not_finite = 0;   // values that are not a number
  double lowest = 0.0;  // the most negative value at any step's end, in units of the species' scale
  std::string lowest_species;
  double worst_balance = 0.0;  // largest imbalance of a moiety, relative to its amount
  double most_steps = 0.0;
};

RandomSummary run_random_levers(int settings, unsigned seed);
std::string to_text(const RandomSummary& summary);

}  // namespace drawdown::support
