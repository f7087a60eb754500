#include "study/random.hpp"

#include <Random123/philox.h>

#include <cmath>
#include <limits>

#include "network/elementary.hpp"

namespace drawdown::study {

std::array<std::uint32_t, 4> philox(const std::array<std::uint32_t, 4>& counter,
                                    const std::array<std::uint32_t, 2>& key) {
  const r123::Philox4x32::ctr_type at{{counter[0], counter[1], counter[2], counter[3]}};
  const r123::Philox4x32::key_type under{{key[0], key[1]}};
  const r123::Philox4x32::ctr_type block = r123::Philox4x32{}(at, under);
  return {block[0], block[1], block[2], block[3]};
}

namespace {

constexpr std::uint32_t low_half(std::uint64_t x) {
  return static_cast<std::uint32_t>(x & 0xFFFFFFFFU);
}
constexpr std::uint32_t high_half(std::uint64_t x) {
  return static_cast<std::uint32_t>(x >> 32U);
}

// Coefficients of the lowest power first.
using Polynomial = std::array<double, 8>;
double at(const Polynomial& p, double x) {
  double value = p[7];
  for (std::size_t i = 7; i-- > 0;) value = value * x + p[i];
  return value;
}

// Wichura's three rational approximations: about the middle in 0.180625 - q^2, and of the tails in sqrt(-log p).
struct Rational {
  Polynomial above, below;
  [[nodiscard]] double operator()(double x) const { return at(above, x) / at(below, x); }
};
constexpr Rational middle{{3.3871328727963666080, 133.14166789178437745, 1971.5909503065514427, 13731.693765509461125,
                           45921.953931549871457, 67265.770927008700853, 33430.575583588128105, 2509.0809287301226727},
                          {1.0, 42.313330701600911252, 687.18700749205790830, 5394.1960214247511077,
                           21213.794301586595867, 39307.895800092710610, 28729.085735721942674, 5226.4952788528545610}};
constexpr Rational tail{
    {1.42343711074968357734, 4.63033784615654529590, 5.76949722146069140550, 3.64784832476320460504,
     1.27045825245236838258, 0.241780725177450611770, 2.27238449892691845833e-2, 7.74545014278341407640e-4},
    {1.0, 2.05319162663775882187, 1.67638483018380384940, 0.689767334985100004550, 0.148103976427480074590,
     1.51986665636164571966e-2, 5.47593808499534494600e-4, 1.05075007164441684324e-9}};
constexpr Rational far_tail{
    {6.65790464350110377720, 5.46378491116411436990, 1.78482653991729133580, 0.296560571828504891230,
     2.65321895265761230930e-2, 1.24266094738807843860e-3, 2.71155556874348757815e-5, 2.01033439929228813265e-7},
    {1.0, 0.599832206555887937690, 0.136929880922735805310, 1.48753612908506148525e-2, 7.86869131145613259100e-4,
     1.84631831751005468180e-5, 1.42151175831644588870e-7, 2.04426310338993978564e-15}};

}  // namespace

double uniform(const Key& key, Slot of, std::uint32_t index) {
  const auto block =
      philox({low_half(key.person), high_half(key.person), of.place, index}, {low_half(key.seed), high_half(key.seed)});
  const std::uint64_t bits = (static_cast<std::uint64_t>(block[1]) << 32U | block[0]) >> 12U;
  return (static_cast<double>(bits) + 0.5) * 0x1p-52;
}

double normal_quantile(double p) {
  if (!(p > 0.0 && p < 1.0)) return std::numeric_limits<double>::quiet_NaN();
  const double q = p - 0.5;
  if (std::abs(q) <= 0.425) return q * middle(0.180625 - q * q);
  const double r = std::sqrt(-elementary::log(q < 0.0 ? p : 1.0 - p));
  const double size = r <= 5.0 ? tail(r - 1.6) : far_tail(r - 5.0);
  return q < 0.0 ? -size : size;
}

double normal(const Key& key, Slot of, std::uint32_t index) {
  return normal_quantile(uniform(key, of, index));
}

}  // namespace drawdown::study
