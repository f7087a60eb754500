// Production against use: for C3 and C4, how much is made, where it goes and how fast the pool turns over, at one
// moment. All from the network's reaction rates at that state and from what each reaction says it counts for
// (body/accounts.hpp); nothing is computed a second way.
//
// What activation uses is shared out among the places it happens. Active C1 and the convertases of all places are one
// pool each in the network, and live seconds to minutes; so a place's part of what they cleave is taken as its part of
// what woke them.
#pragma once

#include <algorithm>
#include <vector>

#include "body/body.hpp"

namespace drawdown::readout {

// Index in Flows::spent. The standard tissues; a catalogue with more has them after these.
enum class Place : std::size_t {
  fluid = body::place_fluid,
  red_cells = body::place_red_cells,
  kidney = body::first_tissue_place,
  skin,
  joints,
  serosa
};

// Grams a day in the whole plasma, unless stated.
struct Flows {
  double made = 0.0;
  double ordinary = 0.0;          // ordinary turnover
  double lost = 0.0;              // lost from the body whole
  std::vector<double> spent;      // by activation, at each of the model's places
  double classical = 0.0;         // part of the spent that the classical pathway took
  double alternative = 0.0;       // and the alternative pathway
  double out_to_tissue = 0.0;     // escape into tissue fluid
  double back_from_tissue = 0.0;  // return with the lymph
  double exchanged = 0.0;         // removed less replaced by plasma exchange
  double pool = 0.0;              // grams in the plasma
  double slope = 0.0;             // change of the pool, grams a day

  [[nodiscard]] double spent_total() const;
  // All that leaves for good but by plasma exchange.
  [[nodiscard]] double used() const { return ordinary + lost + spent_total(); }
  // Plasma exchange by its sign: taken out, or given with the replacement fluid.
  [[nodiscard]] double taken_out() const { return std::max(exchanged, 0.0); }
  [[nodiscard]] double given() const { return std::max(-exchanged, 0.0); }
  // All that comes and all that leaves for good; what is left of their difference is tissue fluid:
  // in() - out() + net_back() = slope.
  [[nodiscard]] double in() const { return made + given(); }
  [[nodiscard]] double out() const { return used() + taken_out(); }
  // Net flow into the blood from tissue fluid: positive while a level falls.
  [[nodiscard]] double net_back() const { return back_from_tissue - out_to_tissue; }
  // Fraction of the plasma pool used in a day (the papers' fractional catabolic rate times 24).
  [[nodiscard]] double share_used() const { return pool > 0.0 ? used() / pool : 0.0; }
};

struct FlowPair {
  Flows c3;
  Flows c4;
};

// At `state`, with `rates` as from network::Bound::rates there; plasma volume in litres.
[[nodiscard]] FlowPair read_flows(const body::Model& model, const std::vector<double>& state,
                                  const std::vector<double>& rates, double plasma_litres);
// The same for any protein of the model.
[[nodiscard]] Flows read_flows_of(const body::Model& model, body::ProteinId protein, const std::vector<double>& state,
                                  const std::vector<double>& rates, double plasma_litres);

}  // namespace drawdown::readout
