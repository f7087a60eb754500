// The network flattened for speed: rates, derivative, exact Jacobian and time derivative from flat arrays.
// Inputs are bound for a stretch of time: the factors that read a held input are folded into the rate constant, only
// factors on a ramping input are evaluated at every call.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <vector>

#include "network/factor_value.hpp"
#include "network/network.hpp"

namespace drawdown::network {

// Positions (row, column) of the entries of a square matrix that can differ from zero, row by row.
struct Pattern {
  std::size_t size = 0;
  std::vector<std::pair<int, int>> entries;
};

class CompiledNetwork {
 public:
  // Keeps a copy of the network's numbers, not of its texts. Throws std::logic_error if `network` is not valid.
  explicit CompiledNetwork(const Network& network);

  [[nodiscard]] std::size_t species_count() const { return species_count_; }
  [[nodiscard]] std::size_t reaction_count() const { return constants_.size(); }
  [[nodiscard]] std::size_t input_count() const { return input_count_; }
  [[nodiscard]] const Pattern& pattern() const { return pattern_; }

  // From now on input i is values[i] + slopes[i] * (t - start); slopes may be empty (all held).
  void bind(const std::vector<double>& values, const std::vector<double>& slopes, double start);

  // Rates of all reactions at state x, in amount per hour. x has species_count() entries, rates reaction_count().
  void rates(double t, const double* x, double* rates) const;
  void derivative(double t, const double* x, double* dxdt) const;
  // values[k] is the entry at pattern().entries[k]; dfdt is the derivative's explicit time derivative (ramps).
  void jacobian(double t, const double* x, double* values, double* dfdt) const;

  // The derivative for any number type (the tests' dual numbers), from the same arrays.
  template <class Number>
  void derivative_as(double t, const Number* x, Number* dxdt) const {
    for (std::size_t i = 0; i < species_count_; ++i) dxdt[i] = Number(0.0);
    for (std::size_t r = 0; r < constants_.size(); ++r) {
      Number rate(constant_at(r, t));
      for (std::uint32_t f = first_factor_[r]; f < first_factor_[r + 1]; ++f) {
        const FlatFactor& factor = factors_[f];
        rate = rate * factor_value(factor.kind, x[factor.index], factor.a, factor.b);
      }
      for (std::uint32_t c = first_change_[r]; c < first_change_[r + 1]; ++c) {
        dxdt[changes_[c].species] = dxdt[changes_[c].species] + changes_[c].count * rate;
      }
    }
  }

  // Multiplies the constant of one reaction (calibration and the tests that switch chapters off).
  void set_constant(std::size_t reaction, double value);

 private:
  struct FlatFactor {
    FactorKind kind;
    int index;
    double a;
    double b;
  };
  [[nodiscard]] double constant_at(std::size_t reaction, double t) const;
  [[nodiscard]] double input_at(int index, double t) const;
  void fold_inputs();

  std::size_t species_count_ = 0;
  std::size_t input_count_ = 0;
  std::vector<double> constants_;  // as written
  std::vector<double> folded_;     // times every held input factor
  std::vector<FlatFactor> factors_;
  std::vector<std::uint32_t> first_factor_;
  std::vector<FlatFactor> input_factors_;
  std::vector<std::uint32_t> first_input_factor_;
  std::vector<Change> changes_;
  std::vector<std::uint32_t> first_change_;
  std::vector<std::uint32_t> slots_;  // for each (factor, change): where its term goes in the Jacobian values
  std::vector<std::uint32_t> first_slot_;
  std::vector<std::uint32_t> ramped_;  // reactions with a factor on a ramping input
  std::vector<char> is_ramped_;
  Pattern pattern_;
  std::vector<double> input_values_;
  std::vector<double> input_slopes_;
  double input_start_ = 0.0;
};

}  // namespace drawdown::network
