// Flares, factors, and how many more.
#include "labs/marker.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "labs/censored.hpp"
#include "labs/change.hpp"
#include "study/random.hpp"

namespace drawdown::labs {

namespace {

constexpr int longest_gap = 182;  // days within one flare
constexpr std::size_t noises = 7, depths = 16;
constexpr std::size_t u_step = 2;  // every other point of a mean
constexpr std::size_t u_points = (mean_points + u_step - 1) / u_step;
constexpr std::uint64_t trials = 40;
constexpr std::ptrdiff_t most_flares = 60;  // the newest

struct Flare {
  double y = 0.0;  // less its laboratory's quiet mean
  bool below = false;
  double visits = 0.0;
  int first_day = 0, last_day = 0;
};

// One protein's quiet visits and flares, moved so that each laboratory's quiet mean is 0.
struct Told {
  Group quiet;
  std::size_t quiet_visits = 0;
  std::vector<Flare> flares;
  std::vector<std::pair<int, double>> quiet_days;  // measured ones, or their limit
};

bool is_quiet(const Visit& v) {
  return v.left == LeftOut::no || v.left == LeftOut::treated;
}

Told told_of(const Series& series) {
  Told told;
  std::vector<Group> quiet(series.laboratories);
  for (const Visit& v : series.visits) {
    if (is_quiet(v)) quiet[v.laboratory].take(v.log_value, v.below);
  }
  bool open = false;
  for (const Visit& v : series.visits) {
    const Group& lab = quiet[v.laboratory];
    if (lab.n < 1.0) continue;
    const double y = v.log_value - lab.mean;
    if (is_quiet(v)) {
      told.quiet_visits += 1;
      told.quiet.take(y, v.below);
      told.quiet_days.emplace_back(v.day, y);
      open = false;
    } else if (v.left == LeftOut::flare) {
      if (!open || v.day - told.flares.back().last_day > longest_gap)
        told.flares.push_back({0.0, false, 0.0, v.day, 0});
      open = true;
      Flare& f = told.flares.back();
      // The mean of values some of which are limits lies below the mean with the limits in their place.
      f.visits += 1.0;
      f.y += (y - f.y) / f.visits;
      f.below = f.below || v.below;
      f.last_day = v.day;
    }
  }
  if (told.flares.size() > static_cast<std::size_t>(most_flares)) {
    told.flares.erase(told.flares.begin(), told.flares.end() - most_flares);
  }
  // A mean of its own for each further laboratory costs a value.
  double labs = 0.0;
  for (const Group& g : quiet) labs += g.n > 0.0 ? 1.0 : 0.0;
  if (labs > 1.0) told.quiet.n = std::max(1.0, told.quiet.n - (labs - 1.0));
  return told;
}

// What the flares so far make of each s, u and depth.
class Factor {
 public:
  Factor(const Told& told, double known, const MarkerPriors& priors, const MarkerPriors::Depth& depth)
      : missed_(priors.missed), depth_(depth) {
    if (told.quiet.n < 1.0) return;
    usable_ = true;
    std::array<double, noises> log_noise{};
    std::array<MeanPosterior, noises> means;
    for (std::size_t i = 0; i < noises; ++i) {
      const double z = -2.4 + 0.8 * static_cast<double>(i);
      s_[i] = known * std::exp(priors.spread_of_noise * z);
      means[i] = posterior_of_mean(told.quiet, s_[i]);
      log_noise[i] = -0.5 * z * z + means[i].log_evidence;
    }
    const double highest = *std::max_element(log_noise.begin(), log_noise.end());
    double sum = 0.0;
    for (std::size_t i = 0; i < noises; ++i) {
      for (std::size_t k = 0; k < u_points; ++k) {
        u_[i][k] = means[i].mu[k * u_step];
        none_[i][k] = std::exp(log_noise[i] - highest) * means[i].weight[k * u_step];
        sum += none_[i][k];
      }
    }
    double of_depths = 0.0;
    const double step = (depth.middle + 3.0 * depth.spread - depth.least) / static_cast<double>(depths);
    for (std::size_t d = 0; d < depths; ++d) {
      mu_[d] = depth.least + step * (static_cast<double>(d) + 0.5);
      const double z = (mu_[d] - depth.middle) / depth.spread;
      prior_[d] = std::exp(-0.5 * z * z);
      of_depths += prior_[d];
    }
    for (std::size_t i = 0; i < noises; ++i) {
      for (std::size_t k = 0; k < u_points; ++k) {
        none_[i][k] /= sum;
        for (std::size_t d = 0; d < depths; ++d) marker_[i][k][d] = none_[i][k] * prior_[d] / of_depths;
      }
    }
    for (const Flare& f : told.flares) add(f.y, f.below);
  }

