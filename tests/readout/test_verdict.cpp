// One state and one reason: the limits by planted accounts, the stories by what is known of them (common practice, no
// source), and nothing said without its words.
#include "readout/verdict.hpp"

#include <doctest/doctest.h>

#include "account_of.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using readout::AccountOf;
using readout::LevelState;
using readout::LevelTrend;
using readout::Verdict;
using readout::Why;

namespace {

readout::Tokens tokens() {
  return readout::Tokens(*body::standard_model());
}

AccountOf at_rest() {
  AccountOf a;
  a.usual = 1.0;
  a.level = 1.0;
  a.debts.assign(tokens().size(), 0.0);
  a.debt_slopes.assign(tokens().size(), 0.0);
  return a;
}

Verdict on(const std::string& file, double day, std::size_t p) {
  const auto run = support::run_of(scenario::read_file(support::source_folder() + "/scenarios/" + file));
  const auto account = account_with(run);
  return readout::verdict_of(account->tokens(), account->at(p, 24 * day), p == 0 ? 0.9 : 0.1);
}

}  // namespace

TEST_CASE("a level is below usual from eight per cent on, and moves from a tenth of a per cent a day on") {
  const readout::Tokens t = tokens();
  AccountOf a = at_rest();
  CHECK(readout::verdict_of(t, a, 0.9) == Verdict{LevelState::usual, false, Why::none});
  a.against_usual = 0.925;
  CHECK(readout::verdict_of(t, a, 0.9).state == LevelState::usual);
  a.against_usual = 0.915;
  a.debts[t.first_tissue] = -0.05;
  a.debts[t.first_tissue + 1] = -0.03;
  a.debts[t.fluid] = -0.06;
  a.debts[t.made] = 0.055;
  // The tissues together owe most, though the fluid owes more than either.
  CHECK(readout::verdict_of(t, a, 0.9) == Verdict{LevelState::below, false, Why::complexes});
  a.debts[t.fluid] = -0.09;
  CHECK(readout::verdict_of(t, a, 0.9).why == Why::fluid);
  a.trend = LevelTrend::slowly_falling;
  a.slope = -0.3;
  a.debt_slopes[t.made] = -0.003;
  CHECK(readout::verdict_of(t, a, 0.9) == Verdict{LevelState::falling, true, Why::again});
  a.debts[t.made] = -0.01;
  CHECK(readout::verdict_of(t, a, 0.9).why == Why::made);
  // Slowly, and at usual: no more than usual.
  a.against_usual = 0.99;
  CHECK(readout::verdict_of(t, a, 0.9).state == LevelState::usual);
}

TEST_CASE("a drain and a tap both half as wide again hide each other, one alone does not") {
  const readout::Tokens t = tokens();
  AccountOf a = at_rest();
  a.tap = 1.6;
  a.drain = 1.6;
  CHECK(readout::verdict_of(t, a, 0.9).state == LevelState::hidden);
  a.tap = 1.4;
  CHECK(readout::verdict_of(t, a, 0.9).state == LevelState::usual);
  CHECK(readout::verdict_of(t, a, 1.1).state == LevelState::usual_low);
}

TEST_CASE("the kidney story falls by complexes, holds below by them and fills as the drain closes") {
  for (const std::size_t p : {0U, 1U}) {
    CHECK(on("02-kidney-flare.toml", 0, p).state == LevelState::usual);
    CHECK(on("02-kidney-flare.toml", 60, p) == Verdict{LevelState::falling, false, Why::complexes});
    CHECK(on("02-kidney-flare.toml", 125, p) == Verdict{LevelState::below, false, Why::complexes});
    CHECK(on("02-kidney-flare.toml", 160, p) == Verdict{LevelState::filling, false, Why::complexes});
  }
}

TEST_CASE("a failing liver is said to make less, an exchange to take out, an inherited low C4 to be usual here") {
  CHECK(on("06-liver-cannot-keep-up.toml", 90, 0) == Verdict{LevelState::falling, false, Why::made});
  CHECK(on("06-liver-cannot-keep-up.toml", 225, 0).why == Why::again);
  CHECK(on("16-plasma-exchange.toml", 40.05, 0) == Verdict{LevelState::falling, false, Why::taken_out});
  CHECK(on("16-plasma-exchange.toml", 50, 0) == Verdict{LevelState::filling, false, Why::taken_out});
  CHECK(on("10-unchecked-c1.toml", 60, 1).state == LevelState::usual_low);
}
