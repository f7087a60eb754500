// The full run: random_levers [SETTINGS]; prints the summary that is kept in tests/properties/random-levers.txt.
#include <cstdlib>
#include <iostream>

#include "properties/random_levers.hpp"

int main(int argc, char** argv) {
  const int settings = argc > 1 ? std::atoi(argv[1]) : 10000;  // NOLINT(cert-err34-c): a bad number gives 0 settings
  const auto summary = drawdown::support::run_random_levers(settings, 20261125);
  std::cout << drawdown::support::to_text(summary);
  const bool good =
      summary.failures == 0 && summary.not_finite == 0 && summary.lowest > -1e-9 && summary.worst_balance < 1e-9;
  return good && settings > 0 ? 0 : 1;
}
