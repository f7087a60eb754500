// A catalogue written out: the network of all its chapters, the plan to run it, what each reaction counts for, and
// every name turned into a place in a list. The same for every person; shared, never changed.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "body/accounts.hpp"
#include "body/catalogue.hpp"
#include "network/ids.hpp"
#include "network/network.hpp"
#include "network/plan.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::body {

using network::ReactionId;
using network::SpeciesId;
using LeverId = network::Id<struct LeverKind_>;  // also the place of its input in the network
using ProteinId = network::Id<struct ProteinKind>;
using ReadoutId = network::Id<struct ReadoutKind>;

// Where things settle and are used, besides the tissues (which follow, in the catalogue's order).
inline constexpr std::size_t place_fluid = 0;
inline constexpr std::size_t place_red_cells = 1;
inline constexpr std::size_t first_tissue_place = 2;

class Model {
 public:
  // Throws std::logic_error naming what is wrong: a chapter that speaks of what is not there, a reaction that does not
  // say what it counts for, a row twice, or a name the program itself needs and the catalogue does not have.
  explicit Model(Catalogue catalogue);

  [[nodiscard]] const std::vector<Protein>& proteins() const { return catalogue_.proteins; }
  [[nodiscard]] const std::vector<Tissue>& tissues() const { return catalogue_.tissues; }
  [[nodiscard]] const std::vector<Lever>& levers() const { return catalogue_.levers; }
  [[nodiscard]] const std::vector<Readout>& readouts() const { return catalogue_.readouts; }
  // Constants of synthesis, loss and refill stand at 0 here: a person's body has them.
  [[nodiscard]] const network::Network& network() const { return network_; }
  [[nodiscard]] const std::shared_ptr<const network::Plan>& plan() const { return plan_; }
  [[nodiscard]] const std::shared_ptr<const solve::LuPlan>& lu() const { return lu_; }
  [[nodiscard]] const Accounts& accounts() const { return accounts_; }
  [[nodiscard]] const std::vector<double>& scales() const { return scales_; }

  // By name; each throws std::logic_error for a name nobody declared. For setting up: what is done again and again
  // keeps the id.
  [[nodiscard]] SpeciesId species(std::string_view name) const;
  [[nodiscard]] ReactionId reaction(std::string_view name) const;
  [[nodiscard]] LeverId lever(std::string_view name) const;
  [[nodiscard]] ProteinId protein(std::string_view name) const;
  [[nodiscard]] ReadoutId readout(std::string_view name) const;
  // Nothing for a name nobody declared: for names that come from outside.
  [[nodiscard]] std::optional<LeverId> find_lever(std::string_view name) const;

  [[nodiscard]] std::vector<double> resting_levers() const;
  [[nodiscard]] std::vector<double> standard_levels() const;  // mg/L, by protein
  // Of a protein in the plasma, from its nmol/L.
  [[nodiscard]] double grams_per_litre(ProteinId protein, double nanomolar_value) const {
    return milligrams(nanomolar_value, catalogue_.proteins[protein].mass) / 1000.0;
  }

  // Of the circulating proteins, by row.
  [[nodiscard]] SpeciesId in_plasma(ProteinId protein) const { return plasma_[protein]; }
  [[nodiscard]] SpeciesId in_tissue(ProteinId protein) const { return outside_[protein]; }  // only if it goes there
  struct Made {
    ReactionId made, worn, refilled;
  };
  [[nodiscard]] const Made& reactions_of(ProteinId protein) const { return made_[protein]; }
  struct TissueIds {
    SpeciesId deposit, inflammation, injury;
    LeverId share;
  };
  [[nodiscard]] const std::vector<TissueIds>& tissue_ids() const { return tissue_ids_; }
  // The value of a readout in the blood, and as read from the day's sample.
  [[nodiscard]] double in_blood(ReadoutId id, const double* state, const double* levers) const {
    return reads_[id](state, levers);
  }
  [[nodiscard]] double in_sample(ReadoutId id, double in_blood, const double* levers) const {
    return samples_[id] ? samples_[id](in_blood, levers) : in_blood;
  }
  [[nodiscard]] double from_sample(ReadoutId id, const double* state, const double* levers) const {
    return in_sample(id, in_blood(id, state, levers), levers);
  }

  // What the program itself speaks of.
  struct Known {
    ProteinId c3, c4;
    SpeciesId antibody, antigen, complexes, acute_phase;
    LeverId antibody_drive, antigen_release, hepatic_output, pregnancy, fridge_days, cold_activation;
    std::vector<ReadoutId> report;  // in the order of report_names
  };
  [[nodiscard]] const Known& known() const { return known_; }

 private:
  void write_network();
  void resolve();

  Catalogue catalogue_;
  network::Network network_;
  std::shared_ptr<const network::Plan> plan_;
  std::shared_ptr<const solve::LuPlan> lu_;
  Accounts accounts_;
  std::vector<double> scales_;
  std::vector<SpeciesId> plasma_, outside_;
  std::vector<Made> made_;
  std::vector<TissueIds> tissue_ids_;
  std::vector<Readout::Read> reads_;
  std::vector<std::function<double(double, const double*)>> samples_;
  Known known_;
};

// The readouts the program speaks of by name (readout::Serum has a member for each, in this order).
inline constexpr std::array<const char*, 21> report_names{
    "C3",  "C4",  "C1q", "C2",  "factor B", "factor H", "factor I", "C1 inhibitor", "C5",       "C9",           "C4d",
    "C3d", "C3a", "Bb",  "C5a", "sC5b-9",   "CH50",     "AH50",     "anti-dsDNA",   "CRP-like", "urine protein"};

// Of standard_catalogue(), made once.
[[nodiscard]] const std::shared_ptr<const Model>& standard_model();
// Of the standard model, for what is written in terms of it (the ledger's experiments, the fit, sampled people): by
// name, throws std::logic_error for one nobody declared.
[[nodiscard]] LeverId lever_at(std::string_view name);
[[nodiscard]] ProteinId protein_at(std::string_view name);
[[nodiscard]] std::vector<double> resting_levers();

}  // namespace drawdown::body
