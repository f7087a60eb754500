// Small problems with known answers, for the solver alone.
#pragma once

#include <cmath>
#include <functional>
#include <limits>

#include "solve/solve.hpp"

namespace drawdown::support {

// A full system from three functions.
class Problem final : public solve::System {
 public:
  using Derivative = std::function<void(double, const double*, double*)>;
  using Jacobian = std::function<void(double, const double*, double*, double*)>;
  Problem(std::size_t n, Derivative f, Jacobian j) : f_(std::move(f)), j_(std::move(j)) {
    pattern_.size = n;
    for (std::size_t r = 0; r < n; ++r) {
      for (std::size_t c = 0; c < n; ++c) pattern_.entries.emplace_back(static_cast<int>(r), static_cast<int>(c));
    }
  }
  [[nodiscard]] const network::Pattern& pattern() const override { return pattern_; }
  void derivative(double t, const double* x, double* dxdt) const override { f_(t, x, dxdt); }
  void jacobian(double t, const double* x, double* values, double* dfdt) const override { j_(t, x, values, dfdt); }

 private:
  Derivative f_;
  Jacobian j_;
  network::Pattern pattern_;
};

// Prothero & Robinson 1974 (Math Comp 28:145): y' = k (y - sin t) + cos t, y(0) = 0, answer sin t for every k.
inline Problem prothero_robinson(double k) {
  return {1, [k](double t, const double* y, double* f) { f[0] = k * (y[0] - std::sin(t)) + std::cos(t); },
          [k](double t, const double*, double* j, double* dfdt) {
            j[0] = k;
            dfdt[0] = -k * std::cos(t) - std::sin(t);
          }};
}

// Logistic growth, autonomous and nonlinear: y' = y (1 - y), y(0) = 0.1.
inline Problem logistic() {
  return {1, [](double, const double* y, double* f) { f[0] = y[0] * (1.0 - y[0]); },
          [](double, const double* y, double* j, double* dfdt) {
            j[0] = 1.0 - 2.0 * y[0];
            dfdt[0] = 0.0;
          }};
}
inline double logistic_answer(double t) {
  return 1.0 / (1.0 + 9.0 * std::exp(-t));
}

// Robertson 1966, three rates nine orders of magnitude apart.
inline Problem robertson() {
  return {3,
          [](double, const double* y, double* f) {
            f[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
            f[2] = 3e7 * y[1] * y[1];
            f[1] = -f[0] - f[2];
          },
          [](double, const double* y, double* j, double* dfdt) {
            j[0] = -0.04;
            j[1] = 1e4 * y[2];
            j[2] = 1e4 * y[1];
            j[6] = 0.0;
            j[7] = 6e7 * y[1];
            j[8] = 0.0;
            j[3] = -j[0] - j[6];
            j[4] = -j[1] - j[7];
            j[5] = -j[2] - j[8];
            dfdt[0] = dfdt[1] = dfdt[2] = 0.0;
          }};
}

}  // namespace drawdown::support
