// Settling: by Newton's method, led by time; by time alone where that does not do.
#include <algorithm>
#include <cmath>

#include "body/body.hpp"

namespace drawdown::body {

namespace {

Settled by_time(const Body& body, const std::vector<double>& levers, const SettleOptions& settle) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  const solve::NetworkSystem system(bound);
  solve::Course course(body.rest.size());
  solve::Solver solver(bound.pattern(), body.model->lu());
  // Loose on the way: where nothing changes any more the error of a step vanishes with the slope.
  solve::Options options = body.options(1e-3);
  options.step_limit = settle.step_limit;
  options.keep_going = settle.keep_going;
  Settled result;
  result.outcome = solver.solve(system, body.rest, 0.0, settling_hours, options, course);
  if (result.outcome.status != solve::Status::ok) return result;
  result.state.resize(body.rest.size());
  course.last_state(result.state.data());
  return result;
}

// Implicit Euler steps from rest whose length grows as the state stops changing, so that the path is roughly time's and
// the last steps are Newton's (pseudo-transient continuation; Kelley & Keyes 1998, SIAM J Numer Anal 35:508). Empty if
// it does not come to a root in a few steps, or comes to one that is not stable.
constexpr std::size_t most_iterations = 40;
constexpr double first_hours = 2.0;
constexpr double change_aimed_at = 1.5;  // in one step, of a species and half its scale
constexpr double newton_hours = 1e9;     // from here on the step is Newton's
constexpr double root_reached = 1e-8;    // largest change the last step asks for, of a species and a thousandth of its
                                         // scale

std::vector<double> by_newton(const Body& body, const std::vector<double>& levers, const SettleOptions& settle) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  solve::SparseLu<double> lu(body.model->lu());
  const std::vector<double>& scales = body.model->scales();
  const std::size_t n = body.rest.size();
  std::vector<double> x = body.rest;
  std::vector<double> d(n);
  std::vector<double> values(bound.pattern().entries.size());
  std::vector<double> unused(n);
  double hours = first_hours;
  double reached = 0.0;
  const std::size_t most = std::min(most_iterations, settle.step_limit);
  for (std::size_t i = 0; i < most; ++i) {
    if (settle.keep_going && !settle.keep_going(std::min(reached, settling_hours))) return {};
    bound.linearise(0.0, x.data(), d.data(), values.data(), unused.data());
    if (!lu.factorise(1.0 / hours, values.data())) return {};
    lu.solve(d.data());
    // What the step asks for, not what is left of it once held at zero: a state pressed against zero is no root.
    double change = 0.0;
    double strict = 0.0;
    for (std::size_t s = 0; s < n; ++s) {
      const double size = std::abs(d[s]);
      change = std::max(change, size / (std::abs(x[s]) + 0.5 * scales[s]));
      strict = std::max(strict, size / (std::abs(x[s]) + 1e-3 * scales[s]));
      x[s] = std::max(x[s] + d[s], 0.0);
    }
    if (!std::isfinite(strict)) return {};
    reached += hours;
    if (hours >= newton_hours && strict < root_reached) {
      bound.linearise(0.0, x.data(), d.data(), values.data(), unused.data());
      return lu.factorise(1e-12, values.data()) && lu.sign() > 0 ? x : std::vector<double>{};
    }
    hours = std::min(hours * std::clamp(change_aimed_at / std::max(change, 1e-9), 0.5, 20.0), newton_hours);
  }
  return {};
}

}  // namespace

Settled settled(const Body& body, const std::vector<double>& levers, const SettleOptions& settle) {
  if (!settle.by_time) {
    Settled found{by_newton(body, levers, settle), {}};
    if (!found.state.empty()) {
      found.outcome.time = settling_hours;
      return found;
    }
  }
  return by_time(body, levers, settle);
}

}  // namespace drawdown::body
