// A plan with its numbers: constants and inputs of one person, on a number type V. Rates, derivative, exact Jacobian
// and time derivative. Inputs are bound for a stretch of time: the factors that read a held input are folded into the
// rate constant, only factors on a moving input are evaluated at every call.
//
// While the plasma volume moves, every species per litre is diluted: -x V'/V on its derivative, over and above the
// rates.
//
// V needs +, *, / among themselves and with double, and if_negative (factor_value.hpp). Sums run in the plan's order,
// so the same numbers give the same bits wherever this runs, and in whichever lane: a lane's numbers are those it would
// have by itself, whatever moves in the others. Times are doubles or, where each lane has its own, V. Not for two
// threads at once: it keeps its workspace.
#pragma once

#include <algorithm>
#include <memory>
#include <stdexcept>
#include <vector>

#include "network/factor_value.hpp"
#include "network/plan.hpp"

namespace drawdown::network {

template <class V>
class Bound {
 public:
  // All inputs at rest.
  explicit Bound(std::shared_ptr<const Plan> plan) : plan_(std::move(plan)) {
    const Plan& p = *plan_;
    for (const double c : p.constants) constants_.push_back(V(c));
    values_.assign(p.species + p.terms.size(), V(0.0));
    slopes_.assign(values_.size(), V(1.0));
    folded_ = now_ = rates_ = constants_;
    partials_.assign(p.partials.size(), V(0.0));
    base_.assign(p.pattern.entries.size(), V(0.0));
    for (const double rest : p.rests) inputs_.push_back(V(rest));
    speeds_.assign(p.inputs, V(0.0));
    moving_.assign(p.inputs, 0);
    moves_.assign(p.inputs, V(1.0));
    is_ramped_.assign(p.reactions(), V(1.0));
    unused_.assign(p.species, V(0.0));
    stale_.assign(p.reactions(), 0);
    fold();
    find_readers();
  }

  [[nodiscard]] const Plan& plan() const { return *plan_; }
  [[nodiscard]] const Pattern& pattern() const { return plan_->pattern; }
  // Room for a state: one that is written here and asked about here need not be copied.
  [[nodiscard]] V* room() { return values_.data(); }

  // From now on input i is values[i] + slopes[i] * (t - start); slopes may be empty (all held). Throws std::logic_error
  // on a wrong number of inputs.
  void bind(const std::vector<V>& values, const std::vector<V>& slopes, double start) {
    if (values.size() != plan_->inputs || (!slopes.empty() && slopes.size() != plan_->inputs)) {
      throw std::logic_error("network: bind() wants one value for each input");
    }
    inputs_ = values;
    std::fill(speeds_.begin(), speeds_.end(), V(0.0));
    std::copy(slopes.begin(), slopes.end(), speeds_.begin());
    for (std::size_t i = 0; i < moving_.size(); ++i) {
      moving_[i] = speeds_[i] == V(0.0) ? 0 : 1;
      moves_[i] = V(moving_[i] != 0 ? -1.0 : 1.0);
    }
    start_ = V(start);
    fold();
  }

  // The same of one lane alone. `values` and `slopes` have one number an input; `start` is that lane's time.
  void bind_lane(std::size_t lane, const double* values, const double* slopes, double start) {
    const Plan& p = *plan_;
    set_lane(start_, lane, start);
    for (std::size_t i = 0; i < p.inputs; ++i) {
      const bool moved = lane_of(moves_[i], lane) < 0.0;
      const bool moves = slopes[i] != 0.0;
      const bool same = moves == moved && (moves || values[i] == lane_of(inputs_[i], lane));
      set_lane(inputs_[i], lane, values[i]);
      set_lane(speeds_[i], lane, slopes[i]);
      if (same) continue;
      set_lane(moves_[i], lane, moves ? -1.0 : 1.0);
      moving_[i] = largest_of(-1.0 * moves_[i]) > 0.0 ? 1 : 0;
      for (std::uint32_t k = first_reader_[i]; k < first_reader_[i + 1]; ++k) stale_[readers_[k]] = 1;
    }
    for (std::uint32_t r = 0; r < p.reactions(); ++r) {
      if (stale_[r] != 0) fold_lane(r, lane);
      stale_[r] = 0;
    }
    refolded_ = true;
    look_for_dilution();
  }