  void add(double y, bool below) {
    if (!usable_) return;
    double of_none = 0.0;
    double of_marker = 0.0;
    for (std::size_t i = 0; i < noises; ++i) {
      const double fall = std::hypot(s_[i], depth_.between);
      const double same = std::hypot(s_[i], depth_.between_none);
      for (std::size_t k = 0; k < u_points; ++k) {
        const double as_quiet = density(y, below, u_[i][k], same);
        of_none += none_[i][k] *= as_quiet;
        for (std::size_t d = 0; d < depths; ++d) {
          double& w = marker_[i][k][d];
          if (w < 1e-30) continue;
          w *= (1.0 - missed_) * density(y, below, u_[i][k] - mu_[d], fall) + missed_ * as_quiet;
          of_marker += w;
        }
      }
    }
    log_ += std::log(of_marker) - std::log(of_none);
    // Both are kept near 1, so that nothing runs out of range.
    for (std::size_t i = 0; i < noises; ++i) {
      for (std::size_t k = 0; k < u_points; ++k) {
        none_[i][k] /= of_none;
        for (double& w : marker_[i][k]) w /= of_marker;
      }
    }
  }

  [[nodiscard]] double log_factor() const { return log_; }
  // The middle of what is believed by now of s, and of the depth if it is a marker.
  [[nodiscard]] std::array<double, 2> believed() const {
    std::array<double, 2> sum{};
    for (std::size_t i = 0; i < noises; ++i) {
      for (std::size_t k = 0; k < u_points; ++k) {
        sum[0] += s_[i] * none_[i][k];
        for (std::size_t d = 0; d < depths; ++d) sum[1] += mu_[d] * marker_[i][k][d];
      }
    }
    return sum;
  }

 private:
  static double density(double y, bool below, double mean, double sd) {
    const double z = (y - mean) / sd;
    return below ? normal_below(z) : std::exp(-0.5 * z * z) / sd;
  }

