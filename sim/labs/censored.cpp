// The sums.
#include "labs/censored.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace drawdown::labs {

double normal_below(double z) {
  return 0.5 * std::erfc(-z * 0.70710678118654752);
}

namespace {

constexpr int scatters = 21;                // ln s from s0 e^-1.4 to s0 e^2.6
constexpr std::size_t means = mean_points;  // of mu, 6 standard errors either way

double log_below(double z) {
  if (z > -35.0) return std::log(normal_below(z));
  return -0.5 * z * z - std::log(-z) - 0.9189385332046727;  // the tail's first term
}

double log_likelihood(const Group& g, double mu, double s) {
  double sum = -g.n * std::log(s) - 0.5 * (g.squares + g.n * (mu - g.mean) * (mu - g.mean)) / (s * s);
  for (const auto& [limit, count] : g.limits) sum += count * log_below((limit - mu) / s);
  return sum;
}

double lowest_limit(const Group& g) {
  double lowest = 1e300;
  for (const auto& one : g.limits) lowest = std::min(lowest, one.first);
  return lowest;
}

}  // namespace

MeanPosterior posterior_of_mean(const Group& g, double s) {
  double from = 0.0;
  double to = 0.0;
  if (g.n > 0.0) {
    // The likelihood is log-concave, and limits pull downwards only: its mode lies at or under the mean.
    const double se = s / std::sqrt(g.n);
    double low = g.mean;
    double high = g.mean;
    const auto slope = [&](double mu) {
      double sum = g.n * (g.mean - mu) / (s * s);
      for (const auto& [limit, count] : g.limits) {
        const double z = (limit - mu) / s;
        // The tail's own series where both densities vanish.
        const double ratio = z < -30.0 ? -z : std::exp(-0.5 * z * z) * 0.3989422804014327 / normal_below(z);
        sum -= count * ratio / s;
      }
      return sum;
    };
    for (double step = se; g.hides() && slope(low) < 0.0; step *= 2.0) low -= step;
    for (int i = 0; i < 30 && high - low > 0.01 * se; ++i) {
      const double middle = 0.5 * (low + high);
      (slope(middle) < 0.0 ? high : low) = middle;
    }
    const double mode = 0.5 * (low + high);
    from = mode - 6.0 * se;
    to = mode + 6.0 * se;
  } else {
    const double limit = lowest_limit(g);
    from = limit - std::log(10.0);
    to = limit + 7.0 * s;
    for (const auto& one : g.limits) to = std::max(to, one.first + 7.0 * s);
  }
  MeanPosterior out;
  const double step = (to - from) / (means - 1);
  double highest = -1e300;
  for (std::size_t i = 0; i < means; ++i) {
    out.mu[i] = from + step * static_cast<double>(i);
    out.weight[i] = log_likelihood(g, out.mu[i], s);
    highest = std::max(highest, out.weight[i]);
  }
  double sum = 0.0;
  for (double& w : out.weight) sum += w = std::exp(w - highest);
  for (double& w : out.weight) w /= sum;
  out.log_evidence = highest + std::log(sum * step);
  return out;
}

namespace {

// Of the prior of ln s.
double log_prior(const Scatter& scatter, double s) {
  return -scatter.nu * std::log(s) - 0.5 * scatter.nu * scatter.variance / (s * s);
}

// The values of s, and the weights that these logarithms of evidence leave them.
std::array<double, scatters> scatters_of(const Scatter& scatter) {
  std::array<double, scatters> all{};
  for (std::size_t i = 0; i < scatters; ++i) {
    all[i] = std::sqrt(scatter.variance) * std::exp(-1.4 + 0.2 * static_cast<double>(i));
  }
  return all;
}
void to_weights(const Scatter& scatter, const std::array<double, scatters>& s, std::array<double, scatters>& log) {
  for (std::size_t i = 0; i < scatters; ++i) log[i] += log_prior(scatter, s[i]);
  const double highest = *std::max_element(log.begin(), log.end());
  double sum = 0.0;
  for (double& w : log) sum += w = std::exp(w - highest);
  for (double& w : log) w /= sum;
}

}  // namespace

void Group::take(double log_value, bool below) {
  if (below) {
    const auto nearest = std::min_element(limits.begin(), limits.end(), [&](const auto& a, const auto& b) {
      return std::abs(a.first - log_value) < std::abs(b.first - log_value);
    });
    if (nearest != limits.end() && (nearest->first == log_value || limits.size() == most_limits)) {
      nearest->second += 1.0;
    } else {
      limits.emplace_back(log_value, 1.0);
    }
    return;
  }
  const double off = log_value - mean;
  n += 1.0;
  mean += off / n;
  squares += off * (log_value - mean);
}

NextValue::NextValue(const Group& own, const std::vector<Group>& others, const Scatter& scatter) {
  const auto all = scatters_of(scatter);
  std::array<MeanPosterior, scatters> grids;
  std::array<double, scatters> weight{};
  for (std::size_t i = 0; i < scatters; ++i) {
    grids[i] = posterior_of_mean(own, all[i]);
    weight[i] = grids[i].log_evidence;
    for (const Group& g : others) {
      if (g.n > 0.0) weight[i] += posterior_of_mean(g, all[i]).log_evidence;  // limits alone tell nothing of s
    }
  }
  to_weights(scatter, all, weight);
  for (std::size_t i = 0; i < scatters; ++i) {
    for (std::size_t k = 0; k < means; ++k) {
      const double w = weight[i] * grids[i].weight[k];
      if (w > 1e-14) parts_.push_back({grids[i].mu[k], all[i], w});
    }
  }
}

TwoSides NextValue::at(double c) const {
  TwoSides sides{0.0, 0.0};
  for (const Part& part : parts_) {
    const double z = (c - part.mu) / part.s;
    sides.below += part.weight * normal_below(z);
    sides.above += part.weight * normal_below(-z);
  }
  return sides;
}

TwoSides second_mean(const Group& first, const Group& second, const Scatter& scatter) {
  const auto all = scatters_of(scatter);
  std::array<TwoSides, scatters> said{};
  std::array<double, scatters> weight{};
  for (std::size_t i = 0; i < scatters; ++i) {
    const MeanPosterior a = posterior_of_mean(first, all[i]);
    const MeanPosterior b = posterior_of_mean(second, all[i]);
    weight[i] = a.log_evidence + b.log_evidence;
    said[i] = {0.0, 0.0};
    // Both are in order: how much of the first lies under each point of the second; of a point's own share a part.
    double under = 0.0;
    std::size_t k = 0;
    for (std::size_t m = 0; m < means; ++m) {
      for (; k < means && a.mu[k] < b.mu[m]; ++k) under += a.weight[k];
      const bool between = k > 0 && k < means;
      const double share = between ? (b.mu[m] - a.mu[k - 1]) / (a.mu[k] - a.mu[k - 1]) - 0.5 : 0.0;
      const double part = between ? (share < 0.0 ? a.weight[k - 1] : a.weight[k]) * share : 0.0;
      const double below = std::clamp(under + part, 0.0, 1.0);
      said[i].above += b.weight[m] * below;
      said[i].below += b.weight[m] * (1.0 - below);
    }
  }
  to_weights(scatter, all, weight);
  TwoSides out{0.0, 0.0};
  for (std::size_t i = 0; i < scatters; ++i) {
    out.below += weight[i] * said[i].below;
    out.above += weight[i] * said[i].above;
  }
  return out;
}

}  // namespace drawdown::labs
