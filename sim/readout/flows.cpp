// Sharing the reaction rates out.
#include "readout/flows.hpp"

#include <numeric>
#include <set>
#include <stdexcept>

namespace drawdown::readout {

namespace {

using Shares = std::array<double, place_count>;

constexpr std::size_t at(Place place) {
  return static_cast<std::size_t>(place);
}

// The place each waking of C1 on a surface counts for, and each source of surface C3b.
struct Source {
  const char* reaction;
  Place place;
};
constexpr std::array<Source, 5> surface_wakings{{{"wake_kidney", Place::kidney},
                                                 {"wake_skin", Place::skin},
                                                 {"wake_joints", Place::joints},
                                                 {"wake_serosa", Place::serosa},
                                                 {"wake_red_cells", Place::red_cells}}};
constexpr std::array<const char*, 4> c4_at_surfaces{"c4_surface_lost", "c4_convertase", "c4_sparse", "c4_bound_idle"};
constexpr std::array<const char*, 2> c3_classical{"c3_classical_bound", "c3_classical_free"};
constexpr std::array<const char*, 2> c3_surface{"c3_surface_bound", "c3_surface_free"};
constexpr std::array<const char*, 2> c3_fluid{"tick_over", "c3_loop"};

Shares normalised(Shares shares) {
  const double total = std::accumulate(shares.begin(), shares.end(), 0.0);
  if (total <= 0.0) {
    shares.fill(0.0);
    shares[at(Place::fluid)] = 1.0;
    return shares;
  }
  for (double& share : shares) share /= total;
  return shares;
}

}  // namespace

double Flows::spent_total() const {
  return std::accumulate(spent.begin(), spent.end(), 0.0);
}

FlowReader::FlowReader(const body::Body& body) : body_(&body) {}

FlowPair FlowReader::read(const std::vector<double>& state, const std::vector<double>& rates,
                          double plasma_litres) const {
  const network::Network& network = body_->network;
  const auto rate = [&](const std::string& name) {
    const int index = network.reaction_index(name);
    if (index < 0) throw std::logic_error("readout: no reaction named " + name);
    return rates[static_cast<std::size_t>(index)];
  };

  Shares woken{};
  for (const Source& source : surface_wakings) woken[at(source.place)] += rate(source.reaction);
  const Shares classical_shares = normalised(woken);

  // Surface C3b comes from the classical convertase at each place, from fluid C3b landing on host cells, and from an
  // activating surface, which sits in the kidney.
  Shares seeds{};
  for (std::size_t p = 0; p < place_count; ++p) seeds[p] = rate("c3_classical_bound") * classical_shares[p];
  seeds[at(Place::fluid)] += rate("land_C3b");
  seeds[at(Place::kidney)] += rate("activator_works");
  const Shares surface_shares = normalised(seeds);

  const auto common = [&](const char* name) {
    const auto& protein = body::proteins[static_cast<std::size_t>(body::protein_index(name))];
    const std::string n = name;
    // nmol/L/h to g/day: litres * kDa * 1e-6 * 24
    const double grams = plasma_litres * protein.mass * 1e-6;
    Flows f;
    f.made = rate("make_" + n) * grams * 24;
    f.ordinary = rate("turn_over_" + n) * grams * 24;
    f.out_to_tissue = (rate("escape_" + n) + rate("leak_" + n) + rate("inflamed_leak_" + n)) * grams * 24;
    f.back_from_tissue = rate("return_" + n) * grams * 24;
    f.exchanged = (rate("exchange_out_" + n) - rate("exchange_in_" + n)) * grams * 24;
    f.pool = state[static_cast<std::size_t>(network.species_index(n))] * grams;
    return std::make_pair(f, grams * 24);
  };
  const auto spend = [](Flows& f, double amount, const Shares& shares) {
    for (std::size_t p = 0; p < place_count; ++p) f.spent[p] += amount * shares[p];
  };
  const auto finish = [](Flows& f) {
    f.slope = f.made + f.back_from_tissue - f.out_to_tissue - f.exchanged - f.used();
  };

  auto [c4, c4_grams] = common("C4");
  for (const char* name : c4_at_surfaces) spend(c4, rate(name) * c4_grams, classical_shares);
  c4.spent[at(Place::fluid)] += rate("c4_fluid") * c4_grams;
  c4.classical = c4.spent_total();
  finish(c4);

  auto [c3, c3_grams] = common("C3");
  for (const char* name : c3_classical) {
    spend(c3, rate(name) * c3_grams, classical_shares);
    c3.classical += rate(name) * c3_grams;
  }
  for (const char* name : c3_surface) spend(c3, rate(name) * c3_grams, surface_shares);
  for (const char* name : c3_fluid) c3.spent[at(Place::fluid)] += rate(name) * c3_grams;
  c3.spent[at(Place::kidney)] += rate("activator_works") * c3_grams;
  c3.alternative = c3.spent_total() - c3.classical;
  finish(c3);
  return {c3, c4};
}

std::vector<std::string> FlowReader::uncounted() const {
  std::set<std::string> counted{"activator_works", "c4_fluid"};
  for (const char* name : c4_at_surfaces) counted.insert(name);
  for (const char* name : c3_classical) counted.insert(name);
  for (const char* name : c3_surface) counted.insert(name);
  for (const char* name : c3_fluid) counted.insert(name);
  for (const std::string protein : {"C3", "C4"}) {
    for (const char* kind :
         {"make_", "turn_over_", "escape_", "leak_", "inflamed_leak_", "return_", "exchange_out_", "exchange_in_"}) {
      counted.insert(kind + protein);
    }
  }
  std::vector<std::string> missing;
  const int c3 = body_->network.species_index("C3");
  const int c4 = body_->network.species_index("C4");
  for (const network::Reaction& reaction : body_->network.reactions) {
    for (const network::Change& change : reaction.changes) {
      const bool touches = change.species == c3 || change.species == c4;
      if (touches && counted.count(reaction.name) == 0) missing.push_back(reaction.name);
    }
  }
  return missing;
}

}  // namespace drawdown::readout
