// Distances in decades.
#include "labs/slips.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::labs {

namespace {

// The median of the others, in sorted logarithms.
double median_without(const std::vector<double>& sorted, double one) {
  const auto place = static_cast<std::size_t>(std::lower_bound(sorted.begin(), sorted.end(), one) - sorted.begin());
  const std::size_t n = sorted.size() - 1;
  const auto at = [&](std::size_t k) { return sorted[k < place ? k : k + 1]; };
  return n % 2 == 1 ? at(n / 2) : 0.5 * (at(n / 2 - 1) + at(n / 2));
}

double factor_of(double decades) {
  const double size = std::abs(decades);
  if (size < 1.5 || size >= 3.5) return 1.0;
  const double factor = size < 2.5 ? 100.0 : 1000.0;
  return decades > 0 ? factor : 1.0 / factor;
}

}  // namespace

std::vector<double> slip_factors(const std::vector<double>& values, double common) {
  std::vector<double> factors(values.size(), 1.0);
  if (values.size() < 2) return factors;
  std::vector<double> logs;
  logs.reserve(values.size());
  for (const double v : values) logs.push_back(std::log10(v));
  std::vector<double> sorted = logs;
  std::sort(sorted.begin(), sorted.end());
  const double middle = std::log10(common);
  for (std::size_t i = 0; i < values.size(); ++i) {
    const bool nearer = values.size() == 2 && std::abs(logs[i] - middle) <= std::abs(logs[1 - i] - middle);
    if (!nearer) factors[i] = factor_of(logs[i] - median_without(sorted, logs[i]));
  }
  return factors;
}

}  // namespace drawdown::labs
