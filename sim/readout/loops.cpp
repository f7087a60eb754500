// Finding loops, and solving for what they would do.
#include "readout/loops.hpp"

#include <algorithm>
#include <cmath>

#include "network/factor_value.hpp"

namespace drawdown::readout {

namespace {

using network::Factor;
using network::FactorKind;
using network::Reaction;

// The species that a reaction's rate is straight in, among those marked; -1: none.
int driver_of(const Reaction& reaction, const std::vector<char>& marked) {
  for (const Factor& f : reaction.factors) {
    if (f.symbol.is_input || f.kind != FactorKind::first_order) continue;
    if (marked[static_cast<std::size_t>(f.symbol.index)] != 0) return f.symbol.index;
  }
  return -1;
}

// a x = b by elimination without pivoting: I - G with gains below one is diagonally dominant by columns.
void solve_in_place(std::vector<double>& a, std::vector<double>& b) {
  const std::size_t n = b.size();
  for (std::size_t c = 0; c < n; ++c) {
    for (std::size_t r = c + 1; r < n; ++r) {
      const double factor = a[r * n + c] / a[c * n + c];
      for (std::size_t d = c; d < n; ++d) a[r * n + d] -= factor * a[c * n + d];
      b[r] -= factor * b[c];
    }
  }
  for (std::size_t c = n; c-- > 0;) {
    for (std::size_t d = c + 1; d < n; ++d) b[c] -= a[c * n + d] * b[d];
    b[c] /= a[c * n + c];
  }
}

}  // namespace

Loops::Loops(const body::Model& model, std::vector<double> state, std::vector<double> rates)
    : model_(&model), usual_state_(std::move(state)), usual_rates_(std::move(rates)) {
  const network::Network& network = model.network();
  const std::size_t n = network.species.size();
  // Short-lived ones only: not the proteins themselves, nor their pools in tissue fluid.
  std::vector<char> candidate(n, 0);
  for (std::size_t i = 0; i < n; ++i) candidate[i] = network.species[i].per_litre ? 1 : 0;
  for (std::size_t p = 0; p < model.proteins().size(); ++p) {
    candidate[model.in_plasma(body::ProteinId(p))] = 0;
    if (model.proteins()[p].outside > 0.0) candidate[model.in_tissue(body::ProteinId(p))] = 0;
  }
  // What each drives the making of, and from there on; `beyond`: as an enzyme, which is not used up by it.
  struct Making {
    std::size_t by, what;
    bool beyond;
  };
  std::vector<Making> makings;
  std::vector<char> reaches(n * n, 0);
  for (const Reaction& reaction : network.reactions) {
    const int by = driver_of(reaction, candidate);
    if (by < 0) continue;
    double kept = 0.0;
    for (const network::Change& change : reaction.changes) kept += change.species == by ? change.count : 0.0;
    for (const network::Change& change : reaction.changes) {
      const auto to = static_cast<std::size_t>(change.species);
      if (!(change.count > 0.0) || candidate[to] == 0) continue;
      reaches[static_cast<std::size_t>(by) * n + to] = 1;
      makings.push_back({static_cast<std::size_t>(by), to, kept >= 0.0});
    }
  }
  for (std::size_t k = 0; k < n; ++k) {
    for (std::size_t i = 0; i < n; ++i) {
      if (reaches[i * n + k] == 0) continue;
      for (std::size_t j = 0; j < n; ++j) reaches[i * n + j] = std::max(reaches[i * n + j], reaches[k * n + j]);
    }
  }
  const auto together = [&](std::size_t i, std::size_t j) {
    return reaches[i * n + j] != 0 && reaches[j * n + i] != 0;
  };
  // Molecules that only turn into each other and back make no more of themselves.
  const auto amplified = [&](std::size_t i) {
    return std::any_of(makings.begin(), makings.end(),
                       [&](const Making& m) { return m.beyond && together(i, m.by) && together(i, m.what); });
  };
  std::vector<char> in_loop(n, 0);
  place_.assign(n, -1);
  for (std::size_t i = 0; i < n; ++i) {
    if (candidate[i] == 0 || reaches[i * n + i] == 0 || !amplified(i)) continue;
    in_loop[i] = 1;
    place_[i] = static_cast<int>(species_.size());
    species_.emplace_back(i);
  }
  for (std::size_t r = 0; r < network.reactions.size(); ++r) {
    const Reaction& reaction = network.reactions[r];
    const int by = driver_of(reaction, in_loop);
    driver_.push_back(by < 0 ? -1 : place_[static_cast<std::size_t>(by)]);
    for (const network::Change& change : reaction.changes) {
      const int of = place_[static_cast<std::size_t>(change.species)];
      if (of >= 0 && change.count > 0.0) {
        gains_.push_back({network::ReactionId(r), static_cast<std::size_t>(of), change.count});
      }
    }
  }
  usual_comes_ = comes(usual_rates_);
}

std::vector<double> Loops::comes(const std::vector<double>& rates) const {
  std::vector<double> all(species_.size(), 0.0);
  for (const Gain& gain : gains_) all[gain.of] += std::max(rates[gain.reaction], 0.0) * gain.count;
  return all;
}

std::vector<double> Loops::at_usual_gain(body::ProteinId protein, const std::vector<double>& state,
                                         const std::vector<double>& rates) const {
  const network::Network& network = model_->network();
  const auto itself = static_cast<int>(model_->in_plasma(protein).index);
  // What a reaction would run at for each of its driver that comes: as usual, but for what is today's.
  const auto per_driver = [&](std::size_t r) {
    const auto by = static_cast<std::size_t>(driver_[r]);
    if (!(usual_comes_[by] > 0.0)) return 0.0;
    double rate = usual_rates_[r] / usual_comes_[by];
    for (const Factor& f : network.reactions[r].factors) {
      if (f.symbol.is_input) continue;
      const auto at = static_cast<std::size_t>(f.symbol.index);
      const bool place = place_[at] >= 0 && f.kind != FactorKind::first_order;
      if (f.symbol.index != itself && !place) continue;
      const double usual = network::factor_value(f.kind, usual_state_[at], f.a.value, f.b.value).value;
      const double now = network::factor_value(f.kind, state[at], f.a.value, f.b.value).value;
      if (usual > 0.0) rate *= now / usual;
    }
    return rate;
  };
  const std::size_t n = species_.size();
  std::vector<double> each(rates.size(), 0.0);
  for (std::size_t r = 0; r < rates.size(); ++r) {
    if (driver_[r] >= 0) each[r] = per_driver(r);
  }
  std::vector<double> a(n * n, 0.0);
  std::vector<double> come(n, 0.0);
  for (std::size_t i = 0; i < n; ++i) a[i * n + i] = 1.0;
  for (const Gain& gain : gains_) {
    const int by = driver_[gain.reaction];
    if (by < 0) {
      come[gain.of] += std::max(rates[gain.reaction], 0.0) * gain.count;
    } else {
      a[gain.of * n + static_cast<std::size_t>(by)] -= each[gain.reaction] * gain.count;
    }
  }
  solve_in_place(a, come);
  // A usual gain of one or more has no answer, nor has a species that usually never comes: then nothing is owed to it.
  std::vector<double> out = rates;
  for (std::size_t i = 0; i < n; ++i) {
    if (!std::isfinite(come[i]) || come[i] < 0.0 || !(usual_comes_[i] > 0.0)) return out;
  }
  for (std::size_t r = 0; r < rates.size(); ++r) {
    if (driver_[r] >= 0) out[r] = each[r] * come[static_cast<std::size_t>(driver_[r])];
  }
  return out;
}

}  // namespace drawdown::readout
