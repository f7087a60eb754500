// Adding up what the reactions say they count for.
#include "readout/flows.hpp"

#include <numeric>

namespace drawdown::readout {

namespace {

Flows flows_of(const body::Model& model, body::ProteinId protein, const std::vector<double>& shares,
               const std::vector<double>& state, const std::vector<double>& rates, double plasma_litres) {
  using body::Term;
  const body::Accounts& accounts = model.accounts();
  const std::size_t places = accounts.places.size();
  // nmol/L/h to g/day: litres * kDa * 1e-6 * 24
  const double grams = plasma_litres * model.proteins()[protein].mass * 1e-6;
  Flows f;
  f.spent.assign(places, 0.0);
  for (const body::Accounts::Entry& entry : accounts.entries[protein]) {
    const double amount = rates[entry.reaction] * entry.count * grams * 24;
    switch (entry.term) {
      case Term::made:
        f.made += amount;
        break;
      case Term::wear:
        f.ordinary += amount;
        break;
      case Term::to_tissue:
        f.out_to_tissue += amount;
        break;
      case Term::from_tissue:
        f.back_from_tissue += amount;
        break;
      case Term::taken_out:
        f.exchanged += amount;
        break;
      case Term::given:
        f.exchanged -= amount;
        break;
      case Term::lost:
        f.lost += amount;
        break;
      case Term::used:
        if (entry.classical) f.classical += amount;
        if (entry.origin.kind == body::Origin::Kind::place) {
          f.spent[entry.origin.index] += amount;
        } else {
          for (std::size_t p = 0; p < places; ++p) f.spent[p] += amount * shares[entry.origin.index * places + p];
        }
        break;
    }
  }
  f.alternative = f.spent_total() - f.classical;
  f.pool = state[model.in_plasma(protein)] * grams;
  f.slope = f.made + f.back_from_tissue - f.out_to_tissue - f.exchanged - f.used();
  return f;
}

}  // namespace

double Flows::spent_total() const {
  return std::accumulate(spent.begin(), spent.end(), 0.0);
}

FlowPair read_flows(const body::Model& model, const std::vector<double>& state, const std::vector<double>& rates,
                    double plasma_litres) {
  const std::vector<double> shares = model.accounts().shares(rates.data());
  return {flows_of(model, model.known().c3, shares, state, rates, plasma_litres),
          flows_of(model, model.known().c4, shares, state, rates, plasma_litres)};
}

Flows read_flows_of(const body::Model& model, body::ProteinId protein, const std::vector<double>& state,
                    const std::vector<double>& rates, double plasma_litres) {
  return flows_of(model, protein, model.accounts().shares(rates.data()), state, rates, plasma_litres);
}

}  // namespace drawdown::readout
