// What follows from the least squares: intervals, explanations compared, courses, outlooks.
#include "labs/fit.hpp"

#include <algorithm>
#include <cmath>
#include <future>
#include <random>

#include "labs/fit_person.hpp"
#include "labs/fit_search.hpp"

namespace drawdown::labs {

namespace {

// 90 %: a profile's rise by 2.706 (chi square, one degree of freedom), 1.645 standard deviations.
constexpr double z90 = 1.644854;
constexpr std::size_t samples = 60;
constexpr double c4d_noise = 0.10;  // of its logarithm (assumed)

// Laplace's correction of a profile (Tierney & Kadane 1986, J Am Stat Assoc 81:82): half the logarithm of the
// determinant of the others' information. Where the others are held less tightly there are more ways to explain the
// values.
double tightness(const Search& search, const Problem& problem, const std::vector<double>& x, std::size_t i) {
  std::vector<double> residuals(problem.residuals());
  const Eigen::MatrixXd j = search.jacobian(x, residuals.data());
  Eigen::MatrixXd others(j.rows(), j.cols() - 1);
  for (Eigen::Index k = 0, to = 0; k < j.cols(); ++k) {
    if (k != static_cast<Eigen::Index>(i)) others.col(to++) = j.col(k);
  }
  const Eigen::LDLT<Eigen::MatrixXd> root(others.transpose() * others);
  return 0.5 * root.vectorD().array().max(1e-300).log().sum();
}

// Where the profile has risen by 2.706 on one side: by the signed root of the rise, which is nearly straight. Begins at
// the outermost of the minima that lie within the rise themselves: there may be more than one explanation. `tight` is
// the best one's tightness.
double profile_end(const Search& search, const Problem& problem, const std::vector<Found>& minima,
                   const Eigen::MatrixXd& covariance, double tight, std::size_t i, double direction) {
  const Found& best = minima.front();
  const auto rise_of = [&](double cost) { return std::sqrt(2.0 * std::max(0.0, cost - best.cost)); };
  Found from = best;
  for (const Found& m : minima) {
    if (rise_of(m.cost) < z90 && direction * (m.x[i] - from.x[i]) > 0.0) from = m;
  }
  const Bounds bounds = problem.bounds(i);
  const auto at = static_cast<Eigen::Index>(i);
  const double sd = std::sqrt(std::max(1e-12, covariance(at, at)));
  const double risen = rise_of(from.cost);  // before the first step
  double step = (z90 - risen) * sd;
  double end = from.x[i] + direction * step;
  for (int attempt = 0; attempt < 3 && !search.cancelled(); ++attempt) {
    end = std::clamp(from.x[i] + direction * step, bounds.low, bounds.high);
    std::vector<double> x = from.x;
    for (std::size_t k = 0; k < x.size(); ++k) {
      x[k] += covariance(static_cast<Eigen::Index>(k), at) / (sd * sd) * (end - from.x[i]);
    }
    x[i] = end;
    Found here = search.down(x, 8, {i});
    // The ridge may bend, or end at a bound: also from where the others stood best, all loads moved alike.
    x = from.x;
    for (std::size_t k = Problem::first_load; k < x.size() && i >= Problem::first_load; ++k) x[k] += end - from.x[i];
    x[i] = end;
    const Found also = search.down(x, 8, {i});
    if (also.cost < here.cost) here = also;
    if (!here.usable) break;
    const double rise = rise_of(here.cost + tightness(search, problem, here.x, i) - tight) - risen;
    const bool at_bound = end <= bounds.low || end >= bounds.high;
    if (at_bound && rise < z90 - risen) return end;
    if (rise < 0.05) {
      step *= 2.5;
      continue;
    }
    const double wanted = z90 - risen;
    const double next = std::abs(end - from.x[i]) * wanted / rise;
    if (std::abs(rise - wanted) < 0.08 * z90) return std::clamp(from.x[i] + direction * next, bounds.low, bounds.high);
    step = std::min(next, 3.0 * std::abs(end - from.x[i]));
    end = std::clamp(from.x[i] + direction * step, bounds.low, bounds.high);
  }
  return end;
}

// The 5th, 50th and 95th of a hundred.
struct Spread {
  double low, middle, high;
};
Spread spread_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const auto at = [&](double share) {
    const double place = share * static_cast<double>(values.size() - 1);
    const auto i = static_cast<std::size_t>(place);
    const double rest = place - static_cast<double>(i);
    return values[i] + (i + 1 < values.size() ? rest * (values[i + 1] - values[i]) : 0.0);
  };
  return {at(0.05), at(0.5), at(0.95)};
}

void add(Band& band, double day, const std::vector<double>& values) {
  const Spread s = spread_of(values);
  band.days.push_back(day);
  band.low.push_back(s.low);
  band.middle.push_back(s.middle);
  band.high.push_back(s.high);
}

// Courses of people drawn from the posterior's normal approximation, and what is read off them.
class Sampler {
 public:
  Sampler(const Problem& problem, const Found& best, const Eigen::MatrixXd& covariance, unsigned seed)
      : problem_(problem) {
    const Eigen::LLT<Eigen::MatrixXd> root(covariance);
    std::mt19937 random(seed);
    std::normal_distribution<double> normal;
    const auto n = static_cast<Eigen::Index>(best.x.size());
    for (std::size_t k = 0; k < samples; ++k) {
      Eigen::VectorXd z(n);
      for (Eigen::Index i = 0; i < n; ++i) z(i) = k == 0 ? 0.0 : normal(random);
      const Eigen::VectorXd off = root.matrixL() * z;
      std::vector<double> x = best.x;
      for (std::size_t i = 0; i < x.size(); ++i) {
        const Bounds bounds = problem.bounds(i);
        x[i] = std::clamp(x[i] + off(static_cast<Eigen::Index>(i)), bounds.low, bounds.high);
      }
      people_.push_back(std::move(x));
    }
  }

