// exp and log as series, with what a double cannot hold of the large terms carried along in a second one.
#include "network/elementary.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>

namespace drawdown::elementary {

namespace {

// An unevaluated sum; `low` is what did not fit into `high`.
struct Pair {
  double high;
  double low;
};

// Exact (Knuth, The Art of Computer Programming 2, section 4.2.2).
Pair sum_of(double a, double b) {
  const double sum = a + b;
  const double b_in = sum - a;
  return {sum, (a - (sum - b_in)) + (b - b_in)};
}

// Exact, unless a half of it leaves the range (Dekker 1971, Numerische Mathematik 18:224).
Pair product_of(double a, double b) {
  constexpr double split = 134217729.0;  // 2^27 + 1
  const double a_wide = split * a;
  const double b_wide = split * b;
  const double a_high = a_wide - (a_wide - a);
  const double b_high = b_wide - (b_wide - b);
  const double a_low = a - a_high;
  const double b_low = b - b_high;
  const double product = a * b;
  return {product, ((a_high * b_high - product) + a_high * b_low + a_low * b_high) + a_low * b_low};
}

// log 2 = high + low; the product of high with a whole number below 2^16 is exact.
constexpr double log2_high = 0x1.62e42fefap-1;
constexpr double log2_low = 0x1.cf79abc9e3b3ap-40;
constexpr double infinity = std::numeric_limits<double>::infinity();
constexpr double not_a_number = std::numeric_limits<double>::quiet_NaN();

std::uint64_t bits_of(double x) {
  std::uint64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  return bits;
}

double from_bits(std::uint64_t bits) {
  double x = 0.0;
  std::memcpy(&x, &bits, sizeof x);
  return x;
}

// 2^k for k from -1022 to 1023.
double two_to(int k) {
  return from_bits(static_cast<std::uint64_t>(k + 1023) << 52U);
}

// log x for a positive, finite x: m 2^k with m from 0.7 to 1.4, log m = 2 artanh s, s = (m - 1) / (m + 1).
Pair log_of(double x) {
  int k = 0;
  if (x < std::numeric_limits<double>::min()) {
    x *= 0x1p54;
    k -= 54;
  }
  const std::uint64_t bits = bits_of(x);
  k += static_cast<int>(bits >> 52U) - 1023;
  double m = from_bits((bits & 0x000FFFFFFFFFFFFFU) | 0x3FF0000000000000U);
  if (m > 1.4142135623730951) {
    m *= 0.5;
    k += 1;
  }
  const double above = m - 1.0;  // exact
  const Pair below = sum_of(m, 1.0);
  const double s = above / below.high;
  const Pair back = product_of(s, below.high);
  const double s_low = (((above - back.high) - back.low) - s * below.low) / below.high;
  // artanh s = s + s^3 / 3 + s^5 / 5 + ...; s^2 is below 0.0295.
  const double z = s * s;
  double series = 0.0;
  for (double odd = 27.0; odd >= 3.0; odd -= 2.0) series = series * z + 1.0 / odd;
  const Pair large = sum_of(k * log2_high, 2.0 * s);
  return sum_of(large.high, large.low + (k * log2_low + 2.0 * (s_low + s * z * series)));
}

// e^(x + low): 2^k e^r with r from -0.35 to 0.35.
double exp_of(double x, double low) {
  if (x > 710.0) return infinity;
  if (x < -746.0) return 0.0;
  const double turns = x * 1.4426950408889634;
  const int k = static_cast<int>(turns < 0.0 ? turns - 0.5 : turns + 0.5);
  const Pair rest = sum_of(x, -k * log2_high);
  const Pair r = sum_of(rest.high, rest.low + (low - k * log2_low));
  // e^r = 1 + r + r^2 / 2 + r^3 (1 / 3! + r / 4! + ...); the factorials are exact.
  double factorial = 355687428096000.0;  // 17!
  double series = 0.0;
  for (double n = 17.0; n >= 3.0; n -= 1.0) {
    series = series * r.high + 1.0 / factorial;
    factorial /= n;
  }
  const Pair square = product_of(r.high, r.high);
  const Pair first = sum_of(1.0, r.high);
  const Pair second = sum_of(first.high, 0.5 * square.high);
  const double small = r.low + r.low * r.high + 0.5 * square.low + square.high * r.high * series;
  const double m = second.high + (second.low + (first.low + small));
  if (k > 1023) return m * two_to(1023) * 2.0;
  if (k < -1021) return m * two_to(k + 64) * 0x1p-64;  // below the normal numbers it is rounded once more
  return m * two_to(k);
}

}  // namespace

double exp(double x) {
  return std::isnan(x) ? x : exp_of(x, 0.0);
}

double log(double x) {
  if (!(x >= 0.0)) return not_a_number;
  if (x == 0.0) return -infinity;
  return x == infinity ? x : log_of(x).high;
}

double power(double base, double exponent) {
  if (!(base > 0.0) || std::isnan(exponent)) return not_a_number;
  if (exponent == 0.0 || base == 1.0) return 1.0;
  if (base == infinity) return exponent > 0.0 ? infinity : 0.0;
  const Pair l = log_of(base);
  const double rough = exponent * l.high;
  if (!(rough < 710.0)) return infinity;
  if (!(rough > -746.0)) return 0.0;
  const Pair p = product_of(exponent, l.high);
  return exp_of(p.high, p.low + exponent * l.low);
}

}  // namespace drawdown::elementary
