// Five hundred of the ten thousand random settings (the rest by tests/properties/main_random_levers.cpp, whose summary
// is kept beside it).
#include <doctest/doctest.h>

#include "properties/random_levers.hpp"

TEST_CASE(
    "five hundred random lever settings: no failure, no NaN, nothing below -1e-9 of scale, balance within "
    "1e-9") {
  const auto summary = drawdown::support::run_random_levers(500, 20261125);
  MESSAGE(drawdown::support::to_text(summary));
  CHECK(summary.failures == 0);
  CHECK(summary.not_finite == 0);
  CHECK(summary.lowest > -1e-9);
  CHECK(summary.worst_balance < 1e-9);
}
