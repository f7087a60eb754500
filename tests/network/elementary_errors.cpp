#include "network/elementary_errors.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>
#include <limits>
#include <random>

#include "network/elementary.hpp"

namespace drawdown::support {

namespace {

static_assert(std::numeric_limits<long double>::digits >= 64, "the long double must see behind a double's last bit");

// Places on the line of doubles, for counting what lies between two of the same sign.
long place(double x) {
  std::int64_t bits = 0;
  std::memcpy(&bits, &x, sizeof bits);
  return static_cast<long>(bits);
}

void compare(ElementaryError& error, double argument, double ours, long double exact) {
  error.arguments += 1;
  const auto nearest = static_cast<double>(exact);
  if (std::isinf(nearest) && ours == nearest) return;
  const long steps = std::signbit(ours) == std::signbit(nearest) ? std::abs(place(ours) - place(nearest))
                                                                 : std::numeric_limits<long>::max();
  if (steps > 0) error.not_nearest += 1;
  error.most_steps = std::max(error.most_steps, steps);
  const double unit = std::nextafter(std::abs(nearest), std::numeric_limits<double>::infinity()) - std::abs(nearest);
  const auto off =
      static_cast<double>(std::abs(static_cast<long double>(ours) - exact) / static_cast<long double>(unit));
  if (!(off <= error.most)) {
    error.most = off;
    error.at = argument;
  }
}

// From 0 to 1 with 53 bits; the library's distributions differ from system to system.
double share(std::mt19937_64& random) {
  return static_cast<double>(random() >> 11U) * 0x1p-53;
}

// A positive finite double by its bits, subnormal ones too.
double any_size(std::mt19937_64& random) {
  const std::uint64_t bits = random() % 0x7FF0000000000000U;
  double x = 0.0;
  std::memcpy(&x, &bits, sizeof x);
  return x > 0.0 ? x : 1.0;
}

// A few doubles above or below.
double beside(std::mt19937_64& random, double x) {
  const auto steps = static_cast<int>(random() % 9U) - 4;
  for (int i = 0; i < std::abs(steps); ++i) x = std::nextafter(x, steps * 1e308 * 10.0);
  return x;
}

double argument_of_exp(std::mt19937_64& random) {
  switch (random() % 4U) {
    case 0:  // where it is neither nothing nor too large
      return -745.2 + share(random) * (709.79 + 745.2);
    case 1:
      return 4.0 * share(random) - 2.0;
    case 2:  // where the whole number of halvings changes
      return beside(random, (std::floor(share(random) * 2098.0) - 1074.5) * 0.69314718055994531);
    default: {  // any size, down to the smallest
      const double x = any_size(random);
      const double small = x < 700.0 ? x : 1.0 / x;
      return random() % 2U == 0 ? small : -small;
    }
  }
}

double argument_of_log(std::mt19937_64& random) {
  switch (random() % 4U) {
    case 0:
      return any_size(random);
    case 1:
      return 0.5 + share(random) * 1.5;
    case 2:  // near 1, closer and closer
      return 1.0 + (share(random) - 0.5) * std::ldexp(1.0, -static_cast<int>(random() % 50U));
    default:  // where the power of 2 taken out changes
      return beside(
          random, std::ldexp(random() % 2U == 0 ? 1.0 : 1.4142135623730951, static_cast<int>(random() % 2000U) - 1000));
  }
}

}  // namespace

std::vector<ElementaryError> elementary_errors(std::size_t count) {
  std::mt19937_64 random(20);
  std::vector<ElementaryError> errors(3);
  errors[0].name = "exp";
  errors[1].name = "log";
  errors[2].name = "power";
  for (std::size_t i = 0; i < count; ++i) {
    const double x = argument_of_exp(random);
    compare(errors[0], x, elementary::exp(x), std::exp(static_cast<long double>(x)));
    const double y = argument_of_log(random);
    compare(errors[1], y, elementary::log(y), std::log(static_cast<long double>(y)));
    // A result from 1e-4 to 1e4.
    const double base = std::ldexp(0.5 + share(random), static_cast<int>(random() % 40U) - 20);
    const double exponent = base == 1.0 ? 1.0 : (18.4 * share(random) - 9.2) / std::log(base);
    compare(errors[2], exponent, elementary::power(base, exponent),
            std::pow(static_cast<long double>(base), static_cast<long double>(exponent)));
  }
  return errors;
}

}  // namespace drawdown::support
