// The reaction network as data: species, inputs (levers seen from below) and reactions, each with its rate law,
// stoichiometry, chapter and source. Everything else - derivative, Jacobian, fluxes, conserved sums, printed
// equations, the map on screen - is read from this one list. Nothing here knows any biology.
//
// Units: amounts are concentrations (the species says which, nmol per litre of plasma unless stated), time in hours.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace drawdown::network {

// A number with its name, unit and where it comes from ("assumed" when nobody measured it).
struct Constant {
  double value = 0.0;
  std::string unit;
  std::string source;
};

struct Species {
  std::string name;     // identifier, unique, snake_case
  std::string label;    // what a person calls it
  std::string unit;     // unit of its amount
  std::string chapter;  // which part of the model it belongs to
  double scale = 1.0;   // a typical amount, sets the absolute tolerance of the solver
  // An amount per litre of plasma as there is now: what is in the plasma, and the pools it exchanges with, counted on
  // the same litres. Where the plasma grows it is diluted. False: an amount of another kind, whatever the plasma does.
  bool per_litre = false;
};

// A named number that the network reads and does not change: held, stepped or ramped from outside.
struct Input {
  std::string name;
  std::string unit;
  double rest = 0.0;  // value when nothing acts
};

// What a factor reads: a species or an input, by index.
struct Symbol {
  bool is_input = false;
  int index = -1;
};

enum class FactorKind {
  first_order,  // x
  saturating,   // x / (a + x)
  repressing,   // 1 / (1 + (x/a)^b)
  gain,         // 1 + a x
  floor,        // a + (1 - a) x / b
  reciprocal    // 1 / x (inputs only: never zero there)
};

// One factor of a rate law. Below zero (round-off) first_order uses x as it is; every other kind uses max(x, 0)
// with a zero derivative, so that the rate and its Jacobian always agree.
struct Factor {
  FactorKind kind = FactorKind::first_order;
  Symbol symbol;
  Constant a;
  Constant b;
};

struct Change {
  int species = -1;
  double count = 0.0;  // molecules gained (+) or lost (-) per event
};

// rate = constant * product of factors, in amount per hour.
struct Reaction {
  std::string name;   // identifier, unique
  std::string label;  // what happens, in words
  std::string chapter;
  Constant constant;
  std::vector<Factor> factors;
  std::vector<Change> changes;
};

// A weighted sum of species, for instance all C3 atoms wherever they sit.
struct Moiety {
  std::string name;
  std::vector<Change> members;
};

struct Network {
  std::vector<Species> species;
  std::vector<Input> inputs;
  std::vector<Reaction> reactions;
  std::vector<Moiety> moieties;
  // The plasma volume as a share of the usual: the product of these factors, each on an input and straight in it
  // (first_order or gain); none: always the usual. Every species per litre changes by -x V'/V besides its reactions,
  // and by V before / V after where the volume jumps, so that litres times amounts balance.
  std::vector<Factor> volume;

  // Index of a name, or -1.
  [[nodiscard]] int species_index(std::string_view name) const;
  [[nodiscard]] int input_index(std::string_view name) const;
  [[nodiscard]] int reaction_index(std::string_view name) const;
};

// Throws std::logic_error naming the fault if an index is out of range, a name repeats, a constant is not finite or
// lacks its source, a factor's parameters make no sense, the volume reads a species or is not straight in an input, or
// a reaction turns what is counted per litre of plasma into what is not.
void validate(const Network& network);

// The plasma volume as a share of the usual, at these values of the inputs.
[[nodiscard]] double volume_share(const Network& network, const std::vector<double>& inputs);

// The net count of a moiety that a reaction makes (+) or destroys (-) per event.
[[nodiscard]] double moiety_change(const Moiety& moiety, const Reaction& reaction);

// "Species", "Reactions" and "Constants" as Markdown: every equation with unit and source.
[[nodiscard]] std::string equations_markdown(const Network& network);

// How the signs of a rate law are spelled: what a factor reads, its constants 'a' and 'b' (with the factor's place),
// the rate constant, and the number one.
struct Spelling {
  std::function<std::string(const Symbol&)> symbol;
  std::function<std::string(std::size_t factor, const Constant& constant, char which)> constant;
  std::string rate_constant;
  std::string one;
};
// A rate law as written mathematics: the one walk over its factors that every reader of it gets, people and SBML.
[[nodiscard]] std::string rate_form(const Reaction& reaction, const Spelling& spelling);

// One reaction's rate law in words of the species, for instance "0.3 * C4 / (150 + C4) * C1_surface".
[[nodiscard]] std::string rate_text(const Network& network, const Reaction& reaction);

}  // namespace drawdown::network
