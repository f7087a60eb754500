// The exact Jacobian against two independent ways to a derivative: central differences (truncation about h^2) and dual
// numbers run through the same rate list (round-off only). Random states and the special ones: zeros, a little below
// zero, rest.
#include <doctest/doctest.h>

#include <cmath>

#include "support/dual.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::Dual;

namespace {

std::vector<std::vector<double>> dense_jacobian(network::Bound<double>& bound, double t, const std::vector<double>& x) {
  const std::size_t n = x.size();
  std::vector<double> values(bound.pattern().entries.size());
  std::vector<double> dfdt(n);
  bound.jacobian(t, x.data(), values.data(), dfdt.data());
  std::vector<std::vector<double>> dense(n, std::vector<double>(n, 0.0));
  for (std::size_t e = 0; e < values.size(); ++e) {
    const auto [row, column] = bound.pattern().entries[e];
    dense[static_cast<std::size_t>(row)][static_cast<std::size_t>(column)] += values[e];
  }
  return dense;
}

// Largest difference of a column, relative to the largest entry of that column and a floor of round-off.
void check_against_duals(const body::Body& body, const std::vector<double>& levers, const std::vector<double>& x) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  network::Bound<Dual> with_slopes(body.plan);
  with_slopes.bind({levers.begin(), levers.end()}, {}, 0.0);
  const auto jacobian = dense_jacobian(bound, 0.0, x);
  const std::size_t n = x.size();
  for (std::size_t j = 0; j < n; ++j) {
    std::vector<Dual> dual(n);
    for (std::size_t i = 0; i < n; ++i) dual[i] = {x[i], i == j ? 1.0 : 0.0};
    std::vector<Dual> slope(n);
    with_slopes.derivative(0.0, dual.data(), slope.data());
    double size = 1e-12;
    for (std::size_t i = 0; i < n; ++i) size = std::max(size, std::abs(slope[i].d));
    for (std::size_t i = 0; i < n; ++i) {
      REQUIRE_MESSAGE(std::abs(jacobian[i][j] - slope[i].d) <= 1e-12 * size, "row ", i, " column ", j);
    }
  }
}

}  // namespace

TEST_CASE("the Jacobian equals dual-number derivatives at 40 random states under random levers") {
  const auto body = support::standard_body();
  std::mt19937 random(20240611);
  for (int trial = 0; trial < 40; ++trial) {
    const std::vector<double> levers = support::random_levers(random);
    check_against_duals(*body, levers, support::random_state(body->network, random));
  }
}

TEST_CASE("the Jacobian equals dual-number derivatives at rest and a little below zero") {
  const auto body = support::standard_body();
  check_against_duals(*body, body::resting_levers(), body->rest);
  std::vector<double> below = body->rest;
  for (std::size_t i = 0; i < below.size(); ++i) below[i] = -1e-9 * body->model->scales()[i];
  check_against_duals(*body, body::resting_levers(), below);
}

TEST_CASE("the Jacobian equals central differences at random states") {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  std::mt19937 random(77);
  const std::size_t n = bound.plan().species;
  for (int trial = 0; trial < 10; ++trial) {
    bound.bind(support::random_levers(random), {}, 0.0);
    std::vector<double> x = support::random_state(body->network, random);
    for (std::size_t i = 0; i < n; ++i)
      x[i] = std::max(x[i], 0.05 * body->model->scales()[i]);  // away from the kink at zero
    const auto jacobian = dense_jacobian(bound, 0.0, x);
    for (std::size_t j = 0; j < n; ++j) {
      const double h = 1e-5 * x[j];
      std::vector<double> up = x;
      std::vector<double> down = x;
      up[j] += h;
      down[j] -= h;
      std::vector<double> f_up(n);
      std::vector<double> f_down(n);
      bound.derivative(0.0, up.data(), f_up.data());
      bound.derivative(0.0, down.data(), f_down.data());
      for (std::size_t i = 0; i < n; ++i) {
        const double difference = (f_up[i] - f_down[i]) / (2 * h);
        // Truncation (1e-10 relative) and cancellation of a slope of size |f| over 2h.
        const double allowed = 1e-6 * std::abs(difference) + 1e-10 * (std::abs(f_up[i]) + 1.0) / h;
        REQUIRE_MESSAGE(std::abs(jacobian[i][j] - difference) <= allowed, "row ", i, " column ", j);
      }
    }
  }
}

TEST_CASE("at exact zeros the Jacobian equals one-sided differences") {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  const std::size_t n = bound.plan().species;
  std::vector<double> x(n, 0.0);
  x[static_cast<std::size_t>(body->network.species_index("C3"))] = 6000.0;
  x[static_cast<std::size_t>(body->network.species_index("antibody"))] = 1.0;
  const auto jacobian = dense_jacobian(bound, 0.0, x);
  std::vector<double> f(n);
  bound.derivative(0.0, x.data(), f.data());
  for (std::size_t j = 0; j < n; ++j) {
    std::vector<double> up = x;
    const double h = 1e-7 * body->model->scales()[j];
    up[j] += h;
    std::vector<double> f_up(n);
    bound.derivative(0.0, up.data(), f_up.data());
    for (std::size_t i = 0; i < n; ++i) {
      const double difference = (f_up[i] - f[i]) / h;
      const double allowed = 1e-4 * std::abs(difference) + 1e-13 * (std::abs(f[i]) + 1.0) / h + 1e-9;
      REQUIRE_MESSAGE(std::abs(jacobian[i][j] - difference) <= allowed, "row ", i, " column ", j);
    }
  }
}

TEST_CASE("the time derivative of a ramping lever equals central differences in time") {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  std::mt19937 random(5);
  std::vector<double> levers = support::random_levers(random);
  std::vector<double> slopes(levers.size(), 0.0);
  for (const char* name : {"hepatic_output", "fixation", "nephritic_factor", "antibody_drive", "block_c3"}) {
    slopes[body::lever_at(name)] = 0.003;
    levers[body::lever_at(name)] = std::max(levers[body::lever_at(name)], 0.5);
  }
  levers[body::lever_at("nephritic_factor")] = 2.0;
  levers[body::lever_at("block_c3")] = 0.3;
  bound.bind(levers, slopes, 10.0);
  const std::vector<double> x = support::random_state(body->network, random);
  const std::size_t n = x.size();
  std::vector<double> values(bound.pattern().entries.size());
  std::vector<double> dfdt(n);
  bound.jacobian(20.0, x.data(), values.data(), dfdt.data());
  std::vector<double> later(n);
  std::vector<double> earlier(n);
  const double h = 1e-3;
  bound.derivative(20.0 + h, x.data(), later.data());
  bound.derivative(20.0 - h, x.data(), earlier.data());
  int moving = 0;
  for (std::size_t i = 0; i < n; ++i) {
    const double difference = (later[i] - earlier[i]) / (2 * h);
    CHECK(std::abs(dfdt[i] - difference) <= 1e-6 * std::abs(difference) + 1e-10 * (1.0 + std::abs(later[i])) / h);
    moving += dfdt[i] != 0.0 ? 1 : 0;
  }
  CHECK(moving > 5);
}
