#include "study/explain/foresee.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::study::explain {

namespace {

constexpr std::size_t resampled = 400;  // of each explanation
constexpr std::size_t grid = 160;

struct Normal1 {
  double mean = 0.0, sd = 1.0;
};
using Mixture = std::vector<Normal1>;  // all weigh the same

struct Wanted {
  Target target;
  std::array<Mixture, explanations> of;
};

// Systematic: of equally spaced shares of all weight, whose it is.
std::vector<std::size_t> resample(const std::vector<float>& log_density) {
  const double most = static_cast<double>(*std::max_element(log_density.begin(), log_density.end()));
  double all = 0.0;
  for (const float l : log_density) all += std::exp(static_cast<double>(l) - most);
  std::vector<std::size_t> chosen;
  double sum = 0.0;
  for (std::size_t i = 0; i < log_density.size() && chosen.size() < resampled; ++i) {
    sum += std::exp(static_cast<double>(log_density[i]) - most);
    while (chosen.size() < resampled && sum >= all * (static_cast<double>(chosen.size()) + 0.5) / resampled) {
      chosen.push_back(i);
    }
  }
  return chosen;
}

void add_mixtures(std::vector<Wanted>& wanted, std::size_t e, const File& file, const Turned& turned,
                  const Candidates& of, const Densities& found) {
  std::vector<Turned::Given> given;
  given.reserve(wanted.size());
  for (const Wanted& one : wanted) given.push_back(turned.given(file, one.target));
  std::vector<float> moves(turned.size * block);
  std::vector<float> turned_moves(turned.size * block);
  std::vector<float> apart(turned.size * block);
  const double t2 = of.sampled() ? strength * strength : 0.0;
  std::size_t filled = no_visit;
  for (const std::size_t chosen : resample(found.log_density)) {
    const std::size_t candidate = chosen / nodes;
    const std::size_t node = chosen % nodes;
    const std::size_t first = candidate / block * block;
    if (first != filled) {
      of.fill(first, file.seen, moves.data());
      turn_block(turned, moves.data(), turned_moves.data());
      levels_apart(turned, file, of, first, apart.data());
      filled = first;
    }
    double a = 0.0;
    double b = 0.0;
    const auto g = [&](std::size_t i) { return static_cast<double>(turned_moves[i * block + candidate - first]); };
    const auto r = [&](std::size_t i) { return static_cast<double>(apart[i * block + candidate - first]); };
    for (std::size_t i = 0; i < turned.size; ++i) {
      const auto p = static_cast<double>(turned.precision[node][i]);
      a += p * g(i) * g(i);
      b += p * g(i) * (r(i) - g(i));
    }
    const double more = t2 * b / (1.0 + t2 * a);
    for (std::size_t w = 0; w < wanted.size(); ++w) {
      const Target& target = wanted[w].target;
      const double move = of.move(candidate, target.column, target.day, no_visit);
      double mean =
          file.usual[at(target.column)] + of.level(candidate / of.shifts(), target.column) + (1.0 + more) * move;
      double lever = move;
      for (std::size_t i = 0; i < turned.size; ++i) {
        mean += given[w].slope[node][i] * (r(i) - (1.0 + more) * g(i));
        lever -= given[w].slope[node][i] * g(i);
      }
      const double variance = given[w].variance[node] + t2 / (1.0 + t2 * a) * lever * lever;
      wanted[w].of[e].push_back({mean, std::sqrt(variance)});
    }
  }
}

double below(const Wanted& wanted, const Weights& out, double y) {
  double sum = 0.0;
  for (std::size_t e = 0; e < explanations; ++e) {
    if (out.each[e].share < 1e-4) continue;
    double part = 0.0;
    for (const Normal1& one : wanted.of[e]) part += 0.5 * std::erfc((one.mean - y) / one.sd * 0.70710678118654752);
    sum += out.each[e].share * part / static_cast<double>(wanted.of[e].size());
  }
  return sum;
}

Between between_of(const Wanted& wanted, const Weights& out) {
  double least = 1e300;
  double most = -1e300;
  for (const Mixture& mixture : wanted.of) {
    for (const Normal1& one : mixture) {
      least = std::min(least, one.mean - 6.0 * one.sd);
      most = std::max(most, one.mean + 6.0 * one.sd);
    }
  }
  double total = below(wanted, out, most);
  const auto quantile = [&](double share) {
    double low = least;
    double high = most;
    for (int i = 0; i < 50; ++i) {
      const double middle = 0.5 * (low + high);
      (below(wanted, out, middle) < share * total ? low : high) = middle;
    }
    const double floor = column_rows[at(wanted.target.column)].floor;
    return std::max(0.0, std::exp(0.5 * (low + high)) - floor);
  };
  return {quantile(0.05), quantile(0.5), quantile(0.95)};
}

// I = sum p_e int f_e ln(f_e / f): the explanations' densities of the test's value on a grid.
double information(const Wanted& wanted, const Weights& out) {
  double least = 1e300;
  double most = -1e300;
  for (std::size_t e = 0; e < explanations; ++e) {
    if (out.each[e].share < 1e-3) continue;
    for (const Normal1& one : wanted.of[e]) {
      least = std::min(least, one.mean - 4.0 * one.sd);
      most = std::max(most, one.mean + 4.0 * one.sd);
    }
  }
  const double step = (most - least) / static_cast<double>(grid);
  std::array<std::array<double, grid>, explanations> density{};
  std::array<double, explanations> sums{};
  for (std::size_t e = 0; e < explanations; ++e) {
    if (out.each[e].share < 1e-3) continue;
    for (std::size_t g = 0; g < grid; ++g) {
      const double y = least + (static_cast<double>(g) + 0.5) * step;
      for (const Normal1& one : wanted.of[e]) {
        const double z = (y - one.mean) / one.sd;
        if (std::abs(z) < 6.0) density[e][g] += std::exp(-0.5 * z * z) / one.sd;
      }
      sums[e] += density[e][g];
    }
  }
  double told = 0.0;
  for (std::size_t g = 0; g < grid; ++g) {
    double all = 0.0;
    double shares = 0.0;
    for (std::size_t e = 0; e < explanations; ++e) {
      if (sums[e] <= 0.0) continue;
      all += out.each[e].share * density[e][g] / sums[e];
      shares += out.each[e].share;
    }
    all /= shares;
    for (std::size_t e = 0; e < explanations; ++e) {
      if (sums[e] <= 0.0 || density[e][g] <= 0.0) continue;
      const double f = density[e][g] / sums[e];
      told += out.each[e].share / shares * f * std::log(f / all);
    }
  }
  return std::max(0.0, told);
}

double days_to_next(const Series& series, const WeighOptions& options) {
  if (options.next_after > 0.0) return options.next_after;
  std::vector<double> gaps;
  for (std::size_t j = 1; j < series.visits.size(); ++j)
    gaps.push_back(series.visits[j].day - series.visits[j - 1].day);
  std::nth_element(gaps.begin(), gaps.begin() + static_cast<std::ptrdiff_t>(gaps.size() / 2), gaps.end());
  return std::clamp(gaps[gaps.size() / 2], 14.0, 180.0);
}

}  // namespace

