// Distances in decades.
#include "labs/slips.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::labs {

namespace {

constexpr double half_a_factor = 0.5;  // decades: a factor of the square root of 10
constexpr double most_below = 1.5;     // decades below what is common
constexpr double least_off = 1.5;      // decades: 100 times, less a factor of the square root of 10
constexpr double most_off = 3.5;       // 1000 times, and as much more

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

double least_plausible(double common) {
  return std::pow(10.0, std::log10(common) - most_below);
}

SlipsFound find_slips(const std::vector<double>& values, double common, double most) {
  SlipsFound out;
  const double usual = std::log10(common);
  std::vector<double> plausible;
  for (const double v : values) {
    if (v <= most && std::log10(v) > usual - most_below) plausible.push_back(std::log10(v));
  }
  std::sort(plausible.begin(), plausible.end());
  out.from_common = plausible.empty();
  const double reference = reference_of(plausible, usual);
  out.reference = std::pow(10.0, reference);
  for (const double v : values) {
    const double off = std::abs(std::log10(v) - reference);
    out.suspected.push_back(v > most || (off >= least_off && off < most_off));
  }
  return out;
}

std::optional<double> meant_in_other_unit(double written, scenario::Unit read_as, double reference, double most) {
  // Written in the first, read as `read_as`: what it is to be divided by.
  const std::vector<double> divisors =
      read_as == scenario::Unit::g_per_l ? std::vector<double>{100.0, 1000.0} : std::vector<double>{0.01, 10.0};
  std::optional<double> nearest;
  const auto away = [&](double v) { return std::abs(std::log10(v / reference)); };
  for (const double divisor : divisors) {
    const double meant = written / divisor;
    if (meant > most || (written <= most && away(meant) >= away(written))) continue;
    if (!nearest || away(meant) < away(*nearest)) nearest = meant;
  }
  return nearest;
}

}  // namespace drawdown::labs