  // Replaces the constant of one reaction, by its index in the network (calibration, and the tests that switch chapters
  // off).
  void set_constant(std::size_t reaction, const V& value) {
    constants_.at(plan_->place_of.at(reaction)) = value;
    fold();
  }

  // Rates of all reactions at state x, in amount per hour, in the network's order.
  template <class Time>
  void rates(const Time& t, const V* x, V* rates) {
    evaluate<false>(t, x);
    for (std::size_t r = 0; r < rates_.size(); ++r) rates[plan_->written_as[r]] = rates_[r];
  }
  template <class Time>
  void derivative(const Time& t, const V* x, V* dxdt) {
    evaluate<false>(t, x);
    sum_changes(dxdt);
    if (dilutes_) {
      const Dilution by = dilution(t);
      for (const Plan::Diluted& d : plan_->diluted) dxdt[d.species] = dxdt[d.species] - by.now * x[d.species];
    }
  }
  // derivative() and, in values, the entries at pattern().entries; dfdt is the derivative's explicit time derivative.
  template <class Time>
  void linearise(const Time& t, const V* x, V* dxdt, V* values, V* dfdt) {
    evaluate<true>(t, x);
    sum_changes(dxdt);
    sum_jacobian(values);
    time_derivative(t, values, dfdt);
    if (dilutes_) {
      const Dilution by = dilution(t);
      for (const Plan::Diluted& d : plan_->diluted) {
        dxdt[d.species] = dxdt[d.species] - by.now * x[d.species];
        values[d.entry] = values[d.entry] - by.now;
        dfdt[d.species] = dfdt[d.species] - by.slope * x[d.species];
      }
    }
  }
  template <class Time>
  void jacobian(const Time& t, const V* x, V* values, V* dfdt) {
    linearise(t, x, unused_.data(), values, dfdt);
  }

  // The plasma volume as a share of the usual, with the inputs as bound now.
  [[nodiscard]] V volume(double t) const {
    V share(1.0);
    for (const Plan::InputFactor& f : plan_->volume) share = share * factor_on_input(f, t).value;
    return share;
  }
  // What a jump of the volume at t from `before` to what it is as bound now does to a state: the same grams in other
  // litres. A difference in the last digits is none: a ramp cut in two.
  void dilute(const V& before, double t, V* x) const {
    const V by = before / volume(t);
    const V off = by - V(1.0);
    if (largest_of(off * off) < 1e-24) return;
    for (const Plan::Diluted& d : plan_->diluted) x[d.species] = x[d.species] * by;
  }

 private:
  // Of a lane in which the input is held the value is 1: it is folded already.
  template <class Time>
  [[nodiscard]] FactorValue<V> factor_on_moving(const Plan::InputFactor& f, const Time& t) const {
    const V now = inputs_[f.input] + speeds_[f.input] * (t - start_);
    const FactorValue<V> of = factor_value(f.kind, now, f.a, f.b);
    return {if_negative(moves_[f.input], of.value, V(1.0)), of.slope};
  }

  // Of a lane in which the input is held its speed is 0.
  template <class Time>
  [[nodiscard]] FactorValue<V> factor_on_input(const Plan::InputFactor& f, const Time& t) const {
    return factor_value(f.kind, inputs_[f.input] + speeds_[f.input] * (t - start_), f.a, f.b);
  }
  void look_for_dilution() {
    dilutes_ = false;
    for (const Plan::InputFactor& f : plan_->volume) dilutes_ = dilutes_ || moving_[f.input] != 0;
  }

  // Which reactions read an input.
  void find_readers() {
    const Plan& p = *plan_;
    first_reader_.assign(p.inputs + 1, 0);
    for (const Plan::InputFactor& f : p.input_factors) first_reader_[f.input + 1U] += 1;
    for (std::size_t i = 0; i < p.inputs; ++i) first_reader_[i + 1] += first_reader_[i];
    std::vector<std::uint32_t> next(first_reader_.begin(), first_reader_.end() - 1);
    readers_.resize(p.input_factors.size());
    for (std::uint32_t r = 0; r < p.reactions(); ++r) {
      for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
        readers_[next[p.input_factors[f].input]++] = r;
      }
    }
  }

