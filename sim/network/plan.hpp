// The network worked out once for running: the factors that differ, the reactions sorted by how many things they
// multiply, and where every term of the derivative and of the Jacobian goes. Indices and plain numbers only, no state:
// one plan is shared by everyone who runs the network, on whatever number type (bound.hpp).
#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <utility>
#include <vector>

#include "network/network.hpp"

namespace drawdown::network {

// Positions (row, column) of the entries of a square matrix that can differ from zero, row by row.
struct Pattern {
  std::size_t size = 0;
  std::vector<std::pair<int, int>> entries;
};

struct Plan {
  // Keeps the network's numbers, not its texts. Throws std::logic_error if `network` is not valid or a rate law has
  // more than most_operands factors on species.
  explicit Plan(const Network& network);

  static constexpr std::size_t most_operands = 6;

  std::size_t species = 0;
  std::size_t inputs = 0;
  std::vector<double> rests;  // of the inputs
  Pattern pattern;            // of the Jacobian, the whole diagonal included

  // A factor on a species that is more than the species itself. Equal ones stand here once. An *operand* is a species
  // (its index) or a term (species + its index).
  struct Term {
    FactorKind kind;
    std::uint16_t species;
    double a;
    double b;
  };
  std::vector<Term> terms;  // in order of kind

  // Reactions in an order of their own: those with no operand first, then one, and so on.
  std::vector<double> constants;                         // as written
  std::vector<std::uint32_t> written_as;                 // index in the network's list
  std::vector<std::uint32_t> place_of;                   // and the other way round
  std::array<std::uint32_t, most_operands + 2> first{};  // those with a operands: first[a] to first[a + 1]
  std::vector<std::uint16_t> operands;                   // one reaction's after the other's
  [[nodiscard]] std::size_t reactions() const { return constants.size(); }

  // Factors on inputs, which are folded into the constants where the input is held.
  struct InputFactor {
    FactorKind kind;
    std::uint16_t input;
    double a;
    double b;
  };
  std::vector<InputFactor> input_factors;
  std::vector<std::uint32_t> first_input_factor;  // by reaction; one more than there are reactions
  std::vector<InputFactor> volume;                // of the plasma, as a share of the usual

  // What a growing volume dilutes, and its place on the Jacobian's diagonal.
  struct Diluted {
    std::uint32_t species;
    std::uint32_t entry;
  };
  std::vector<Diluted> diluted;

  // `count` times the number at `from`.
  struct Part {
    std::uint32_t from;
    double count;
  };
  std::vector<Part> changes;  // by species: of reactions
  std::vector<std::uint32_t> first_change;
  std::vector<Part> effects;  // by reaction: on species
  std::vector<std::uint32_t> first_effect;

  // The derivative of a reaction's rate by the species behind one operand: its constant, the operand's slope, the other
  // operands. Only of reactions that are not linear; in order of the number of others.
  struct Partial {
    std::uint32_t reaction;
    std::uint16_t by;
    std::array<std::uint16_t, most_operands - 1> others;
  };
  std::vector<Partial> partials;
  std::array<std::uint32_t, most_operands + 1> first_partial{};
  std::vector<std::uint32_t> touched;  // entries of the pattern that partials add to
  std::vector<Part> touches;           // for each of them: of partials
  std::vector<std::uint32_t> first_touch;
  // Reactions on one species alone add their constant to entries of the pattern: `from` is the entry.
  std::vector<Part> linear;
  std::vector<std::uint32_t> first_linear;  // by reaction
};

}  // namespace drawdown::network
