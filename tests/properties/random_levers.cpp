#include "properties/random_levers.hpp"

#include <algorithm>
#include <cmath>
#include <sstream>

#include "support/ledger.hpp"
#include "support/stories.hpp"

namespace drawdown::support {

RandomSummary run_random_levers(int settings, unsigned seed) {
  const auto body = standard_body();
  std::mt19937 random(seed);
  RandomSummary summary;
  summary.settings = settings;
  network::Bound<double> bound = body->bound();
  const Ledger ledger(*body, bound);
  const std::size_t n = body->network.species.size();
  solve::Options options = body->options(1e-6);
  options.atol.resize(ledger.pattern().size, 1.0);
  solve::Solver solver(ledger.pattern(), std::make_shared<const solve::LuPlan>(ledger.pattern()));
  for (int trial = 0; trial < settings; ++trial) {
    std::vector<double> x = body->rest;
    x.resize(ledger.pattern().size, 0.0);
    const std::vector<double> start = x;
    const std::vector<double> levers = random_levers(random);
    bound.bind(body::resting_levers(), {}, 0.0);
    double steps = 0;
    bool ok = true;
    for (const auto& held : {levers, body::resting_levers()}) {
      const double volume = bound.volume(0.0);
      bound.bind(held, {}, 0.0);
      bound.dilute(volume, 0.0, x.data());
      solve::Course course(x.size());
      const auto outcome = solver.solve(ledger, x, 0.0, 24.0 * 182, options, course);
      steps += static_cast<double>(outcome.statistics.steps);
      if (outcome.status != solve::Status::ok) {
        ok = false;
        break;
      }
      for (std::size_t s = 0; s < course.step_count(); ++s) {
        course.end_state(s, x.data());
        for (std::size_t i = 0; i < n; ++i) {
          if (!std::isfinite(x[i])) summary.not_finite += 1;
          if (x[i] / body->model->scales()[i] < summary.lowest) {
            summary.lowest = x[i] / body->model->scales()[i];
            summary.lowest_species = body->network.species[i].name;
          }
        }
      }
    }
    if (!ok) {
      summary.failures += 1;
      continue;
    }
    summary.most_steps = std::max(summary.most_steps, steps);
    summary.worst_balance = std::max(summary.worst_balance, worst_imbalance(*body, start, x));
  }
  return summary;
}

std::string to_text(const RandomSummary& s) {
  std::ostringstream out;
  out << "random lever settings: " << s.settings << "\nruns that failed: " << s.failures
      << "\nvalues that are not numbers: " << s.not_finite
      << "\nlowest value, in units of the species' scale: " << s.lowest
      << (s.lowest_species.empty() ? "" : " (" + s.lowest_species + ")")
      << "\nworst balance of a moiety, relative: " << s.worst_balance << "\nmost steps of a year: " << s.most_steps
      << '\n';
  return out.str();
}

}  // namespace drawdown::support
