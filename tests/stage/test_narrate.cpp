// What is read from the account agrees with the flows: under random levers, on every day looked at.
#include <doctest/doctest.h>

#include <cmath>

#include "stage/narrate.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using namespace drawdown::stage;
using readout::LevelState;

namespace {
const look::WordBook& english() {
  static const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  return words;
}
}  // namespace

TEST_CASE("falling, filling and holding agree with the signs of the flows under 120 random lever settings") {
  std::mt19937 random(4711);
  int falling = 0;
  int filling = 0;
  int holding = 0;
  for (int trial = 0; trial < 120; ++trial) {
    const auto run = support::run_of(support::story_of_random_levers(random));
    const readout::Account account = account_of(*run);
    for (const double day : {3.0, 6.0, 12.0, 40.0, 61.0, 75.0, 110.0}) {
      const auto flows = run->flows(day);
      for (const Which which : {Which::c3, Which::c4}) {
        const readout::Flows& f = which == Which::c3 ? flows.c3 : flows.c4;
        const readout::Flows& quiet = which == Which::c3 ? run->usual_flows().c3 : run->usual_flows().c4;
        const Reading r = read_balance(*run, account, day, which);
        const double balance = f.made + f.net_back() - f.exchanged - f.used();
        if (r.verdict.state == LevelState::falling) {
          CHECK(balance < 0.0);
          CHECK(r.mover.slope < 0.0);
          falling += 1;
        } else if (r.verdict.state == LevelState::filling) {
          CHECK(balance > 0.0);
          CHECK(r.mover.slope > 0.0);
          filling += 1;
        } else {
          CHECK_FALSE(r.moves());
          CHECK(std::abs(balance) <= 0.0051 * quiet.pool + 1e-9);
          holding += 1;
        }
        if (r.verdict.state == LevelState::hidden) CHECK(r.account.drain >= 1.5);
        if (r.verdict.state == LevelState::below) CHECK(r.account.against_usual < 1.0);
        if (r.verdict.state == LevelState::above) CHECK(r.account.against_usual > 1.0);
      }
      for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
        const std::string said = balance_sentence(*run, account, day, english(), depth);
        CHECK_FALSE(said.empty());
        CHECK(said.find('<') == std::string::npos);
        CHECK(said.find('{') == std::string::npos);
      }
    }
  }
  CHECK(falling > 50);
  CHECK(filling > 50);
  CHECK(holding > 50);
}

TEST_CASE("the shipped stories read as they are meant: usual, falling, low and holding, hidden, low but quiet") {
  const auto reading = [](const char* story, double day, Which which) {
    const auto run = simulate(scenario::read_file(support::source_folder() + "/scenarios/" + story));
    return read_balance(*run, day, which);
  };
  const auto state = [&](const char* story, double day, Which which) {
    return reading(story, day, which).verdict.state;
  };
  CHECK(state("01-steady-day.toml", 30, Which::c3) == LevelState::usual);
  CHECK(state("02-kidney-flare.toml", 50, Which::c4) == LevelState::falling);
  const Reading low = reading("02-kidney-flare.toml", 120, Which::c3);
  CHECK(low.verdict.state == LevelState::below);
  REQUIRE_FALSE(low.down.empty());
  CHECK(low.down.front().cause == Cause::complexes);
  REQUIRE_FALSE(low.up.empty());
  CHECK(low.up.front().cause == Cause::made);
  CHECK(low.below_range);
  CHECK(reading("02-kidney-flare.toml", 120, Which::c4).below_range);
  CHECK(reading("02-kidney-flare.toml", 170, Which::c4).turn == Turn::pulled_less);
  const auto hidden = reading("03-flare-the-test-misses.toml", 120, Which::c4);
  CHECK(hidden.verdict.state == LevelState::hidden);
  CHECK_FALSE(hidden.below_range);
  CHECK_FALSE(reading("03-flare-the-test-misses.toml", 120, Which::c3).below_range);
  CHECK(reading("03-flare-the-test-misses.toml", 133, Which::c4).turn == Turn::eases);
  const auto quiet = reading("04-low-but-quiet.toml", 60, Which::c4);
  CHECK(quiet.verdict.state == LevelState::usual_low);
  CHECK(quiet.born.genes);
  CHECK(quiet.below_range);
  const auto inside = reading("05-falling-inside.toml", 200, Which::c3);
  CHECK_FALSE(inside.below_range);
  CHECK(inside.account.against_usual < 0.75);
  const auto liver = reading("06-liver-cannot-keep-up.toml", 70, Which::c3);
  CHECK(liver.verdict.state == LevelState::falling);
  CHECK(liver.mover.cause == Cause::made);
  CHECK(liver.account.tap < 0.9);
  CHECK(reading("06-liver-cannot-keep-up.toml", 205, Which::c3).turn == Turn::recovers);
  CHECK(reading("16-plasma-exchange.toml", 46.5, Which::c3).turn == Turn::refills);
}

