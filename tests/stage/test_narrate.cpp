// The sentence agrees with the flows: under random levers, on every day looked at.
#include <doctest/doctest.h>

#include <cmath>
#include <tuple>

#include "stage/narrate.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {
const look::WordBook& english() {
  static const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  return words;
}
}  // namespace

TEST_CASE("falling, rising and steady agree with the signs of the flows under 120 random lever settings") {
  std::mt19937 random(4711);
  int falling = 0;
  int rising = 0;
  int steady = 0;
  for (int trial = 0; trial < 120; ++trial) {
    const auto run = support::run_of(support::story_of_random_levers(random));
    for (const double day : {3.0, 6.0, 12.0, 40.0, 61.0, 75.0, 110.0}) {
      const auto flows = run->flows(day);
      for (const Which which : {Which::c3, Which::c4}) {
        const readout::Flows& f = which == Which::c3 ? flows.c3 : flows.c4;
        const Reading r = read_balance(*run, day, which);
        const double balance = f.made + f.net_back() - f.exchanged - f.used();
        if (r.trend == Trend::falling) {
          CHECK(balance < 0.0);
          CHECK(r.standing == Standing::falling);
          falling += 1;
        } else if (r.trend == Trend::rising) {
          CHECK(balance > 0.0);
          CHECK(r.standing == Standing::rising);
          rising += 1;
        } else {
          const readout::Flows& quiet = which == Which::c3 ? run->usual_flows().c3 : run->usual_flows().c4;
          const bool gone = f.pool <= 1e-6 * quiet.pool;  // as good as gone: neither falls nor rises
          if (!gone) CHECK(std::abs(balance) <= 0.0051 * f.pool + 1e-9);
          steady += 1;
        }
        // What is said of made and used must be so.
        if (r.standing == Standing::masked) CHECK(r.speed > 1.0);
        if (r.standing == Standing::below) CHECK(r.against_usual < 1.0);
        if (r.standing == Standing::above) CHECK(r.against_usual > 1.0);
      }
      for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
        const std::string said = balance_sentence(*run, day, english(), depth);
        CHECK_FALSE(said.empty());
        CHECK(said.find('<') == std::string::npos);
        CHECK(said.find('{') == std::string::npos);
      }
    }
  }
  CHECK(falling > 50);
  CHECK(rising > 50);
  CHECK(steady > 50);
}

TEST_CASE("the shipped stories read as they are meant: steady, falling, low and steady, masked, low but quiet") {
  const auto reading = [](const char* story, double day, Which which) {
    const auto run = simulate(scenario::read_file(support::source_folder() + "/scenarios/" + story));
    return read_balance(*run, day, which);
  };
  CHECK(reading("01-steady-day.toml", 30, Which::c3).standing == Standing::usual);
  CHECK(reading("02-kidney-flare.toml", 50, Which::c4).standing == Standing::falling);
  CHECK(reading("02-kidney-flare.toml", 120, Which::c3).standing == Standing::below);
  CHECK(reading("02-kidney-flare.toml", 120, Which::c3).says(Claim::complexes));
  CHECK(reading("02-kidney-flare.toml", 120, Which::c3).below_range);
  CHECK(reading("02-kidney-flare.toml", 120, Which::c4).below_range);
  CHECK(reading("02-kidney-flare.toml", 170, Which::c4).standing == Standing::rising);
  const auto masked = reading("03-flare-the-test-misses.toml", 120, Which::c4);
  CHECK(masked.standing == Standing::masked);
  CHECK_FALSE(masked.below_range);
  CHECK_FALSE(reading("03-flare-the-test-misses.toml", 120, Which::c3).below_range);
  CHECK(reading("04-low-but-quiet.toml", 60, Which::c4).standing == Standing::usual);
  CHECK(reading("04-low-but-quiet.toml", 60, Which::c4).below_range);
  const auto inside = reading("05-falling-inside.toml", 200, Which::c3);
  CHECK_FALSE(inside.below_range);
  CHECK(inside.against_usual < 0.75);
  const auto liver = reading("06-liver-cannot-keep-up.toml", 70, Which::c3);
  CHECK(liver.standing == Standing::falling);
  CHECK(liver.made < 0.9);
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

TEST_CASE("beside a protein told as away from its usual level, one that is near it is told with its figure") {
  std::mt19937 random(4711);
  int beside = 0;
  int alike = 0;
  for (int trial = 0; trial < 200; ++trial) {
    const auto run = support::run_of(support::story_of_random_levers(random));
    for (const double day : {3.0, 12.0, 40.0, 61.0, 75.0, 110.0}) {
      const Reading c3 = read_balance(*run, day, Which::c3);
      const Reading c4 = read_balance(*run, day, Which::c4);
      const auto away = [](const Reading& r) {
        return r.standing != Standing::usual && r.standing != Standing::masked;
      };
      const auto moved = [](const Reading& r) {
        return r.standing == Standing::usual && std::lround(100.0 * r.against_usual) != 100;
      };
      for (const auto& [name, one, other] : {std::tuple{"C3", c3, c4}, std::tuple{"C4", c4, c3}}) {
        for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
          const std::string said = balance_sentence(*run, day, english(), depth);
          const std::string figure = std::string(name) + ": steady at the usual level, " +
                                     std::to_string(std::lround(100.0 * one.against_usual)) + " % of it";
          const bool told = moved(one) && away(other);
          CHECK_MESSAGE((said.find(figure) != std::string::npos) == told, said);
          (told ? beside : alike) += 1;
        }
      }
    }
  }
  CHECK(beside > 10);
  CHECK(alike > 100);
}
