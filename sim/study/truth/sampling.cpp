#include "study/truth/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <thread>

#include "study/cohort.hpp"

namespace drawdown::study::truth {

namespace {
constexpr double z = 1.959964;
double mean_of(const std::vector<double>& v) {
  double sum = 0.0;
  for (const double x : v) sum += x;
  return sum / static_cast<double>(v.size());
}
}  // namespace

void each_person(const World& w, const char* group, std::uint64_t seed, int days,
                 const std::function<void(const Course&)>& take, const std::vector<const char*>& more) {
  const auto who = [&](std::size_t number) { return person(group_named(group), seed, number); };
  const Cohort cohort(
      w.body(), [&](std::size_t number) { return w.held(story_of(who(number), days)); }, w.people());
  const auto& known = body::standard_model()->known();
  CohortReads reads{{}, {known.c3, known.c4}, {}};
  for (const char* protein : more) reads.levels.push_back(body::standard_model()->protein(protein));
  for (int day = 0; day <= days; ++day) reads.days.push_back(day);
  const auto deliver = [&](std::size_t first, const std::vector<CohortCourse>& block) {
    for (std::size_t i = 0; i < block.size(); ++i) {
      // A person the solver gave up on would silently leave the figure.
      if (block[i].read.empty()) throw std::runtime_error("a sampled person was not run to the end");
      take(Course(who(first + i), block[i].read, reads.levels.size()));
    }
  };
  const std::size_t threads = std::max(1U, std::thread::hardware_concurrency());
  (void)cohort.run(0, w.people(), reads, deliver, threads);
}

Figure share_of(const World& w, std::size_t count) {
  const auto n = static_cast<double>(w.people());
  const double p = static_cast<double>(count) / n;
  const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
  const double half = z * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n);
  return {100 * p, 100 * std::max(0.0, middle - half), 100 * std::min(1.0, middle + half)};
}
Figure left_of(const Figure& f) {
  return {100 - f.value, 100 - f.high, 100 - f.low};
}
Figure mixed(const std::vector<std::pair<double, Figure>>& parts) {
  Figure all;
  double below = 0.0;
  double above = 0.0;
  for (const auto& [weight, f] : parts) {
    all.value += weight * f.value;
    below += std::pow(weight * (f.value - f.low), 2);
    above += std::pow(weight * (f.high - f.value), 2);
  }
  all.low = all.value - std::sqrt(below);
  all.high = all.value + std::sqrt(above);
  return all;
}
Figure median_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  const auto away = static_cast<std::size_t>(std::ceil(0.98 * std::sqrt(static_cast<double>(values.size()))));
  return {values[middle], values[middle - away], values[middle + away]};
}

Figure difference_of(const World& w, std::size_t first_only, std::size_t second_only) {
  const auto n = static_cast<double>(w.people());
  const double a = static_cast<double>(first_only) / n;
  const double b = static_cast<double>(second_only) / n;
  const double half = z * std::sqrt((a + b - (a - b) * (a - b)) / n);
  return {100 * (a - b), 100 * (a - b - half), 100 * (a - b + half)};
}

Figure correlation_of(const std::vector<double>& x, const std::vector<double>& y) {
  const double mx = mean_of(x);
  const double my = mean_of(y);
  double xy = 0.0;
  double xx = 0.0;
  double yy = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xy += (x[i] - mx) * (y[i] - my);
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
  }
  const double r = xy / std::sqrt(xx * yy);
  const double half = z / std::sqrt(static_cast<double>(x.size()) - 3.0);
  return {r, std::tanh(std::atanh(r) - half), std::tanh(std::atanh(r) + half)};
}

Figure variation_of(const std::vector<double>& values) {
  const double mean = mean_of(values);
  double squares = 0.0;
  for (const double x : values) squares += (x - mean) * (x - mean);
  const double count = static_cast<double>(values.size());
  const double cv = std::sqrt(squares / (count - 1.0)) / mean;
  const double half = z * cv * std::sqrt((0.5 + cv * cv) / count);
  return {100 * cv, 100 * (cv - half), 100 * (cv + half)};
}

Shares low_in(const World& w, const char* group, std::uint32_t visit, std::uint64_t seed) {
  std::size_t c3 = 0;
  std::size_t c4 = 0;
  std::size_t both = 0;
  each_person(w, group, seed, 150, [&](const Course& course) {
    const int day = visit == when_quiet ? 0 : course.treatment_day();
    const bool low_c3 = below(course.read(Test::c3, day, visit), c3_limit);
    const bool low_c4 = below(course.read(Test::c4, day, visit), c4_limit);
    c3 += low_c3 ? 1U : 0U;
    c4 += low_c4 ? 1U : 0U;
    both += low_c3 && low_c4 ? 1U : 0U;
  });
  return {share_of(w, c3), share_of(w, c4), share_of(w, c3 + c4 - both), difference_of(w, c3 - both, c4 - both)};
}

TruthEntry sampled(const World& w, TruthEntry entry, const Figure& figure) {
  entry.model = figure.value;
  entry.people = w.people();
  entry.model_low = figure.low;
  entry.model_high = figure.high;
  return entry;
}

}  // namespace drawdown::study::truth