  void fold() {
    const Plan& p = *plan_;
    look_for_dilution();
    for (std::uint32_t r = 0; r < p.reactions(); ++r) {
      V constant = constants_[r];
      bool ramped = false;
      for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
        const Plan::InputFactor& factor = p.input_factors[f];
        if (moving_[factor.input] != 0) {
          ramped = true;
        } else {
          constant = constant * factor_value(factor.kind, inputs_[factor.input], factor.a, factor.b).value;
        }
      }
      folded_[r] = now_[r] = constant;
      is_ramped_[r] = V(ramped ? -1.0 : 1.0);
    }
    sum_folded();
  }
  void fold_lane(std::uint32_t r, std::size_t lane) {
    const Plan& p = *plan_;
    double constant = lane_of(constants_[r], lane);
    bool ramped = false;
    for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
      const Plan::InputFactor& factor = p.input_factors[f];
      if (lane_of(moves_[factor.input], lane) < 0.0) {
        ramped = true;
      } else {
        constant *= factor_value(factor.kind, lane_of(inputs_[factor.input], lane), factor.a, factor.b).value;
      }
    }
    set_lane(folded_[r], lane, constant);
    set_lane(now_[r], lane, constant);
    set_lane(is_ramped_[r], lane, ramped ? -1.0 : 1.0);
  }
  // Which reactions are ramped in any lane, and the part of the Jacobian that stays what it is: each lane's without the
  // reactions that are ramped in it.
  void sum_folded() {
    const Plan& p = *plan_;
    ramped_.clear();
    std::fill(base_.begin(), base_.end(), V(0.0));
    for (std::uint32_t r = 0; r < p.reactions(); ++r) {
      for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
        if (moving_[p.input_factors[f].input] == 0) continue;
        ramped_.push_back(r);
        break;
      }
      if (p.first_linear[r] == p.first_linear[r + 1]) continue;
      const V still = if_negative(is_ramped_[r], V(0.0), folded_[r]);
      for (std::uint32_t l = p.first_linear[r]; l < p.first_linear[r + 1]; ++l) {
        base_[p.linear[l].from] = base_[p.linear[l].from] + p.linear[l].count * still;
      }
    }
    refolded_ = false;
  }

  // Constants now, values and (if asked for) slopes of all operands, rates.
  template <bool slopes, class Time>
  void evaluate(const Time& t, const V* x) {
    if (refolded_) sum_folded();
    const Plan& p = *plan_;
    for (const std::uint32_t r : ramped_) {
      V constant = folded_[r];
      for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
        if (moving_[p.input_factors[f].input] != 0) constant = constant * factor_on_moving(p.input_factors[f], t).value;
      }
      now_[r] = constant;
    }
    if (x != values_.data()) std::copy(x, x + p.species, values_.begin());
    V* value = values_.data() + p.species;
    [[maybe_unused]] V* slope = slopes_.data() + p.species;
    for (const Plan::Term& term : p.terms) {
      const FactorValue<V> of = factor_value(term.kind, x[term.species], term.a, term.b);
      *value++ = of.value;
      if constexpr (slopes) *slope++ = of.slope;
    }
    const V* v = values_.data();
    const V* k = now_.data();
    const std::uint16_t* o = p.operands.data();
    V* out = rates_.data();
    std::uint32_t r = 0;
    for (; r < p.first[1]; ++r) out[r] = k[r];
    for (; r < p.first[2]; ++r, o += 1) out[r] = k[r] * v[o[0]];
    for (; r < p.first[3]; ++r, o += 2) out[r] = k[r] * v[o[0]] * v[o[1]];
    for (; r < p.first[4]; ++r, o += 3) out[r] = k[r] * v[o[0]] * v[o[1]] * v[o[2]];
    for (std::size_t arity = 4; arity <= Plan::most_operands; ++arity) {
      for (; r < p.first[arity + 1]; ++r, o += arity) {
        V rate = k[r];
        for (std::size_t i = 0; i < arity; ++i) rate = rate * v[o[i]];
        out[r] = rate;
      }
    }
  }

  void sum_changes(V* dxdt) const {
    const Plan& p = *plan_;
    const Plan::Part* part = p.changes.data();
    for (std::size_t i = 0; i < p.species; ++i) {
      V sum(0.0);
      for (const Plan::Part* end = p.changes.data() + p.first_change[i + 1]; part < end; ++part) {
        sum = sum + part->count * rates_[part->from];
      }
      dxdt[i] = sum;
    }
  }

  // V'/V per hour and its slope in time: the sums of the factors' own, as each factor is straight.
  struct Dilution {
    V now = V(0.0), slope = V(0.0);
  };
  template <class Time>
  [[nodiscard]] Dilution dilution(const Time& t) const {
    Dilution all;
    for (const Plan::InputFactor& f : plan_->volume) {
      if (moving_[f.input] == 0) continue;
      const FactorValue<V> of = factor_on_input(f, t);
      const V grows = speeds_[f.input] * of.slope / of.value;
      all.now = all.now + grows;
      all.slope = all.slope - grows * grows;
    }
    return all;
  }

  // After evaluate() at the same place.
  void sum_jacobian(V* values) {
    const Plan& p = *plan_;
    const V* v = values_.data();
    const V* d = slopes_.data();
    const Plan::Partial* q = p.partials.data();
    std::uint32_t i = 0;
    for (std::size_t others = 0; others + 1 < p.first_partial.size(); ++others) {
      for (; i < p.first_partial[others + 1]; ++i) {
        V slope = now_[q[i].reaction] * d[q[i].by];
        for (std::size_t o = 0; o < others; ++o) slope = slope * v[q[i].others[o]];
        partials_[i] = slope;
      }
    }
    std::copy(base_.begin(), base_.end(), values);
    for (std::size_t e = 0; e < p.touched.size(); ++e) {
      V sum = values[p.touched[e]];
      for (std::uint32_t u = p.first_touch[e]; u < p.first_touch[e + 1]; ++u) {
        sum = sum + p.touches[u].count * partials_[p.touches[u].from];
      }
      values[p.touched[e]] = sum;
    }
  }

  // What moving inputs add: to linear entries of the Jacobian, and as explicit time derivative.
  template <class Time>
  void time_derivative(const Time& t, V* values, V* dfdt) const {
    const Plan& p = *plan_;
    std::fill(dfdt, dfdt + p.species, V(0.0));
    for (const std::uint32_t r : ramped_) {
      const V moving_part = if_negative(is_ramped_[r], now_[r], V(0.0));
      for (std::uint32_t l = p.first_linear[r]; l < p.first_linear[r + 1]; ++l) {
        values[p.linear[l].from] = values[p.linear[l].from] + p.linear[l].count * moving_part;
      }
      // The rate without its moving factors, times the slope of their product.
      std::size_t arity = 0;
      while (r >= p.first[arity + 1]) ++arity;
      std::size_t operand = 0;
      for (std::size_t a = 1; a < arity; ++a) operand += a * (p.first[a + 1] - p.first[a]);
      operand += arity * (r - p.first[arity]);
      V still = folded_[r];
      for (std::size_t i = 0; i < arity; ++i) still = still * values_[p.operands[operand + i]];
      V slope(0.0);
      for (std::uint32_t f = p.first_input_factor[r]; f < p.first_input_factor[r + 1]; ++f) {
        const Plan::InputFactor& moving = p.input_factors[f];
        if (moving_[moving.input] == 0) continue;
        V term = speeds_[moving.input] * factor_on_moving(moving, t).slope;
        for (std::uint32_t g = p.first_input_factor[r]; g < p.first_input_factor[r + 1]; ++g) {
          if (g == f || moving_[p.input_factors[g].input] == 0) continue;
          term = term * factor_on_moving(p.input_factors[g], t).value;
        }
        slope = slope + term;
      }
      for (std::uint32_t e = p.first_effect[r]; e < p.first_effect[r + 1]; ++e) {
        dfdt[p.effects[e].from] = dfdt[p.effects[e].from] + p.effects[e].count * still * slope;
      }
    }
  }

  std::shared_ptr<const Plan> plan_;
  std::vector<V> constants_, folded_, now_;  // by the plan's order: as set, times held inputs, at the time asked for
  std::vector<V> values_, slopes_;           // of the operands
  std::vector<V> rates_, partials_, base_, unused_;
  std::vector<V> inputs_, speeds_;
  std::vector<char> moving_;           // whether an input moves in any lane
  std::vector<V> moves_, is_ramped_;   // -1 in the lanes where an input moves, a reaction reads one that does; else 1
  std::vector<std::uint32_t> ramped_;  // reactions that are, in any lane
  std::vector<std::uint32_t> readers_, first_reader_;
  std::vector<char> stale_;
  bool refolded_ = false;  // some lane, and not yet summed
  bool dilutes_ = false;   // the plasma volume moves in any lane
  V start_ = V(0.0);
};

}  // namespace drawdown::network
