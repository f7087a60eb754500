// Sums on a grid against Student's t, which is exact where all values are measured, and against simulation where some
// are below a limit. Printed t tables: for example NIST/SEMATECH e-Handbook of Statistical Methods 1.3.6.7.2 (from
// memory). Seeds fixed.
#include <doctest/doctest.h>

#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <random>

#include "labs/censored.hpp"
#include "support/near.hpp"

using namespace drawdown;
using support::near;

namespace {

double t_above(double freedom, double t) {
  return boost::math::cdf(boost::math::complement(boost::math::students_t(freedom), t));
}

labs::Group group(const std::vector<double>& values, const std::vector<double>& limits = {}) {
  labs::Group g;
  for (const double v : values) g.take(v, false);
  for (const double l : limits) g.take(l, true);
  return g;
}

constexpr labs::Scatter scatter{6.5, 0.0036};

}  // namespace

TEST_CASE("the t distribution in use gives the printed tables") {
  const auto quantile = [](double freedom, double p) {
    return boost::math::quantile(boost::math::students_t(freedom), p);
  };
  CHECK(quantile(1, 0.975) == near(12.706, 1e-4));
  CHECK(quantile(5, 0.95) == near(2.015, 3e-4));
  CHECK(quantile(10, 0.975) == near(2.228, 3e-4));
  CHECK(quantile(10, 0.995) == near(3.169, 3e-4));
  CHECK(quantile(20, 0.999) == near(3.552, 3e-4));
  CHECK(quantile(30, 0.95) == near(1.697, 3e-4));
}

TEST_CASE("of measured values the grid gives Student's t for a further value and for two means, far into the tail") {
  const std::vector<double> all{0.02, -0.05, 0.07, 0.01, -0.03, 0.04};
  const labs::Group own = group(all);
  CHECK(own.n == 6);
  const double freedom = scatter.nu + 5;
  const double s2 = (scatter.nu * scatter.variance + own.squares) / freedom;
  for (const double t : {0.0, 1.0, 2.0, 3.5, 5.0}) {
    const double c = own.mean + t * std::sqrt(s2 * (1.0 + 1.0 / 6.0));
    CHECK(labs::NextValue(own, {}, scatter).at(c).above == near(t_above(freedom, t), 0.01));
    CHECK(labs::NextValue(own, {}, scatter).at(2 * own.mean - c).below == near(t_above(freedom, t), 0.01));
  }
  const labs::Group first = group({0.02, -0.05, 0.07});
  const double pooled_freedom = scatter.nu + 4;
  for (const double gap : {0.0, 0.1, 0.3}) {
    const labs::Group second = group({-gap + 0.01, -gap - 0.03, -gap + 0.04});
    const double variance = (scatter.nu * scatter.variance + first.squares + second.squares) / pooled_freedom;
    const double t = (first.mean - second.mean) / std::sqrt(variance * 2.0 / 3.0);
    CHECK(labs::second_mean(first, second, scatter).above == near(t_above(pooled_freedom, t), 0.05));
  }
  // Another laboratory's values tell the scatter.
  const labs::Group wide = group({0.4, -0.4, 0.3, -0.3});
  CHECK(labs::NextValue(own, {wide}, scatter).at(0.3).above > 3 * labs::NextValue(own, {}, scatter).at(0.3).above);
}

TEST_CASE(
    "with values below a limit the next value lies where it does in simulation, and not where limits are numbers") {
  // Scatter and mean drawn from the model's own prior (mean: wide around the limit), kept if what was seen has three
  // measured and two below; then the next value's place among the predicted is uniform.
  std::mt19937 random(5);
  std::normal_distribution<double> normal;
  std::chi_squared_distribution<double> chi(scatter.nu);
  int kept = 0;
  int low = 0;
  int low_as_numbers = 0;
  while (kept < 1500) {
    const double s = std::sqrt(scatter.nu * scatter.variance / chi(random));
    const double mu = 1.2 * (std::uniform_real_distribution<double>()(random) - 0.5);
    std::vector<double> seen;
    std::size_t below = 0;
    for (int i = 0; i < 5; ++i) {
      const double y = mu + s * normal(random);
      if (y < 0.0) {
        below += 1;
      } else {
        seen.push_back(y);
      }
    }
    if (below != 2) continue;
    kept += 1;
    const double next = mu + s * normal(random);
    const labs::Group own = group(seen, {0.0, 0.0});
    low += labs::NextValue(own, {}, scatter).at(next).below < 0.1 ? 1 : 0;
    seen.insert(seen.end(), {0.0, 0.0});
    low_as_numbers += labs::NextValue(group(seen), {}, scatter).at(next).below < 0.1 ? 1 : 0;
  }
  MESSAGE("lowest tenth: " << low << " of " << kept << ", limits taken as numbers " << low_as_numbers);
  CHECK(low > 0.08 * kept);
  CHECK(low < 0.12 * kept);
  CHECK(low_as_numbers > 0.13 * kept);
}

TEST_CASE("a mean that lies wholly under a limit is surely lower than one far above it, and not than one beside it") {
  const labs::Group high = group({0.5, 0.45, 0.52});
  const labs::Group hidden = group({}, {0.0, 0.0, 0.0});
  CHECK(labs::second_mean(high, hidden, scatter).above < 1e-4);
  CHECK(labs::second_mean(hidden, high, scatter).below < 1e-4);
  CHECK(labs::second_mean(group({0.02, 0.03, 0.01}), hidden, scatter).above > 0.001);
}
