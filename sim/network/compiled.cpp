// Flattening the network and evaluating it.
#include "network/compiled.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <stdexcept>

namespace drawdown::network {

namespace {
constexpr std::size_t max_factors = 8;  // of one rate law; the constructor refuses more
}

CompiledNetwork::CompiledNetwork(const Network& network)
    : species_count_(network.species.size()), input_count_(network.inputs.size()) {
  validate(network);
  std::map<std::pair<int, int>, std::uint32_t> slot_of;
  for (std::size_t i = 0; i < species_count_; ++i) slot_of[{static_cast<int>(i), static_cast<int>(i)}] = 0;
  for (const Reaction& reaction : network.reactions) {
    for (const Factor& factor : reaction.factors) {
      if (factor.symbol.is_input) continue;
      for (const Change& change : reaction.changes) slot_of[{change.species, factor.symbol.index}] = 0;
    }
  }
  pattern_.size = species_count_;
  for (auto& [position, slot] : slot_of) {
    slot = static_cast<std::uint32_t>(pattern_.entries.size());
    pattern_.entries.push_back(position);
  }

  const auto count = [](const auto& items) { return static_cast<std::uint32_t>(items.size()); };
  first_factor_.push_back(0);
  first_input_factor_.push_back(0);
  first_change_.push_back(0);
  first_slot_.push_back(0);
  for (const Reaction& reaction : network.reactions) {
    if (reaction.factors.size() > max_factors) throw std::logic_error("network: too many factors: " + reaction.name);
    constants_.push_back(reaction.constant.value);
    for (const Factor& factor : reaction.factors) {
      const FlatFactor flat{factor.kind, factor.symbol.index, factor.a.value, factor.b.value};
      if (factor.symbol.is_input) {
        input_factors_.push_back(flat);
        continue;
      }
      factors_.push_back(flat);
      for (const Change& change : reaction.changes) slots_.push_back(slot_of.at({change.species, flat.index}));
    }
    changes_.insert(changes_.end(), reaction.changes.begin(), reaction.changes.end());
    first_factor_.push_back(count(factors_));
    first_input_factor_.push_back(count(input_factors_));
    first_change_.push_back(count(changes_));
    first_slot_.push_back(count(slots_));
  }
  input_values_.reserve(input_count_);
  for (const Input& input : network.inputs) input_values_.push_back(input.rest);
  input_slopes_.assign(input_count_, 0.0);
  fold_inputs();
}

void CompiledNetwork::bind(const std::vector<double>& values, const std::vector<double>& slopes, double start) {
  if (values.size() != input_count_ || (!slopes.empty() && slopes.size() != input_count_)) {
    throw std::logic_error("network: bind() wants one value for each input");
  }
  input_values_ = values;
  if (slopes.empty()) {
    input_slopes_.assign(input_count_, 0.0);
  } else {
    input_slopes_ = slopes;
  }
  input_start_ = start;
  fold_inputs();
}

void CompiledNetwork::set_constant(std::size_t reaction, double value) {
  constants_.at(reaction) = value;
  fold_inputs();
}

void CompiledNetwork::fold_inputs() {
  folded_ = constants_;
  ramped_.clear();
  is_ramped_.assign(constants_.size(), 0);
  for (std::size_t r = 0; r < constants_.size(); ++r) {
    for (std::uint32_t f = first_input_factor_[r]; f < first_input_factor_[r + 1]; ++f) {
      const FlatFactor& factor = input_factors_[f];
      const auto i = static_cast<std::size_t>(factor.index);
      if (input_slopes_[i] != 0.0) {
        is_ramped_[r] = 1;
        continue;
      }
      folded_[r] *= factor_value(factor.kind, input_values_[i], factor.a, factor.b);
    }
    if (is_ramped_[r] != 0) ramped_.push_back(static_cast<std::uint32_t>(r));
  }
}

double CompiledNetwork::input_at(int index, double t) const {
  const auto i = static_cast<std::size_t>(index);
  return input_values_[i] + input_slopes_[i] * (t - input_start_);
}

double CompiledNetwork::constant_at(std::size_t reaction, double t) const {
  double value = folded_[reaction];
  if (is_ramped_[reaction] == 0) return value;
  for (std::uint32_t f = first_input_factor_[reaction]; f < first_input_factor_[reaction + 1]; ++f) {
    const FlatFactor& factor = input_factors_[f];
    if (input_slopes_[static_cast<std::size_t>(factor.index)] == 0.0) continue;
    value *= factor_value(factor.kind, input_at(factor.index, t), factor.a, factor.b);
  }
  return value;
}

void CompiledNetwork::rates(double t, const double* x, double* rates) const {
  for (std::size_t r = 0; r < constants_.size(); ++r) {
    double rate = is_ramped_[r] != 0 ? constant_at(r, t) : folded_[r];
    for (std::uint32_t f = first_factor_[r]; f < first_factor_[r + 1]; ++f) {
      const FlatFactor& factor = factors_[f];
      rate *= factor_value(factor.kind, x[factor.index], factor.a, factor.b);
    }
    rates[r] = rate;
  }
}

void CompiledNetwork::derivative(double t, const double* x, double* dxdt) const {
  derivative_as<double>(t, x, dxdt);
}

void CompiledNetwork::jacobian(double t, const double* x, double* values, double* dfdt) const {
  std::fill(values, values + pattern_.entries.size(), 0.0);
  std::fill(dfdt, dfdt + species_count_, 0.0);
  std::array<double, max_factors> value{};
  for (std::size_t r = 0; r < constants_.size(); ++r) {
    const double constant = is_ramped_[r] != 0 ? constant_at(r, t) : folded_[r];
    const std::uint32_t first = first_factor_[r];
    const std::uint32_t factor_count = first_factor_[r + 1] - first;
    const std::uint32_t first_change = first_change_[r];
    const std::uint32_t change_count = first_change_[r + 1] - first_change;
    for (std::uint32_t f = 0; f < factor_count; ++f) {
      const FlatFactor& factor = factors_[first + f];
      value[f] = factor_value(factor.kind, x[factor.index], factor.a, factor.b);
    }
    const std::uint32_t* slot = slots_.data() + first_slot_[r];
    for (std::uint32_t f = 0; f < factor_count; ++f) {
      const FlatFactor& factor = factors_[first + f];
      double slope = constant * factor_slope(factor.kind, x[factor.index], factor.a, factor.b);
      for (std::uint32_t g = 0; g < factor_count; ++g) {
        if (g != f) slope *= value[g];
      }
      for (std::uint32_t c = 0; c < change_count; ++c) values[*slot++] += changes_[first_change + c].count * slope;
    }
  }
  for (const std::uint32_t r : ramped_) {
    double species_part = folded_[r];
    for (std::uint32_t f = first_factor_[r]; f < first_factor_[r + 1]; ++f) {
      species_part *= factor_value(factors_[f].kind, x[factors_[f].index], factors_[f].a, factors_[f].b);
    }
    double slope = 0.0;
    for (std::uint32_t f = first_input_factor_[r]; f < first_input_factor_[r + 1]; ++f) {
      const FlatFactor& ramping = input_factors_[f];
      const double speed = input_slopes_[static_cast<std::size_t>(ramping.index)];
      if (speed == 0.0) continue;
      double term = speed * factor_slope(ramping.kind, input_at(ramping.index, t), ramping.a, ramping.b);
      for (std::uint32_t g = first_input_factor_[r]; g < first_input_factor_[r + 1]; ++g) {
        const FlatFactor& other = input_factors_[g];
        if (g == f || input_slopes_[static_cast<std::size_t>(other.index)] == 0.0) continue;
        term *= factor_value(other.kind, input_at(other.index, t), other.a, other.b);
      }
      slope += term;
    }
    for (std::uint32_t c = first_change_[r]; c < first_change_[r + 1]; ++c) {
      dfdt[changes_[c].species] += changes_[c].count * species_part * slope;
    }
  }
}

}  // namespace drawdown::network
