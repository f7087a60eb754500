// Amplification loops, found in the network: species per litre of plasma that help to make themselves (an enzyme makes
// what the enzyme is made of). How much a loop uses is what feeds it times its gain; this tells what it would use at
// the usual gain, so that the rest is owed to a changed gain and all else to what feeds the loop.
//
// N_s, what comes of a species s in an hour, is what feeds it, B_s, and what the loop's species make: N = B + G N, with
// G_ts the amount of t that reactions driven by s make for each s that comes. At the usual gain N* = B + G* N*. G* is G
// of the usual state, but for how much of the protein asked about there is and how full the loop's places are: those
// are today's. So fewer molecules to use, or full surfaces, are no changed gain; other enzymes, regulators and levers
// are.
#pragma once

#include <cstdint>
#include <vector>

#include "body/model.hpp"

namespace drawdown::readout {

class Loops {
 public:
  // `state` and `rates` (nmol/L, nmol/L/h) of the usual person.
  Loops(const body::Model& model, std::vector<double> state, std::vector<double> rates);

  // Whether a species of a loop drives this reaction.
  [[nodiscard]] bool drives(network::ReactionId reaction) const { return driver_[reaction] >= 0; }
  [[nodiscard]] const std::vector<network::SpeciesId>& species() const { return species_; }
  // The rates that the reactions driven by loops would have at the usual gain, fed as at this state with these rates;
  // the others as they are. nmol/L/h.
  [[nodiscard]] std::vector<double> at_usual_gain(body::ProteinId protein, const std::vector<double>& state,
                                                  const std::vector<double>& rates) const;

 private:
  struct Gain {
    network::ReactionId reaction;
    std::size_t of;  // in species_
    double count;
  };
  [[nodiscard]] std::vector<double> comes(const std::vector<double>& rates) const;

  const body::Model* model_;
  std::vector<network::SpeciesId> species_;
  std::vector<int> place_;   // of a species in species_, or -1
  std::vector<int> driver_;  // by reaction, in species_, or -1
  std::vector<Gain> gains_;
  std::vector<double> usual_state_, usual_rates_, usual_comes_;
};

}  // namespace drawdown::readout