  double missed_;
  MarkerPriors::Depth depth_;
  bool usable_ = false;
  double log_ = 0.0;
  std::array<double, noises> s_{};
  std::array<double, depths> mu_{}, prior_{};
  std::array<std::array<double, u_points>, noises> u_{}, none_{};
  std::array<std::array<std::array<double, depths>, u_points>, noises> marker_{};
};

double probability_of(const MarkerPriors& p, double log_c3, double log_c4) {
  const double c3 = std::exp(std::min(log_c3, 300.0));
  const double c4 = std::exp(std::min(log_c4, 300.0));
  const double is_one = p.only_c3 * c3 + p.only_c4 * c4 + p.both * c3 * c4;
  return is_one / (p.none + is_one);
}

MarkerAnswer answer_of(const MarkerPriors& p, double probability, std::size_t flares, std::size_t quiet) {
  if (quiet < fewest_quiet || flares < 2) return MarkerAnswer::too_few;
  if (probability >= p.decided) return MarkerAnswer::goes;
  if (probability <= 1.0 - p.decided && flares >= fewest_flares) return MarkerAnswer::does_not;
  return MarkerAnswer::too_few;
}

MarkerOf count(const Told& told, double variance) {
  MarkerOf of;
  of.quiet = told.quiet_visits;
  of.flares = told.flares.size();
  if (told.quiet.n < 1.0) return of;
  const double freedom = prior_worth + told.quiet.n - 1.0;
  const double s = std::sqrt((prior_worth * variance + told.quiet.squares) / freedom * (1.0 + 1.0 / told.quiet.n));
  const double limit = told.quiet.mean - boost::math::quantile(boost::math::students_t(freedom), 0.95) * s;
  for (const Flare& f : told.flares) {
    if (f.y >= limit) continue;
    of.clearly_low += 1;
    const auto after = std::find_if(told.quiet_days.begin(), told.quiet_days.end(),
                                    [&](const auto& q) { return q.first > f.last_day; });
    if (after == told.quiet_days.end()) continue;
    of.followed += 1;
    if (after->second >= limit) of.came_back += 1;
  }
  return of;
}

// After how many more flares nine of ten people such as this one may be would have an answer.
std::optional<std::size_t> more_flares(const std::array<Factor, 2>& factors, const std::array<bool, 2>& measured,
                                       const MarkerPriors& priors, std::size_t flares, std::size_t quiet) {
  std::array<double, 2> ratio{};
  std::array<std::array<double, 2>, 2> believed{};
  for (std::size_t p = 0; p < 2; ++p) {
    ratio.at(p) = std::exp(std::min(factors.at(p).log_factor(), 100.0));
    believed.at(p) = factors.at(p).believed();
  }
  const double none = priors.none;
  const double c3 = none + priors.only_c3 * ratio[0];
  const double c4 = c3 + priors.only_c4 * ratio[1];
  const double all = c4 + priors.both * ratio[0] * ratio[1];
  const std::array<const MarkerPriors::Depth*, 2> depth{&priors.c3, &priors.c4};
  constexpr std::array<study::Slot, 2> slots{study::slot("further flare C3"), study::slot("further flare C4")};
  std::array<std::size_t, most_more> decided{};
  for (std::uint64_t trial = 0; trial < trials; ++trial) {
    // Kinds in their shares, evenly.
    const double at = (static_cast<double>(trial) + 0.5) / static_cast<double>(trials) * all;
    const std::array<bool, 2> is_one{(at >= none && at < c3) || at >= c4, at >= c3};
    const study::Key key{1, trial};
    std::array<Factor, 2> then = factors;
    bool answered = false;
    for (std::uint32_t k = 0; k < most_more; ++k) {
      for (std::size_t p = 0; p < 2 && !answered; ++p) {
        if (!measured.at(p)) continue;
        const auto [s, mu] = believed.at(p);
        const bool falls = is_one.at(p) && study::uniform(key, slots.at(p), 2 * k + 1) > priors.missed;
        const double z = study::normal(key, slots.at(p), 2 * k);
        const double spread = std::hypot(s, falls ? depth.at(p)->between : depth.at(p)->between_none);
        then.at(p).add((falls ? -mu : 0.0) + z * spread, false);
      }
      const double p = probability_of(priors, then[0].log_factor(), then[1].log_factor());
      answered =
          answered || answer_of(priors, p, flares + k + 1, std::max(quiet, fewest_quiet)) != MarkerAnswer::too_few;
      if (answered) decided.at(k) += 1;
    }
  }
  for (std::size_t k = 0; k < most_more; ++k) {
    if (10 * decided.at(k) >= 9 * trials) return k + 1;
  }
  return std::nullopt;
}

}  // namespace

Marker marker(const std::vector<Row>& rows, const Noise& noise, const MarkerPriors& priors) {
  Marker out;
  if (std::none_of(rows.begin(), rows.end(), [](const Row& r) { return r.flare == true; })) return out;
  const Series c3 = series_of(rows, Protein::c3, noise);
  const Series c4 = series_of(rows, Protein::c4, noise);
  const Told told_c3 = told_of(c3);
  const Told told_c4 = told_of(c4);
  const double variance_c3 = prior_variance(rows, c3, Protein::c3, noise);
  const double variance_c4 = prior_variance(rows, c4, Protein::c4, noise);
  // The known noise is the middle of s here.
  const Factor f3(told_c3, std::sqrt(variance_c3 / variance_share), priors, priors.c3);
  const Factor f4(told_c4, std::sqrt(variance_c4 / variance_share), priors, priors.c4);
  out.c3 = count(told_c3, variance_c3);
  out.c4 = count(told_c4, variance_c4);
  out.c3.log_factor = f3.log_factor();
  out.c4.log_factor = f4.log_factor();
  out.probability = probability_of(priors, f3.log_factor(), f4.log_factor());
  const std::size_t flares = std::max(out.c3.flares, out.c4.flares);
  const std::size_t quiet = std::max(out.c3.quiet, out.c4.quiet);
  out.answer = answer_of(priors, out.probability, flares, quiet);
  out.quiet_wanted = quiet < fewest_quiet ? fewest_quiet - quiet : 0;
  if (out.answer != MarkerAnswer::too_few || (told_c3.quiet.n < 1.0 && told_c4.quiet.n < 1.0)) return out;
  out.more = more_flares({f3, f4}, {told_c3.quiet.n >= 1.0, told_c4.quiet.n >= 1.0}, priors, flares, quiet);
  return out;
}

}  // namespace drawdown::labs