  // Everyone's run of the story with these what-ifs from the last visit on.
  [[nodiscard]] std::vector<std::shared_ptr<const Run>> runs(const std::vector<WhatIf>& from_today,
                                                             double more_days) const {
    std::vector<std::shared_ptr<const Run>> all(people_.size());
    const auto part = [&](std::size_t from) {
      for (std::size_t i = from; i < people_.size(); i += 2) all[i] = problem_.run(people_[i], from_today, more_days);
    };
    auto other = std::async(std::launch::async, part, 1);
    part(0);
    other.get();
    all.erase(std::remove_if(all.begin(), all.end(), [](const auto& run) { return !run->complete(); }), all.end());
    return all;
  }

 private:
  const Problem& problem_;
  std::vector<std::vector<double>> people_;
};

template <class Of>
std::vector<double> each(const std::vector<std::shared_ptr<const Run>>& runs, const Of& of) {
  std::vector<double> values;
  values.reserve(runs.size());
  for (const auto& run : runs) values.push_back(of(*run));
  return values;
}

// What `of` gives for each run on some days, spread out.
template <class Of>
void spread_over(Band& band, const std::vector<std::shared_ptr<const Run>>& runs, double first_day, double from,
                 double to, const Of& of) {
  constexpr int points = 60;
  if (runs.empty()) return;
  for (int k = 0; k <= points; ++k) {
    const double day = from + (to - from) * k / points;
    add(band, first_day + day, each(runs, [&](const Run& run) { return of(run, day); }));
  }
}

void bands(Band& c3, Band& c4, const std::vector<std::shared_ptr<const Run>>& runs, double first_day, double from,
           double to) {
  spread_over(c3, runs, first_day, from, to, [](const Run& run, double day) { return run.c3(day); });
  spread_over(c4, runs, first_day, from, to, [](const Run& run, double day) { return run.c4(day); });
}

// How much narrower the last load's interval is with one more figure whose logarithm moves by `slope` a parameter.
double narrower(const Eigen::MatrixXd& information, const Eigen::VectorXd& slope, double noise, Eigen::Index which) {
  const Eigen::MatrixXd with = information + slope * slope.transpose() / (noise * noise);
  const double before = information.inverse()(which, which);
  const double after = with.inverse()(which, which);
  return before > 0.0 ? 1.0 - std::sqrt(after / before) : 0.0;
}

void estimate_all(Fit& out, const Problem& problem, const Search& search, const std::vector<Found>& minima,
                  const Eigen::MatrixXd& covariance) {
  const Found& best = minima.front();
  const auto profiled = [&](std::size_t i, double done) {
    const double tight = tightness(search, problem, best.x, i);
    auto upper =
        std::async(std::launch::async, [&] { return profile_end(search, problem, minima, covariance, tight, i, 1.0); });
    const double low = profile_end(search, problem, minima, covariance, tight, i, -1.0);
    const double high = upper.get();
    search.progress(done);
    const Prior prior = problem.prior90(i);
    return Estimate{problem.natural(i, best.x[i]), problem.natural(i, low), problem.natural(i, high), prior.low,
                    prior.high};
  };
  out.load = profiled(problem.last_load(), 0.6);
  out.liver = profiled(Problem::liver, 0.7);
  out.acute = profiled(Problem::acute, 0.8);
}

// How much worse the values are explained without any use by complexes, and with nothing made less than usual.
void compare_explanations(Fit& out, const Problem& problem, const Search& search, const Found& best) {
  const auto rise = [&](const Found& other) { return std::max(0.0, 2.0 * (other.cost - best.cost)); };
  std::vector<std::size_t> loads;
  std::vector<double> unused = best.x;
  for (std::size_t i = Problem::first_load; i < problem.parameters(); ++i) {
    loads.push_back(i);
    unused[i] = 0.0;
  }
  auto no_use = std::async(std::launch::async, [&] { return search.down(unused, 25, loads); });
  // From two loads: a small one would have to find its way along the bounds.
  Found full = search.down(best.x, 25, {}, true);
  const Found more = search.down(problem.start(1), 25, {}, true);
  if (more.cost < full.cost) full = more;
  out.without_less = rise(full);
  out.without_use = rise(no_use.get());
}

void look_ahead(Fit& out, const Problem& problem, const Sampler& sampler, double days) {
  const double last = problem.last_day();
  for (const Course& ahead : Problem::courses_ahead()) {
    Outlook outlook;
    outlook.name = ahead.name;
    bands(outlook.c3, outlook.c4, sampler.runs(ahead.what_ifs, days), problem.first_date(), last, last + days);
    out.outlooks.push_back(std::move(outlook));
  }
}

}  // namespace

