#include "scenario/decimal.hpp"

#include <cstdint>

namespace drawdown::scenario {

std::optional<double> read_decimal(std::string_view text) {
  constexpr std::uint64_t too_large = std::uint64_t{1} << 53U;
  constexpr int most_tens = 22;  // 10^22 is the largest power of ten that is a double
  std::size_t at = 0;
  const auto next = [&] { return at < text.size() ? text[at] : '\0'; };
  const auto is_digit = [](char c) { return c >= '0' && c <= '9'; };
  const bool negative = next() == '-';
  if (negative) ++at;
  std::uint64_t whole = 0;
  int tens = 0;
  bool any = false;
  bool after_point = false;
  for (; is_digit(next()) || (next() == '.' && !after_point); ++at) {
    if (next() == '.') {
      after_point = true;
      continue;
    }
    any = true;
    whole = 10 * whole + static_cast<std::uint64_t>(next() - '0');
    if (whole >= too_large) return std::nullopt;
    if (after_point) --tens;
    if (tens < -1000) return std::nullopt;
  }
  if (!any) return std::nullopt;
  if (next() == 'e' || next() == 'E') {
    ++at;
    const bool down = next() == '-';
    if (down || next() == '+') ++at;
    if (!is_digit(next())) return std::nullopt;
    int exponent = 0;
    for (; is_digit(next()); ++at) {
      exponent = 10 * exponent + (next() - '0');
      if (exponent > 1000) return std::nullopt;
    }
    tens += down ? -exponent : exponent;
  }
  if (at != text.size() || tens > most_tens || tens < -most_tens) return std::nullopt;
  double power = 1.0;
  for (int i = 0; i < (tens < 0 ? -tens : tens); ++i) power *= 10.0;
  const auto digits = static_cast<double>(whole);
  const double value = tens < 0 ? digits / power : digits * power;
  return negative ? -value : value;
}

}  // namespace drawdown::scenario