void foresee(Weights& out, const Series& series, const File& file, const Turned& near, const Turned& free,
             const std::vector<std::unique_ptr<Candidates>>& all, const std::vector<Densities>& densities,
             const WeighOptions& options) {
  const double now = series.visits.back().day;
  out.next_day = now + days_to_next(series, options);
  std::vector<Wanted> wanted{{{out.next_day, Column::c3}, {}}, {{out.next_day, Column::c4}, {}}};
  for (std::size_t c = 0; c < columns; ++c) {
    const bool has_it = series.visits.back().values[c].has_value();
    if (!has_it && (series.scale_known[c] || !out.used[c])) wanted.push_back({{now, static_cast<Column>(c)}, {}});
  }
  for (std::size_t e = 0; e < explanations; ++e) {
    if (out.each[e].share < 1e-4) continue;
    add_mixtures(wanted, e, file, all[e]->sampled() ? near : free, *all[e], densities[e]);
  }
  if (out.used[at(Column::c3)]) out.c3 = between_of(wanted[0], out);
  if (out.used[at(Column::c4)]) out.c4 = between_of(wanted[1], out);
  for (std::size_t w = 2; w < wanted.size(); ++w) {
    out.information[at(wanted[w].target.column)] = information(wanted[w], out);
  }
}

}  // namespace drawdown::study::explain
