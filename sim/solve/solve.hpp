// The solver's front: one stretch of time without events, integrated by a Rosenbrock method of order 4 (RODAS,
// Hairer & Wanner, Solving Ordinary Differential Equations II, section IV.7) with an error control of our own.
// What can go wrong in the numbers is returned as a value; only misuse throws.
#pragma once

#include <cstddef>
#include <functional>
#include <memory>
#include <vector>

#include "solve/course.hpp"
#include "solve/sparse_lu.hpp"
#include "solve/system.hpp"

namespace drawdown::solve {

enum class Status { ok, step_too_small, non_finite, step_limit, cancelled };
[[nodiscard]] const char* status_name(Status status);

enum class Method {
  sparse,          // our stepper: fixed sparse LU, falls back to dense when a pivot cannot be trusted
  dense_reference  // odeint's own rosenbrock4 on dense matrices, with the corrected coefficients
};

struct Options {
  Method method = Method::sparse;
  double rtol = 1e-4;
  std::vector<double> atol;   // one for each species, or empty: 1e-3 * rtol for all
  double first_step = 0.0;    // hours; 0 = estimated from the slope
  double fixed_step = 0.0;    // hours; above 0 switches the error control off (order tests)
  double largest_step = 0.0;  // hours; 0 = no limit
  std::size_t step_limit = 20000;
  std::function<bool(double)> keep_going;  // called with the time after each step; false cancels
};

struct Statistics {
  std::size_t steps = 0;
  std::size_t rejected = 0;
  std::size_t derivative_calls = 0;
  std::size_t jacobian_calls = 0;
  std::size_t dense_fallbacks = 0;
};

struct Outcome {
  Status status = Status::ok;
  int species = -1;   // the one that was not finite
  double time = 0.0;  // how far it got, hours
  Statistics statistics;
};

// Integrates from `start` at time t0 to t1 > t0 and appends every accepted step to `course`. On anything but ok the
// steps so far stay in the course. The last step ends exactly at t1. Throws std::logic_error on sizes that do not fit.
Outcome solve(const System& system, const std::vector<double>& start, double t0, double t1, const Options& options,
              Course& course);

// Keeps its workspace between calls; solve() above makes one for a single use. The plan of the factorisation, worked
// out once a network, is shared.
class Solver {
 public:
  Solver(const network::Pattern& pattern, const std::shared_ptr<const LuPlan>& lu);
  Solver(const Solver&) = delete;
  Solver(Solver&&) = delete;
  Solver& operator=(const Solver&) = delete;
  Solver& operator=(Solver&&) = delete;
  ~Solver();
  Outcome solve(const System& system, const std::vector<double>& start, double t0, double t1, const Options& options,
                Course& course);

 private:
  struct Workspace;
  std::unique_ptr<Workspace> workspace_;
};

}  // namespace drawdown::solve
