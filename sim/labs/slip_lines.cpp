// Each protein by itself, then the halves of a line together, then the answer.
#include "labs/slip_lines.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "labs/facts.hpp"
#include "labs/slips.hpp"

namespace drawdown::labs {

namespace {

constexpr double between_units = 100.0;  // mg/dL in 1 g/L

// How many decades a value lies outside a range.
double decades_outside(double value, const scenario::Interval& range) {
  return std::max({0.0, std::log10(range.low / value), std::log10(value / range.high)});
}
double decades_between(double a, double b) {
  return std::abs(std::log10(a / b));
}

class Lines {
 public:
  explicit Lines(std::vector<Draft>& drafts) : drafts_(drafts), found_(drafts.size()) {
    for (std::size_t p = 0; p < proteins.size(); ++p) look_at(p);
    // By what each says alone: a half that is asked about for the other's sake draws no further one along.
    const std::vector<Halves> alone = found_;
    for (std::size_t p = 0; p < proteins.size(); ++p) look_beside(p, alone);
    for (Halves& of : found_) tell_together(of);
  }

  void answer(std::optional<SlipAnswer> answer, Reading& out) {
    if (answer == SlipAnswer::keep) return;
    const bool convert = answer == SlipAnswer::convert || answer == SlipAnswer::convert_or_keep;
    for (std::size_t p = 0; p < proteins.size(); ++p) {
      for (std::size_t i = 0; i < drafts_.size(); ++i) {
        const std::optional<Slip>& slip = found_[i][p];
        if (!slip) continue;
        std::optional<Value>& value = drafts_[i].row.*proteins[p].value;
        if (slip->meant) drafts_[i].*proteins[p].divided = slip->written / *slip->meant;
        if (!slip->meant && answer == SlipAnswer::convert_or_keep) continue;
        if (slip->meant && convert) {
          out.converted.push_back(*slip);
          value->value = *slip->meant;
        } else {
          out.slips.push_back(*slip);
          value.reset();
          drafts_[i].asked = true;
        }
      }
    }
  }

 private:
  using Halves = std::array<std::optional<Slip>, 2>;

  [[nodiscard]] static Slip slip_of(const Draft& d, const Facts& of, const SlipsFound& by) {
    const Value& value = *(d.row.*of.value);
    Slip slip;
    slip.line = d.row.line;
    slip.day = d.row.day;
    slip.c4 = of.c4;
    slip.below = value.below;
    slip.or_equal = value.or_equal;
    slip.written = value.value;
    slip.times = value.value / by.reference;
    slip.from_common = by.from_common;
    slip.unit = *(d.*of.unit);
    slip.meant = meant_in_other_unit(value.value, slip.unit, by.reference, of.plausible);
    return slip;
  }

  // One protein against its other values.
  void look_at(std::size_t p) {
    const Facts& of = proteins[p];
    std::vector<double> values;
    for (const Draft& d : drafts_) {
      const auto& value = d.row.*of.value;
      if (value && !value->below) values.push_back(value->value);
    }
    const SlipsFound by = find_slips(values, of.common, of.plausible);
    std::size_t k = 0;
    for (std::size_t i = 0; i < drafts_.size(); ++i) {
      const auto& value = drafts_[i].row.*of.value;
      if (!value) continue;
      if (value->below) {
        if (value->value <= of.plausible && value->value >= of.least_limit) continue;
        found_[i][p] = slip_of(drafts_[i], of, by);
        continue;
      }
      const Slip slip = slip_of(drafts_[i], of, by);
      // Too little to be what it says, and the other unit explains it: however little the others are.
      const bool explained = slip.meant && value->value < least_plausible(of.common);
      if (by.suspected[k++] || explained) found_[i][p] = slip;
    }
  }

  // Where the half `p` of a line slipped between g/L and mg/dL: is the other half better understood with it? It is held
  // against its values on lines that give no such ground.
  void look_beside(std::size_t p, const std::vector<Halves>& alone) {
    const auto factor = [&](std::size_t i) -> std::optional<double> {
      const std::optional<Slip>& slip = alone[i][p];
      if (!slip || !slip->meant) return std::nullopt;
      const double by = slip->written / *slip->meant;
      if (std::abs(std::log10(by)) < 0.99 * std::log10(between_units) ||
          std::abs(std::log10(by)) > 1.01 * std::log10(between_units)) {
        return std::nullopt;
      }
      return by;
    };
    const std::size_t other = 1 - p;
    const Facts& of = proteins[other];
    const scenario::Laboratory common;
    const scenario::Interval& range = of.c4 ? common.c4 : common.c3;
    std::vector<double> values;
    for (std::size_t i = 0; i < drafts_.size(); ++i) {
      const auto& value = drafts_[i].row.*of.value;
      if (value && !value->below && !factor(i)) values.push_back(value->value);
    }
    const SlipsFound by = find_slips(values, of.common, of.plausible);
    for (std::size_t i = 0; i < drafts_.size(); ++i) {
      const Draft& d = drafts_[i];
      const auto& value = d.row.*of.value;
      const auto divisor = factor(i);
      if (!divisor || !value || found_[i][other] || *(d.*of.unit) != alone[i][p]->unit) continue;
      const double meant = value->value / *divisor;
      const bool nearer_others = decades_between(meant, by.reference) < decades_between(value->value, by.reference);
      const bool nearer_range = decades_outside(meant, range) < decades_outside(value->value, range);
      if (meant > of.plausible || (!nearer_others && !nearer_range)) continue;
      found_[i][other] = slip_of(d, of, by);
      found_[i][other]->meant = meant;
    }
  }

  // One question for both halves, if one factor explains them.
  static void tell_together(Halves& halves) {
    std::optional<Slip>& c3 = halves[0];
    std::optional<Slip>& c4 = halves[1];
    if (!c3 || !c4 || !c3->meant || !c4->meant || c3->unit != c4->unit) return;
    if (decades_between(c3->written / *c3->meant, c4->written / *c4->meant) > 0.01) return;
    const auto half = [](const Slip& s) { return Slip::Half{s.below, s.or_equal, s.written, *s.meant}; };
    c3->other = half(*c4);
    c4->other = half(*c3);
    c4->told = true;
  }

  std::vector<Draft>& drafts_;
  std::vector<Halves> found_;  // by draft: C3, C4
};

}  // namespace

void settle_slips(std::vector<Draft>& drafts, std::optional<SlipAnswer> answer, Reading& out) {
  Lines(drafts).answer(answer, out);
}

}  // namespace drawdown::labs
