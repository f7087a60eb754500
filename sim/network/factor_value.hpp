// The value of one factor and its slope, for any number type: doubles when running, dual numbers when the tests check
// derivatives, several people at once. The one place where the kinds of rate law are written out.
#pragma once

#include <array>
#include <cmath>
#include <cstddef>
#include <cstring>

#include "network/network.hpp"

namespace drawdown::network {

// a where v is below zero, else b. Number types that hold several numbers choose for each.
template <class Number>
[[nodiscard]] inline Number if_negative(const Number& v, const Number& a, const Number& b) {
  return v < 0.0 ? a : b;
}

// Whether it is finite; of a number type that holds several, whether all are.
[[nodiscard]] inline bool all_finite(double v) {
  return std::isfinite(v);
}
// The largest it holds.
[[nodiscard]] inline double largest_of(double v) {
  return v;
}
// How many it holds, one of them, one of them set, and all of them.
template <class Number>
inline constexpr std::size_t lanes_of = 1;
[[nodiscard]] inline double lane_of(double v, std::size_t /*lane*/) {
  return v;
}
inline void set_lane(double& v, std::size_t /*lane*/, double value) {
  v = value;
}
template <class Number>
[[nodiscard]] inline Number from_lanes(const std::array<double, lanes_of<Number>>& lanes) {
  Number v;
  static_assert(sizeof v == sizeof lanes);
  std::memcpy(&v, lanes.data(), sizeof v);
  return v;
}

template <class Number>
struct FactorValue {
  Number value;
  Number slope;  // d value / d x
};

// What of it is not used costs nothing once inlined.
template <class Number>
[[nodiscard]] inline FactorValue<Number> factor_value(FactorKind kind, const Number& x, double a, double b) {
  if (kind == FactorKind::first_order) return {x, Number(1.0)};
  if (kind == FactorKind::reciprocal) {
    const Number inverse = 1.0 / x;
    return {inverse, -1.0 * inverse * inverse};
  }
  const Number zero(0.0);
  const Number y = if_negative(x, zero, x);
  switch (kind) {
    case FactorKind::saturating: {
      const Number d = 1.0 / (a + y);
      return {y * d, if_negative(x, zero, a * d * d)};
    }
    case FactorKind::repressing: {
      const Number z = y * (1.0 / a);
      const bool squared = b == 2.0;
      const Number d = 1.0 / (1.0 + (squared ? z * z : z));
      return {d, if_negative(x, zero, squared ? (-2.0 / a) * z * d * d : (-1.0 / a) * d * d)};
    }
    case FactorKind::gain:
      return {1.0 + a * y, if_negative(x, zero, Number(a))};
    default: {  // floor
      const double up = (1.0 - a) / b;
      return {a + up * y, if_negative(x, zero, Number(up))};
    }
  }
}

}  // namespace drawdown::network
