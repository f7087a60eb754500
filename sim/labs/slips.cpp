// Distances in decades.
#include "labs/slips.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::labs {

namespace {

constexpr double half_a_factor = 0.5;    // decades: a factor of the square root of 10
constexpr double least_plausible = 1.5;  // decades below what is common

double factor_of(double decades) {
  const double size = std::abs(decades);
  if (size < 1.5 || size >= 3.5) return 1.0;
  const double factor = size < 2.5 ? 100.0 : 1000.0;
  return decades > 0 ? factor : 1.0 / factor;
}

// The middle of the largest group, in sorted logarithms.
double reference_of(const std::vector<double>& sorted, double common) {
  std::size_t most = 0;
  double nearest = 0.0;
  double middle = common;
  std::size_t from = 0;
  std::size_t to = 0;
  for (const double centre : sorted) {
    while (sorted[from] < centre - half_a_factor) from += 1;
    while (to < sorted.size() && sorted[to] <= centre + half_a_factor) to += 1;
    const std::size_t count = to - from;
    const double here = 0.5 * (sorted[from + (count - 1) / 2] + sorted[from + count / 2]);
    const double away = std::abs(here - common);
    if (count < most || (count == most && away >= nearest)) continue;
    most = count;
    nearest = away;
    middle = here;
  }
  return middle;
}

}  // namespace

SlipFactors slip_factors(const std::vector<double>& values, double common, double most) {
  SlipFactors out;
  out.factors.assign(values.size(), 1.0);
  const double usual = std::log10(common);
  std::vector<double> plausible;
  for (const double v : values) {
    if (v <= most && std::log10(v) > usual - least_plausible) plausible.push_back(std::log10(v));
  }
  std::sort(plausible.begin(), plausible.end());
  out.from_common = plausible.empty();
  const double reference = reference_of(plausible, usual);
  for (std::size_t i = 0; i < values.size(); ++i) out.factors[i] = factor_of(std::log10(values[i]) - reference);
  return out;
}

}  // namespace drawdown::labs