TEST_CASE("levels are written as a laboratory writes them, in either unit") {
  CHECK(level_text(0.734, Which::c3, scenario::Unit::g_per_l) == "0.73");
  CHECK(level_text(0.734, Which::c3, scenario::Unit::mg_per_dl) == "73");
  CHECK(level_text(0.084, Which::c4, scenario::Unit::mg_per_dl) == "8.4");
  CHECK(look::number(-0.001, 2) == "0.00");
}

TEST_CASE("a level that is not at a limit is not printed as the limit") {
  const scenario::Interval range{0.10, 0.40};
  const auto gram = scenario::Unit::g_per_l;
  CHECK(level_text_beside(0.098, range, Which::c4, gram) == "0.098");
  CHECK(level_text_beside(0.0998, range, Which::c4, gram) == "0.0998");
  CHECK(level_text_beside(0.10, range, Which::c4, gram) == "0.10");
  CHECK(level_text_beside(0.21, range, Which::c4, gram) == "0.21");
  CHECK(level_text_beside(0.8996, {0.90, 1.80}, Which::c3, scenario::Unit::mg_per_dl) == "89.96");
}

TEST_CASE("the difference between a kept run and the present one is said with its sign") {
  AppState s = support::opening_state();
  const auto worse = simulate(support::settled_with({{"hepatic_output", 0.5}}, 30));
  const auto usual = simulate(support::settled_with({}, 30));
  const std::string said = difference_in_words({"A", usual}, *worse, english(), scenario::Unit::g_per_l);
  CHECK(said.find("C3: lowest 0.6") != std::string::npos);
  CHECK(said.find("instead of 1.20 g/L") != std::string::npos);
  CHECK(said.find("Below the range on 30 days instead of 0") != std::string::npos);
}

TEST_CASE("a difference is told by what was changed: its parts add up, and what was not changed is not blamed") {
  const auto usual = simulate(support::story_with({{"antibody_drive", 4}, {"antigen_release", 2}}, 60, 5));
  const auto poor =
      simulate(support::story_with({{"antibody_drive", 4}, {"antigen_release", 2}, {"hepatic_output", 0.5}}, 60, 5));
  const auto said = [&](const std::shared_ptr<const Run>& kept, const Run& now) {
    return difference_in_words({"A", kept}, now, account_of(now), 50, english(), scenario::Unit::g_per_l);
  };
  const std::string liver = said(usual, *poor);
  CHECK(liver.find("Changed: " + english().at("lever.hepatic_output") + ".") != std::string::npos);
  const auto blamed = [](const std::string& text) {
    std::string all;
    for (std::size_t at = text.find("By what was changed:"); at != std::string::npos;
         at = text.find("By what was changed:", at + 1)) {
      all += text.substr(at, text.find(". ", at) - at);
    }
    return all;
  };
  CHECK(blamed(liver).find("less being made (-") != std::string::npos);
  CHECK(blamed(liver).find("complexes") == std::string::npos);
  // The negative control: with the complexes changed it is they.
  const auto calm = simulate(support::story_with({{"hepatic_output", 0.5}}, 60, 5));
  const std::string complexes = said(calm, *poor);
  CHECK(blamed(complexes).find("use at complexes (-") != std::string::npos);
  CHECK(blamed(complexes).find("being made") == std::string::npos);
  // What is so from the start is in the usual level.
  const auto few = simulate(support::settled_with({{"c4_gene_copies", 2}}, 60));
  const std::string genes = said(simulate(support::settled_with({}, 60)), *few);
  CHECK(genes.find("Usual is 0.12 instead of 0.25 g/L") != std::string::npos);
  CHECK(blamed(genes).empty());
  // Nothing changed.
  const std::string same = said(usual, *usual);
  CHECK(same.find("Nothing was changed") != std::string::npos);
  CHECK(blamed(same).empty());
  // Usual and debts add up to the difference of the levels.
  for (const Which which : {Which::c3, Which::c4}) {
    const Reading a = read_balance(*usual, 50, which);
    const Reading b = read_balance(*poor, 50, which);
    double parts = b.account.usual - a.account.usual;
    for (const Owed& one : b.all) parts += one.debt;
    for (const Owed& one : a.all) parts -= one.debt;
    CHECK(std::abs(parts - (b.account.level - a.account.level)) < 5e-5);
    CHECK(std::abs(b.account.level - a.account.level) > 0.02);
  }
}
