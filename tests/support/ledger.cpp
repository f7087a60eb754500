#include "support/ledger.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::support {

double moiety_amount(const network::Moiety& moiety, const double* x) {
  double sum = 0.0;
  for (const network::Change& member : moiety.members) sum += member.count * x[member.species];
  return sum;
}

Ledger::Ledger(const body::Body& body, network::Bound<double>& bound) : body_(&body), bound_(&bound) {
  const std::size_t n = bound.plan().species;
  pattern_ = bound.pattern();
  pattern_.size = n + body.network.moieties.size();
  for (std::size_t m = 0; m < body.network.moieties.size(); ++m) {
    for (std::size_t j = 0; j < n; ++j) pattern_.entries.emplace_back(static_cast<int>(n + m), static_cast<int>(j));
  }
}

void Ledger::derivative(double t, const double* x, double* dxdt) const {
  bound_->derivative(t, x, dxdt);
  const std::size_t n = bound_->plan().species;
  std::vector<double> rates(bound_->plan().reactions());
  bound_->rates(t, x, rates.data());
  for (std::size_t m = 0; m < body_->network.moieties.size(); ++m) {
    double net = 0.0;
    for (std::size_t r = 0; r < rates.size(); ++r) {
      net += network::moiety_change(body_->network.moieties[m], body_->network.reactions[r]) * rates[r];
    }
    dxdt[n + m] = net * bound_->volume(t);
  }
}

void Ledger::jacobian(double t, const double* x, double* values, double* dfdt) const {
  const std::size_t inner = bound_->pattern().entries.size();
  const std::size_t n = bound_->plan().species;
  bound_->jacobian(t, x, values, dfdt);
  // Rows of the ledger: the moiety's sum over the network's rows without the dilution, times the volume. Its slope and
  // bend by differences, exact for a volume straight in two levers; forward, since a lever has no value before a ramp
  // from zero.
  const double h = 1.0;
  const double volume = bound_->volume(t);
  const double next = bound_->volume(t + h);
  const double bend = (bound_->volume(t + 2 * h) - 2 * next + volume) / (h * h);
  const double slope = (next - volume) / h - 0.5 * h * bend;
  std::vector<double> net(n);
  bound_->derivative(t, x, net.data());
  std::size_t slot = inner;
  std::size_t m = 0;
  for (const network::Moiety& moiety : body_->network.moieties) {
    std::vector<double> row(n, 0.0);
    double drift = 0.0;
    for (std::size_t e = 0; e < inner; ++e) {
      const auto [i, j] = bound_->pattern().entries[e];
      for (const network::Change& member : moiety.members) {
        if (member.species == i) row[static_cast<std::size_t>(j)] += member.count * values[e];
      }
    }
    for (const network::Change& member : moiety.members) {
      const auto i = static_cast<std::size_t>(member.species);
      row[i] += member.count * slope / volume;
      drift += member.count * (volume * dfdt[i] + slope * net[i] + bend * x[i]);
    }
    for (std::size_t j = 0; j < n; ++j) values[slot++] = volume * row[j];
    dfdt[n + m++] = drift;
  }
}

double worst_imbalance(const body::Body& body, const std::vector<double>& start, const std::vector<double>& end,
                       double volume_at_start, double volume_at_end) {
  double worst = 0.0;
  for (std::size_t m = 0; m < body.network.moieties.size(); ++m) {
    const double before = volume_at_start * moiety_amount(body.network.moieties[m], start.data());
    const double change = volume_at_end * moiety_amount(body.network.moieties[m], end.data()) - before;
    const double booked = end[body.network.species.size() + m] - start[body.network.species.size() + m];
    worst = std::max(worst, std::abs(change - booked) / before);
  }
  return worst;
}

}  // namespace drawdown::support
