// The Rosenbrock stepper on the fixed sparse LU, shaped as odeint's stepper concept so that odeint's
// rosenbrock4_dense_output drives it, and the corrected coefficients it shares with odeint's own rosenbrock4.
// Included by integrate.cpp only: odeint is slow to compile, so one source file meets it.
#pragma once

#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>
#include <boost/numeric/odeint/stepper/rosenbrock4_dense_output.hpp>
#include <boost/numeric/ublas/lu.hpp>
#include <boost/numeric/ublas/matrix.hpp>
#include <boost/numeric/ublas/vector.hpp>

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

  SparseRosenbrock(const network::Pattern& pattern, SparseLu& lu)
      : pattern_(&pattern), lu_(&lu), jacobian_(pattern.entries.size()) {
    for (State* v : {&slope_, &fresh_, &dfdt_, &g1_, &g2_, &g3_, &g4_, &g5_, &inner_, &cont3, &cont4}) {
      v->resize(pattern.size);
    }
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
    const std::size_t n = x.size();
    if (!start_known_) {
      system.derivative(t, &x[0], &slope_[0]);
      system.jacobian(t, &x[0], jacobian_.data(), &dfdt_[0]);
      statistics.derivative_calls += 1;
      statistics.jacobian_calls += 1;
    }
    start_known_ = false;
    prepare_matrix(1.0 / (c.gamma * dt));
    const double r = 1.0 / dt;

    for (std::size_t i = 0; i < n; ++i) g1_[i] = slope_[i] + dt * c.d1 * dfdt_[i];
    solve_linear(g1_);
    for (std::size_t i = 0; i < n; ++i) inner_[i] = x[i] + c.a21 * g1_[i];
    system.derivative(t + c.c2 * dt, &inner_[0], &fresh_[0]);
    for (std::size_t i = 0; i < n; ++i) g2_[i] = fresh_[i] + dt * c.d2 * dfdt_[i] + r * c.c21 * g1_[i];
    solve_linear(g2_);
    for (std::size_t i = 0; i < n; ++i) inner_[i] = x[i] + c.a31 * g1_[i] + c.a32 * g2_[i];
    system.derivative(t + c.c3 * dt, &inner_[0], &fresh_[0]);
    for (std::size_t i = 0; i < n; ++i) {
      g3_[i] = fresh_[i] + dt * c.d3 * dfdt_[i] + r * (c.c31 * g1_[i] + c.c32 * g2_[i]);
    }
    solve_linear(g3_);
    for (std::size_t i = 0; i < n; ++i) inner_[i] = x[i] + c.a41 * g1_[i] + c.a42 * g2_[i] + c.a43 * g3_[i];
    system.derivative(t + c.c4 * dt, &inner_[0], &fresh_[0]);
    for (std::size_t i = 0; i < n; ++i) {
      g4_[i] = fresh_[i] + dt * c.d4 * dfdt_[i] + r * (c.c41 * g1_[i] + c.c42 * g2_[i] + c.c43 * g3_[i]);
    }
    solve_linear(g4_);
    for (std::size_t i = 0; i < n; ++i) {
      inner_[i] = x[i] + c.a51 * g1_[i] + c.a52 * g2_[i] + c.a53 * g3_[i] + c.a54 * g4_[i];
    }
    system.derivative(t + dt, &inner_[0], &fresh_[0]);
    for (std::size_t i = 0; i < n; ++i) {
      g5_[i] = fresh_[i] + r * (c.c51 * g1_[i] + c.c52 * g2_[i] + c.c53 * g3_[i] + c.c54 * g4_[i]);
    }
    solve_linear(g5_);
    for (std::size_t i = 0; i < n; ++i) inner_[i] += g5_[i];
    system.derivative(t + dt, &inner_[0], &fresh_[0]);
    for (std::size_t i = 0; i < n; ++i) {
      xerr[i] = fresh_[i] + r * (c.c61 * g1_[i] + c.c62 * g2_[i] + c.c63 * g3_[i] + c.c64 * g4_[i] + c.c65 * g5_[i]);
    }
    solve_linear(xerr);
    for (std::size_t i = 0; i < n; ++i) xout[i] = inner_[i] + xerr[i];
    statistics.derivative_calls += 5;
  }

  void prepare_dense_output() {
    for (std::size_t i = 0; i < cont3.size(); ++i) {
      cont3[i] = c.d21 * g1_[i] + c.d22 * g2_[i] + c.d23 * g3_[i] + c.d24 * g4_[i] + c.d25 * g5_[i];
      cont4[i] = c.d31 * g1_[i] + c.d32 * g2_[i] + c.d33 * g3_[i] + c.d34 * g4_[i] + c.d35 * g5_[i];
    }
  }

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
    dense_ = !lu_->factorise(shift, jacobian_.data());
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
  void solve_linear(State& b) {
    if (dense_) {
      ublas::lu_substitute(dense_matrix_, rows_, b);
    } else {
      lu_->solve(&b[0]);
    }
  }

  const CorrectedCoefficients c{};
  const network::Pattern* pattern_;
  SparseLu* lu_;
  std::vector<double> jacobian_;
  State slope_, fresh_, dfdt_, g1_, g2_, g3_, g4_, g5_, inner_;
  ublas::matrix<double> dense_matrix_;
  ublas::permutation_matrix<std::size_t> rows_{0};
  bool dense_ = false;
  bool start_known_ = false;

 public:
  State cont3, cont4;  // the dense output's two correction vectors, after prepare_dense_output()
};

}  // namespace drawdown::solve
