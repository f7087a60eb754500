// The variational equations along a finished run: s' = J(x(t)) s + push(t), on the plasma volume as it usually is (what
// a volume that moves dilutes is left out). A system for the solver; the push says what is varied.
#pragma once

#include <functional>
#include <vector>

#include "simulate.hpp"
#include "solve/solve.hpp"
#include "solve/system.hpp"

namespace drawdown::study {

class Variation final : public solve::System {
 public:
  // The run at a time: its state, its reactions' rates, and how the derivative moves along `slopes` of the inputs.
  struct Point {
    const std::vector<double>& state;
    const std::vector<double>& rates;         // in the network's order, an hour
    const std::vector<double>& along_slopes;  // by species
  };
  // Fills the push by species, an hour; t in hours, before 0 at the settled start.
  using Push = std::function<void(double t, const Point& at, std::vector<double>& push)>;
  // `slopes`: a number an input, for along_slopes.
  Variation(const Run& run, std::vector<double> slopes, Push push);

  [[nodiscard]] const network::Pattern& pattern() const override { return bound_.pattern(); }
  void derivative(double t, const double* s, double* dsdt) const override;
  void jacobian(double t, const double* s, double* values, double* dfdt) const override;

 private:
  void along_run(double t) const;
  const Run& run_;
  std::vector<double> slopes_;
  Push push_of_;
  scenario::Timeline now_;
  mutable network::Bound<double> bound_;
  mutable std::vector<double> x_, values_, rates_, along_, push_;
};

// Follows it from s at `from` to `to` (hours), each stretch between the story's events by itself; s and the course are
// taken on. Throws std::runtime_error if the solver cannot.
void follow(const Variation& variation, const Run& run, solve::Solver& solver, const solve::Options& options,
            double from, double to, std::vector<double>& s, solve::Course& course);

}  // namespace drawdown::study
