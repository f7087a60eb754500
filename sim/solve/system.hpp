// What the solver needs to know of a problem, and nothing more: size, sparsity, derivative, Jacobian.
// This narrow seam is the only place where a model and the integrator meet.
#pragma once

#include <cstddef>
#include <memory>

#include "network/compiled.hpp"

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
};

// A compiled network seen as a system.
class NetworkSystem final : public System {
 public:
  explicit NetworkSystem(const network::CompiledNetwork& compiled) : compiled_(&compiled) {}
  [[nodiscard]] const network::Pattern& pattern() const override { return compiled_->pattern(); }
  void derivative(double t, const double* x, double* dxdt) const override { compiled_->derivative(t, x, dxdt); }
  void jacobian(double t, const double* x, double* values, double* dfdt) const override {
    compiled_->jacobian(t, x, values, dfdt);
  }

 private:
  const network::CompiledNetwork* compiled_;
};

}  // namespace drawdown::solve
