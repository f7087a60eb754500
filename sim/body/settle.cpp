// Settling: by Newton's method, led by time; by time alone where that does not do.
#include <algorithm>

#include "body/body.hpp"
#include "solve/root.hpp"

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

// Empty if it does not come to a root in a few steps, or comes to one that is not stable.
constexpr std::size_t most_iterations = 40;

std::vector<double> by_newton(const Body& body, const std::vector<double>& levers, const SettleOptions& settle) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  solve::SparseLu<double> lu(body.model->lu());
  solve::RootFinder<double> finder(bound.plan(), body.model->scales());
  std::vector<double> x = body.rest;
  const auto keep_going = [&](double reached) {
    return !settle.keep_going || settle.keep_going(std::min(reached, settling_hours));
  };
  const auto status = finder.find(bound, lu, std::min(most_iterations, settle.step_limit), x.data(), keep_going);
  return status == solve::RootStatus::found ? x : std::vector<double>{};
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
