// The value of one factor, for any number type: doubles when running, dual numbers when the tests check derivatives.
// The slope below is the derivative written out; the tests hold the two against each other.
#pragma once

#include "network/network.hpp"

namespace drawdown::network {

template <class Number>
Number factor_value(FactorKind kind, const Number& x, double a, double b) {
  if (kind == FactorKind::first_order) return x;
  if (kind == FactorKind::reciprocal) return 1.0 / x;
  const Number y = x < 0.0 ? Number(0.0) : x;
  switch (kind) {
    case FactorKind::saturating:
      return y / (a + y);
    case FactorKind::repressing: {
      const Number z = y / a;
      return b == 2.0 ? 1.0 / (1.0 + z * z) : 1.0 / (1.0 + z);
    }
    case FactorKind::gain:
      return 1.0 + a * y;
    default:
      return a + (1.0 - a) / b * y;
  }
}

inline double factor_slope(FactorKind kind, double x, double a, double b) {
  if (kind == FactorKind::first_order) return 1.0;
  if (kind == FactorKind::reciprocal) return -1.0 / (x * x);
  if (x < 0.0) return 0.0;
  switch (kind) {
    case FactorKind::saturating:
      return a / ((a + x) * (a + x));
    case FactorKind::repressing: {
      const double z = x / a;
      const double value = b == 2.0 ? 1.0 / (1.0 + z * z) : 1.0 / (1.0 + z);
      return b == 2.0 ? -2.0 * z / a * value * value : -value * value / a;
    }
    case FactorKind::gain:
      return a;
    default:
      return (1.0 - a) / b;
  }
}

}  // namespace drawdown::network
