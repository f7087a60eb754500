// How far each constant of the model can be moved before a figure of the ledger leaves its range.
#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "study/truth.hpp"

namespace drawdown::study::truth {

inline constexpr std::array<double, 6> reach_steps{1.05, 1.1, 1.2, 1.5, 2.0, 4.0};

// A constant as it is written: one line of a chapter that stands for all tissues is one constant, "wake_@". A factor's
// is "REACTION/WHAT", a protein's "NAME.FIELD". What escapes into tissue fluid and what comes back move together.
struct WrittenConstant {
  std::string name;
  std::vector<std::string> members;  // names that world.hpp takes
  double value = 0.0;                // of the first
  std::string what;                  // its reaction in words, or the protein
  std::string source;
};
// Without definitions (a lever's own unit, gene copies) and what is zero.
[[nodiscard]] std::vector<WrittenConstant> written_constants();

struct Reach {
  double up = 0.0, down = 0.0;  // the first step, multiplied or divided by, that takes a figure out; 0: none
  std::vector<std::string> first_up, first_down;  // those figures; "no healthy body" where none can be made
  double moved = 0.0;  // by the last step either way: the farthest any figure moves, as part of its range
};
// Without groups of people. Runs the ledger up to a dozen times.
[[nodiscard]] Reach reach_of(const WrittenConstant& constant);

// One line of the table: name, value, down, first_down, up, first_up, moved, source; tabs between.
[[nodiscard]] std::string reach_head();
[[nodiscard]] std::string reach_line(const WrittenConstant& constant, const Reach& reach);

// Of the assumed constants that nothing breaks within a factor of 4 the ten that move the figures least (`moved` in
// tests/published/constants.txt, to which a test holds this list), with what they do, value and source.
[[nodiscard]] std::vector<std::string> least_supported();

}  // namespace drawdown::study::truth