Fit fit(const std::vector<Row>& rows, const Noise& noise, const FitOptions& options, FitControl* control) {
  Fit out;
  const Problem problem(rows, noise);
  out.values = problem.values();
  if (problem.samples() < fewest_to_fit) {
    out.status = FitStatus::too_few;
    return out;
  }
  const Search search(problem, control);
  // Every other start on a thread of its own.
  const auto starts = [&](int from) {
    std::vector<Found> found;
    for (int start = from; start < options.starts; start += 2) {
      found.push_back(search.down(problem.start(start), 60));
      search.progress(0.4 * (start + 1) / options.starts);
    }
    return found;
  };
  auto other = std::async(std::launch::async, starts, 1);
  std::vector<Found> minima = starts(0);
  for (Found& found : other.get()) minima.push_back(std::move(found));
  if (search.cancelled()) {
    out.status = FitStatus::cancelled;
    return out;
  }
  std::sort(minima.begin(), minima.end(), [](const Found& a, const Found& b) { return a.cost < b.cost; });
  const Found& best = minima.front();
  if (!best.usable) return out;
  std::vector<double> residuals(problem.residuals());
  const Eigen::MatrixXd j = search.jacobian(best.x, residuals.data());
  const Eigen::MatrixXd information = j.transpose() * j;
  if (!information.allFinite()) return out;
  const Eigen::MatrixXd covariance = information.inverse();
  estimate_all(out, problem, search, minima, covariance);
  if (search.cancelled()) {
    out.status = FitStatus::cancelled;
    return out;
  }
  compare_explanations(out, problem, search, best);
  const auto load = static_cast<Eigen::Index>(problem.last_load());
  const auto liver = static_cast<Eigen::Index>(Problem::liver);
  out.trade_off = covariance(load, liver) / std::sqrt(covariance(load, load) * covariance(liver, liver));
  out.misfit = problem.misfit(best.x);
  out.objective = best.cost;
  out.c4d_would_help = narrower(information, problem.c4d_slope(best.x), c4d_noise, load);

  const Sampler sampler(problem, best, covariance, options.seed);
  const auto now = sampler.runs({}, 0.0);
  const double last = problem.last_day();
  bands(out.c3, out.c4, now, problem.first_date(), 0.0, last);
  const body::LeverId drive = body::lever_at("antibody_drive");
  spread_over(out.load_course, now, problem.first_date(), 0.0, last,
              [&](const Run& run, double day) { return run.lever(drive, day); });
  const auto ratio = [&](const auto& of) {
    const Spread s =
        spread_of(each(now, [&](const Run& run) { return of(run.flows(last).c3) / of(run.usual_flows().c3); }));
    return Estimate{s.middle, s.low, s.high, 0.0, 0.0};
  };
  if (!now.empty()) {
    out.made = ratio([](const readout::Flows& f) { return f.made; });
    out.used = ratio([](const readout::Flows& f) { return f.share_used(); });
  }
  search.progress(0.9);
  if (options.outlooks) look_ahead(out, problem, sampler, options.outlook_days);
  search.progress(1.0);
  out.status = search.cancelled() ? FitStatus::cancelled : FitStatus::done;
  return out;
}

}  // namespace drawdown::labs
