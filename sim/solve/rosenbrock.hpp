// The Rosenbrock stepper on the fixed sparse LU, shaped as odeint's stepper concept so that odeint's
// rosenbrock4_dense_output drives it, and the corrected coefficients it shares with odeint's own rosenbrock4.
// Included by integrate.cpp only: odeint is slow to compile, so one source file meets it.
#pragma once

#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>
#include <boost/numeric/odeint/stepper/rosenbrock4_dense_output.hpp>
#include <boost/numeric/ublas/lu.hpp>
#include <boost/numeric/ublas/matrix.hpp>
#include <boost/numeric/ublas/vector.hpp>

#include <algorithm>
#include <memory>

#include "solve/rodas.hpp"
#include "solve/solve.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::solve {

namespace odeint = boost::numeric::odeint;
namespace ublas = boost::numeric::ublas;

using State = ublas::vector<double>;

// Boost 1.74 carries d4 with the wrong sign: harmless while the right side does not depend on time, order 1 when it
// does. d4 = -0.0362 is Hairer & Wanner's value (RODAS); the Prothero-Robinson test fails with Boost's.
struct CorrectedCoefficients : odeint::default_rosenbrock_coefficients<double> {
  const double d4 = -0.3620000000000023e-01;
};

using DenseRosenbrock = odeint::rosenbrock4<double, CorrectedCoefficients>;

class SparseRosenbrock {
 public:
  using value_type = double;
  using time_type = double;
  using state_type = State;
  using deriv_type = State;
  using resizer_type = odeint::initially_resizer;
  using wrapped_state_type = odeint::state_wrapper<State>;
  using wrapped_deriv_type = odeint::state_wrapper<State>;
  using stepper_category = odeint::stepper_tag;
  using order_type = unsigned short;
  static constexpr order_type stepper_order = 4;
  static constexpr order_type error_order = 3;

  SparseRosenbrock(const network::Pattern& pattern, std::shared_ptr<const LuPlan> lu)
      : pattern_(&pattern),
        lu_(std::move(lu)),
        jacobian_(pattern.entries.size()),
        inner_(pattern.size),
        stages_(pattern.size) {
    for (State* v : {&slope_, &dfdt_, &cont3, &cont4}) v->resize(pattern.size);
  }

  [[nodiscard]] order_type order() const { return stepper_order; }

  // Forgets the last stretch.
  void begin() {
    statistics = Statistics{};
    start_known_ = false;
  }

  // The last attempt was refused: its derivative and Jacobian still hold at the start of the step.
  void reuse_start() { start_known_ = true; }

  void do_step(const System& system, const State& x, double t, State& xout, double dt, State& xerr) {
    if (!start_known_) {
      system.linearise(t, &x[0], &slope_[0], jacobian_.data(), &dfdt_[0]);
      ramps_ = std::any_of(dfdt_.begin(), dfdt_.end(), [](double d) { return d != 0.0; });
      statistics.derivative_calls += 1;
      statistics.jacobian_calls += 1;
    }
    start_known_ = false;
    prepare_matrix(1.0 / (RodasCoefficients::gamma * dt));
    stages_.step(
        &x[0], t, dt, &slope_[0], &dfdt_[0], ramps_, &xout[0], &xerr[0], inner_.data(),
        [&](double at, const double* in, double* out) { system.derivative(at, in, out); },
        [this](double* b) { solve_linear(b); });
    statistics.derivative_calls += 5;
  }

  void prepare_dense_output() { stages_.corrections(&cont3[0], &cont4[0]); }

  void calc_state(double t, State& x, const State& x_old, double t_old, const State& x_new, double t_new) const {
    const double s = (t - t_old) / (t_new - t_old);
    for (std::size_t i = 0; i < x.size(); ++i) {
      x[i] = x_old[i] * (1.0 - s) + s * (x_new[i] + (1.0 - s) * (cont3[i] + s * cont4[i]));
    }
  }

  template <class Any>
  void adjust_size(const Any&) {}

  Statistics statistics;

 private:
  // Factors shift * I - J; where the fixed order meets a pivot it cannot trust, a dense LU with row pivoting instead.
  void prepare_matrix(double shift) {
    dense_ = !lu_.factorise(shift, jacobian_.data());
    if (!dense_) return;
    const std::size_t n = pattern_->size;
    dense_matrix_ = ublas::identity_matrix<double>(n) * shift;
    for (std::size_t e = 0; e < jacobian_.size(); ++e) {
      dense_matrix_(static_cast<std::size_t>(pattern_->entries[e].first),
                    static_cast<std::size_t>(pattern_->entries[e].second)) -= jacobian_[e];
    }
    rows_ = ublas::permutation_matrix<std::size_t>(n);
    ublas::lu_factorize(dense_matrix_, rows_);
    statistics.dense_fallbacks += 1;
  }
  void solve_linear(double* b) {
    if (!dense_) {
      lu_.solve(b);
      return;
    }
    State copy(pattern_->size);
    std::copy(b, b + copy.size(), copy.begin());
    ublas::lu_substitute(dense_matrix_, rows_, copy);
    std::copy(copy.begin(), copy.end(), b);
  }

  const network::Pattern* pattern_;
  SparseLu<double> lu_;
  std::vector<double> jacobian_, inner_;
  RodasStages<double> stages_;
  State slope_, dfdt_;
  ublas::matrix<double> dense_matrix_;
  ublas::permutation_matrix<std::size_t> rows_{0};
  bool dense_ = false;
  bool ramps_ = false;
  bool start_known_ = false;

 public:
  State cont3, cont4;  // the dense output's two correction vectors, after prepare_dense_output()
};

}  // namespace drawdown::solve
