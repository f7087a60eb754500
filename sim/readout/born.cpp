// Settling the same person with one or all of the inherited things put right.
#include "readout/born.hpp"

#include <cmath>

namespace drawdown::readout {

namespace {

enum class Kind { none, genes, liver, supply };

Kind kind_of(const body::Model& model, std::size_t lever) {
  const body::Lever& row = model.levers()[lever];
  if (row.group == body::LeverGroup::inherited) return Kind::genes;
  if (row.group != body::LeverGroup::production) return Kind::none;
  return lever == model.known().hepatic_output ? Kind::liver : Kind::supply;
}

}  // namespace

std::vector<Born> born_of(const body::Body& body, const std::vector<double>& usual, const std::vector<double>& levers,
                          const std::vector<body::ProteinId>& proteins) {
  const body::Model& model = *body.model;
  std::vector<Born> born(proteins.size());
  // The levels with one kind (none: all) at rest; empty if nothing of it differs, or it does not settle.
  const auto with_rest = [&](Kind kind) {
    std::vector<double> at_rest = levers;
    bool differs = false;
    for (std::size_t i = 0; i < levers.size(); ++i) {
      const Kind of = kind_of(model, i);
      if (of == Kind::none || (kind != Kind::none && of != kind)) continue;
      differs = differs || at_rest[i] != model.levers()[i].rest;
      at_rest[i] = model.levers()[i].rest;
    }
    return differs ? body::settled(body, at_rest).state : std::vector<double>{};
  };
  const auto share = [&](const std::vector<double>& state, std::size_t p) {
    const std::size_t at = model.in_plasma(proteins[p]);
    return state.empty() || !(state[at] > 0.0) ? 1.0 : usual[at] / state[at];
  };
  const std::vector<double> all = with_rest(Kind::none);
  if (all.empty()) return born;
  const auto moves = [&](Kind kind, bool Born::*flag) {
    const std::vector<double> state = with_rest(kind);
    for (std::size_t p = 0; p < proteins.size(); ++p) born[p].*flag = std::abs(share(state, p) - 1.0) >= least_born;
  };
  moves(Kind::genes, &Born::genes);
  moves(Kind::liver, &Born::liver);
  moves(Kind::supply, &Born::supply);
  for (std::size_t p = 0; p < proteins.size(); ++p) born[p].share = share(all, p);
  return born;
}

}  // namespace drawdown::readout
