// The program's own exp, log and power.
#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "network/elementary.hpp"
#include "network/elementary_errors.hpp"

using namespace drawdown;

TEST_CASE("exp, log and power are the nearest double or one beside it on a hundred thousand arguments") {
  for (const auto& error : support::elementary_errors(100000)) {
    INFO(error.name, " at ", error.at);
    CHECK(error.arguments == 100000);
    CHECK(error.most_steps <= 1);
    CHECK(error.most < (std::string(error.name) == "log" ? 0.6 : 0.8));
  }
}

TEST_CASE("exp, log and power meet their exact values and their ends") {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  constexpr double smallest = std::numeric_limits<double>::denorm_min();
  CHECK(elementary::exp(0.0) == 1.0);
  CHECK(elementary::exp(-0.0) == 1.0);
  CHECK(elementary::exp(infinity) == infinity);
  CHECK(elementary::exp(709.782712893384) < infinity);
  CHECK(elementary::exp(709.7827128933841) == infinity);
  CHECK(elementary::exp(-infinity) == 0.0);
  CHECK(elementary::exp(-745.1332191019411) == smallest);
  CHECK(elementary::exp(-745.1332191019412) == 0.0);
  CHECK(elementary::log(1.0) == 0.0);
  CHECK(elementary::log(0.0) == -infinity);
  CHECK(elementary::log(infinity) == infinity);
  CHECK(elementary::log(smallest) == std::log(smallest));
  CHECK(std::isnan(elementary::log(-1.0)));
  CHECK(std::isnan(elementary::log(std::nan(""))));
  CHECK(std::isnan(elementary::exp(std::nan(""))));
  CHECK(elementary::power(2.0, 10.0) == 1024.0);
  CHECK(elementary::power(2.0, -3.0) == 0.125);
  CHECK(elementary::power(0.88, 1.0) == 0.88);
  CHECK(elementary::power(0.88, 0.0) == 1.0);
  CHECK(elementary::power(1.0, infinity) == 1.0);
  CHECK(elementary::power(10.0, 400.0) == infinity);
  CHECK(elementary::power(10.0, -400.0) == 0.0);
  CHECK(elementary::power(infinity, -1.0) == 0.0);
  CHECK(std::isnan(elementary::power(-1.0, 2.0)));
}
