// What the solver needs to know of a problem, and nothing more: size, sparsity, derivative, Jacobian.
// This narrow seam is the only place where a model and the integrator meet.
#pragma once

#include <cstddef>
#include <memory>

#include "network/bound.hpp"

namespace drawdown::solve {

class System {
 public:
  System() = default;
  System(const System&) = default;
  System(System&&) = default;
  System& operator=(const System&) = default;
  System& operator=(System&&) = default;
  virtual ~System() = default;

  [[nodiscard]] virtual const network::Pattern& pattern() const = 0;
  virtual void derivative(double t, const double* x, double* dxdt) const = 0;
  // values in the order of pattern().entries; dfdt = explicit time derivative of the right-hand side.
  virtual void jacobian(double t, const double* x, double* values, double* dfdt) const = 0;
  // Both at once, where that is cheaper.
  virtual void linearise(double t, const double* x, double* dxdt, double* values, double* dfdt) const {
    derivative(t, x, dxdt);
    jacobian(t, x, values, dfdt);
  }
};

// A bound network seen as a system.
class NetworkSystem final : public System {
 public:
  explicit NetworkSystem(network::Bound<double>& bound) : bound_(&bound) {}
  [[nodiscard]] const network::Pattern& pattern() const override { return bound_->pattern(); }
  void derivative(double t, const double* x, double* dxdt) const override { bound_->derivative(t, x, dxdt); }
  void jacobian(double t, const double* x, double* values, double* dfdt) const override {
    bound_->jacobian(t, x, values, dfdt);
  }
  void linearise(double t, const double* x, double* dxdt, double* values, double* dfdt) const override {
    bound_->linearise(t, x, dxdt, values, dfdt);
  }

 private:
  network::Bound<double>* bound_;
};

}  // namespace drawdown::solve
