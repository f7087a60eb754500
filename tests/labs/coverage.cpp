#include "labs/coverage.hpp"

#include <cmath>
#include <future>
#include <random>
#include <sstream>

#include "labs/fit.hpp"
#include "labs/fit_person.hpp"
#include "study/people.hpp"

namespace drawdown::tests {

namespace {

constexpr int visits = 12;

// A person from the fit's own prior: normal parameters and a walk of loads, the whole drawn again if any of it lies
// outside its bounds. (Drawing step by step inside them would favour walks along a bound.)
std::vector<double> drawn(const labs::Problem& problem, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::vector<double> x(problem.parameters());
  bool inside = false;
  while (!inside) {
    inside = true;
    for (std::size_t i = 0; i < x.size(); ++i) {
      x[i] = normal(random);
      if (i == labs::Problem::first_load) x[i] = std::abs(x[i]);
      // Steps of 3 in units of 4.
      if (i > labs::Problem::first_load) x[i] = x[i - 1] + 0.75 * x[i];
      const labs::Bounds bounds = problem.bounds(i);
      inside = inside && x[i] >= bounds.low && x[i] <= bounds.high;
    }
  }
  return x;
}

struct One {
  bool load = false, liver = false, acute = false, cannot_tell = false, done = false;
  double share = 1.0;
};

One try_one(unsigned seed) {
  std::mt19937 random(seed);
  // Visits some two months apart; the values first stand in for the days only.
  std::vector<labs::Row> rows(visits);
  std::uniform_int_distribution<int> apart(35, 85);
  int day = 19000;
  for (labs::Row& row : rows) {
    row.day = day;
    day += apart(random);
    row.c3 = labs::Value{1.0, false};
    row.c4 = labs::Value{0.2, false};
  }
  const labs::Problem person(rows, {});
  const std::vector<double> truth = drawn(person, random);
  const auto run = person.run(truth);
  for (std::uint32_t visit = 0; visit < visits; ++visit) {
    labs::Row& row = rows[visit];
    const double at = row.day - person.first_date();
    row.c3->value = study::noisy({seed, 0}, study::Test::c3, run->c3(at), visit);
    row.c4->value = study::noisy({seed, 0}, study::Test::c4, run->c4(at), visit);
  }
  labs::FitOptions options;
  options.outlooks = false;
  const labs::Fit fit = labs::fit(rows, {}, options);
  One one;
  one.done = fit.status == labs::FitStatus::done;
  const auto holds = [&](const labs::Estimate& e, std::size_t i) {
    const double value = person.natural(i, truth[i]);
    return e.low - 1e-9 <= value && value <= e.high + 1e-9;
  };
  one.load = holds(fit.load, person.last_load());
  one.liver = holds(fit.liver, labs::Problem::liver);
  one.acute = holds(fit.acute, labs::Problem::acute);
  one.cannot_tell = fit.cannot_tell();
  one.share = (fit.load.high - fit.load.low) / (fit.load.prior_high - fit.load.prior_low);
  return one;
}

}  // namespace

Coverage fit_coverage(int people, unsigned seed) {
  const auto part = [&](int from) {
    Coverage c;
    for (int i = from; i < people; i += 2) {
      const One one = try_one(seed + static_cast<unsigned>(i));
      c.people += 1;
      if (!one.done) {
        c.not_done += 1;
        continue;
      }
      c.load += one.load ? 1 : 0;
      c.liver += one.liver ? 1 : 0;
      c.acute += one.acute ? 1 : 0;
      c.cannot_tell += one.cannot_tell ? 1 : 0;
      c.narrowest_share = std::min(c.narrowest_share, one.share);
    }
    return c;
  };
  auto other = std::async(std::launch::async, part, 1);
  Coverage all = part(0);
  const Coverage more = other.get();
  all.people += more.people;
  all.load += more.load;
  all.liver += more.liver;
  all.acute += more.acute;
  all.cannot_tell += more.cannot_tell;
  all.not_done += more.not_done;
  all.narrowest_share = std::min(all.narrowest_share, more.narrowest_share);
  return all;
}

std::string summary(const Coverage& c) {
  std::ostringstream out;
  const auto percent = [&](int n) { return 100.0 * n / std::max(1, c.people - c.not_done); };
  out << c.people << " simulated people, " << visits << " visits each, noise as assumed; " << c.not_done
      << " fits not done\n"
      << "90 % interval holds the truth: load " << percent(c.load) << " %, liver " << percent(c.liver)
      << " %, acute-phase response " << percent(c.acute) << " %\n"
      << "said to be unable to tell less made from more used: " << percent(c.cannot_tell) << " %\n"
      << "narrowest interval of the load, of the prior's: " << c.narrowest_share << "\n";
  return out.str();
}

}  // namespace drawdown::tests
