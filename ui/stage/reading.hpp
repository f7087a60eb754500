// What is to be said of a level on a day, from its account (sim/readout/account.hpp): where it stands, where it goes,
// what owes the difference. Words are narrate.hpp's.
#pragma once

#include <vector>

#include "look/names.hpp"
#include "readout/verdict.hpp"
#include "stage/state.hpp"

namespace drawdown::stage {

enum class Which { c3, c4 };

// What a debt is owed to, as it is said: tissues added up; never `none` or `again`.
using Cause = readout::Why;

// How the cause that moves the level moves it: the debt that changes fastest the way the level goes.
enum class Turn {
  none,
  pulled_more,  // falling: a debt below 0 grows
  pulled_less,  // filling: a debt below 0 shrinks
  lifted_more,  // filling: one above 0 grows
  lifted_less,  // falling: one above 0 shrinks
  refills,      // pulled_less, of plasma that was taken out
  recovers,     // pulled_less, of what is made
  again,        // lifted_less, of what is made
  eases         // again, while the acute phase signal falls
};
inline constexpr look::Names<9> turn_names{"none",    "pulled_more", "pulled_less", "lifted_more", "lifted_less",
                                           "refills", "recovers",    "again",       "eases"};

struct Owed {
  Cause cause = Cause::made;
  double debt = 0.0;   // g/L
  double slope = 0.0;  // g/L a day
};

struct Reading {
  readout::AccountOf account;
  readout::Verdict verdict;  // `surfaces` where that is at work
  readout::Born born;
  std::vector<Owed> all;  // a row a cause
  // Those of at least least_debt of usual, by sign, largest first.
  std::vector<Owed> down, up;
  Turn turn = Turn::none;
  Owed mover;  // of a level that moves
  bool below_range = false;
  bool above_range = false;
  [[nodiscard]] bool names(Cause cause) const;  // in down, in up or as what moves it
  [[nodiscard]] bool moves() const { return turn != Turn::none; }
};
// What C3 is used in tissue on that day is not begun by complexes: an activating surface is at work.
[[nodiscard]] bool without_complexes(const Run& run, double day);
[[nodiscard]] Reading read_balance(const Run& run, const readout::Account& account, double day, Which which);
// Makes the account for it: slow, for tests and tables.
[[nodiscard]] Reading read_balance(const Run& run, double day, Which which);

}  // namespace drawdown::stage
