// The sentence under the balance against the tests' own account of why, and shown to fail on lies.
#include <doctest/doctest.h>

#include <cmath>

#include "stage/narrate.hpp"
#include "stage/spoken.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using stage::Cause;
using stage::Which;
using support::lies_in;

namespace {

look::WordBook words(const char* language) {
  return look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
}

struct Listened {
  std::size_t said = 0, lies = 0;
};
// Every depth in both languages on these days.
void hold(const Run& run, const std::vector<double>& days, Listened& listened) {
  static const std::vector<std::pair<std::string, look::WordBook>> books{{"en", words("en")}, {"es", words("es")}};
  const readout::Account account = account_of(run);
  const support::Hearer hearer(run, days);
  REQUIRE(hearer.days().size() == days.size());
  for (std::size_t i = 0; i < days.size(); ++i) {
    for (const auto& [language, book] : books) {
      for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
        const std::string text = stage::balance_sentence(run, account, days[i], book, depth);
        listened.said += 1;
        const auto lies = hearer.lies_in(text, i, language, depth);
        listened.lies += lies.size();
        if (lies.empty()) continue;
        for (const std::string& lie : lies) {
          FAIL_CHECK(run.story().name, " day ", days[i], ": ", lie, "\n  of: ", text);
        }
      }
    }
  }
}

std::string replaced(std::string text, const std::string& what, const std::string& with) {
  const std::size_t at = text.find(what);
  REQUIRE_MESSAGE(at != std::string::npos, what, " in ", text);
  return text.replace(at, what.size(), with);
}

std::shared_ptr<const Run> shipped(const char* name) {
  return simulate(scenario::read_file(support::source_folder() + "/scenarios/" + name));
}

}  // namespace

TEST_CASE("on every day of every story all depths in both languages agree with an account worked out apart") {
  Listened listened;
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    std::vector<double> days;
    for (double day = 0.0; day <= run->last_day(); day += 1.0) days.push_back(day);
    // Just after each event too, and while what it took flows back.
    for (const scenario::Event& event : run->story().events) {
      for (const double after : {0.05, 0.2}) days.push_back(std::min(event.day + after, run->last_day()));
    }
    std::sort(days.begin(), days.end());
    days.erase(std::unique(days.begin(), days.end()), days.end());
    hold(*run, days, listened);
  }
  CHECK(listened.said > 20000);
}

TEST_CASE("under 100 random lever settings what is said on twelve days agrees with that account") {
  std::mt19937 random(815);
  Listened listened;
  for (int trial = 0; trial < 100; ++trial) {
    const auto run = support::run_of(support::story_of_random_levers(random));
    hold(*run, {0.0, 3.0, 5.1, 6.0, 8.0, 12.0, 25.0, 40.0, 60.3, 65.0, 75.0, 110.0}, listened);
  }
  CHECK(listened.said == 100 * 12 * 6);
}

TEST_CASE("the debts worked out apart add up to level less usual, and a part left out is found") {
  std::size_t without = 0;
  for (const char* story : {"02-kidney-flare.toml", "15-third-trimester.toml", "16-plasma-exchange.toml"}) {
    const auto run = shipped(story);
    for (const support::OwnPair& pair : support::own_accounts(*run, {0, 41, 60.2, 90, 110})) {
      for (const support::OwnAccount& a : {pair.c3, pair.c4}) {
        double sum = 0;
        double largest = 0;
        for (const double debt : a.debt) {
          sum += debt;
          largest = std::abs(debt) > std::abs(largest) ? debt : largest;
        }
        CHECK(std::abs(sum - (a.level - a.usual)) < 5e-5 * a.usual);
        without += std::abs(sum - largest - (a.level - a.usual)) > 0.02 * a.usual ? 1U : 0U;
      }
    }
  }
  CHECK(without > 20);
}

TEST_CASE(
    "lies planted in the sentence are found: another cause, protein, direction, place, range, figure, a word lost") {
  const look::WordBook english = words("en");
  const auto run = shipped("02-kidney-flare.toml");
  const support::Hearer hearer(*run, {50, 55, 120, 170});
  const auto told = [&](std::size_t i, look::Depth depth = look::Depth::plain) {
    const std::string text = stage::balance_sentence(*run, hearer.days()[i].day, english, depth);
    REQUIRE(hearer.lies_in(text, i, "en", depth).empty());
    return text;
  };
  const auto found = [&](std::size_t i, const std::string& what, const std::string& with) {
    CHECK_MESSAGE(!hearer.lies_in(replaced(told(i), what, with), i, "en", look::Depth::plain).empty(), what, " > ",
                  with, " in ", told(i));
  };
  found(1, "falling", "filling");
  found(1, "falling", "slowly falling");
  found(1, "falling, below", "falling, above");
  found(1, "C3 and C4: falling, below", "C3: falling, below");
  found(1, "Pulled down further by use at complexes", "Pulled down further by less being made");
  found(1, "Pulled down further", "Pulled down less");
  found(1, "Pulled down further by use at complexes", "Lifted further by less use at complexes");
  found(1, "use in the fluid", "C1 active in the fluid");
  found(1, "more being made", "less being made");
  found(1, "Held up by more being made", "Also pulled down by less being made");
  found(1, " Held up by more being made.", "");
  found(1, " Pulled down further by use at complexes.", "");
  found(1, "falling", "falling because of the moon");
  found(1, "C4 is not", "C4 is");
  found(1, " C3 is below the laboratory's range, C4 is not.", "");
  found(1, "C3 is below the laboratory's range, C4 is not", "Both are below the laboratory's range");
  found(1, "91 and 90 %", "90 and 91 %");
  found(1, "usual liver", "usual supply");
  found(2, "holding below", "holding above");
  found(2, "use at complexes and use in the fluid", "use in the fluid and use at complexes");
  found(2, "use at complexes and", "use on red cells and");
  found(2, "Both are below the laboratory's range", "C3 is below the laboratory's range, C4 is not");
  found(3, "filling", "falling");
  found(3, "Pulled down less", "Pulled down further");
  // Names swapped.
  const std::string both = told(0);
  std::string swapped = both;
  for (std::size_t i = 0; i + 1 < swapped.size(); ++i) {
    if (swapped[i] == 'C' && (swapped[i + 1] == '3' || swapped[i + 1] == '4'))
      swapped[i + 1] = swapped[i + 1] == '3' ? '4' : '3';
  }
  CHECK_FALSE(hearer.lies_in(swapped, 0, "en", look::Depth::plain).empty());
  // Figures: any digit changed is found, at both depths that have them.
  for (const auto depth : {look::Depth::clinic, look::Depth::mechanism}) {
    const std::string exact = told(1, depth);
    std::size_t digits = 0;
    for (std::size_t i = 0; i + 1 < exact.size(); ++i) {
      const bool figure = exact[i] >= '0' && exact[i] <= '9' && (i == 0 || exact[i - 1] != 'C');
      if (!figure) continue;
      std::string changed = exact;
      changed[i] = static_cast<char>(exact[i] >= '8' ? exact[i] - 2 : exact[i] + 2);
      CHECK_MESSAGE(!hearer.lies_in(changed, 1, "en", depth).empty(), changed);
      digits += 1;
    }
    CHECK(digits > (depth == look::Depth::clinic ? 18U : 40U));
    std::string traded = exact;
    const std::string tap = depth == look::Depth::clinic ? "tap" : "synthesis";
    const std::string drain = depth == look::Depth::clinic ? "drain" : "fractional loss";
    traded = replaced(replaced(traded, tap, "THE OTHER"), drain, tap);
    traded = replaced(traded, "THE OTHER", drain);
    CHECK_FALSE(hearer.lies_in(traded, 1, "en", depth).empty());
  }
}

TEST_CASE(
    "what is used on red cells, on an activating surface and by free C1 is not told as complexes, nor the reverse") {
  const look::WordBook english = words("en");
  const auto lie = [&](const Run& run, double day, const std::string& what, const std::string& with) {
    const std::string text = stage::balance_sentence(run, day, english, look::Depth::plain);
    CHECK_MESSAGE(lies_in(text, run, day).empty(), text);
    CHECK_FALSE(lies_in(replaced(text, what, with), run, day).empty());
  };
  lie(*shipped("02-kidney-flare.toml"), 50, "use at complexes", "use on red cells");
  lie(*support::run_of(support::story_with({{"cold_antibody", 1}}, 60.0)), 3, "use on red cells", "use at complexes");
  lie(*shipped("11-after-a-throat-infection.toml"), 30, "use in tissue without complexes", "use at complexes");
  lie(*shipped("14-cryoglobulins.toml"), 40, "C1 active in the fluid", "use at complexes");
  lie(*shipped("12-a-convertase-that-will-not-let-go.toml"), 60, "a faster loop", "use in the fluid");
  lie(*shipped("16-plasma-exchange.toml"), 40.05, "plasma exchange", "leak into tissue");
  lie(*support::run_of(support::story_with({{"hepatic_output", 0.5}}, 60.0)), 5, "less being made", "use in the fluid");
  lie(*support::run_of(support::story_with({{"plasma_volume", 1.3}}, 60.0)), 0.5, "dilution", "less being made");
}

TEST_CASE("complexes are named in no story that has none") {
  std::size_t without = 0;
  for (const std::string& name : support::shipped_stories()) {
    const scenario::Scenario story = scenario::read_file(name);
    // Antibody, or what acts as complexes do.
    bool any = false;
    for (const char* lever : {"antibody_drive", "cryoglobulin"}) {
      const body::LeverId at = body::lever_at(lever);
      any = any || story.levers[at] > 0;
      for (const scenario::Event& event : story.events) any = any || (event.lever == at && event.value > 0);
    }
    if (any) continue;
    without += 1;
    const auto run = simulate(story);
    const readout::Account account = account_of(*run);
    for (double day = 0; day <= run->last_day(); day += 1.0) {
      for (const Which which : {Which::c3, Which::c4}) {
        const stage::Reading r = stage::read_balance(*run, account, day, which);
        CHECK_MESSAGE(!r.names(Cause::complexes), name, " day ", day);
      }
    }
  }
  CHECK(without >= 6);
  CHECK(stage::read_balance(*shipped("02-kidney-flare.toml"), 60, Which::c3).names(Cause::complexes));
}

TEST_CASE(
    "what the illness did not do is not told as its doing: genes and liver of the start are told against usual ones") {
  const look::WordBook english = words("en");
  const auto few = shipped("09-few-c4-genes.toml");
  const std::string born = stage::balance_sentence(*few, 30, english, look::Depth::plain);
  CHECK(born.find("what usual genes would give") != std::string::npos);
  CHECK(born.find("being made") == std::string::npos);
  // The same liver at half from the start, and from day 5: usual, and a cause.
  const auto settled = support::run_of(support::settled_with({{"hepatic_output", 0.5}}));
  const std::string poor = stage::balance_sentence(*settled, 20, english, look::Depth::plain);
  CHECK(poor.find("a usual liver would give") != std::string::npos);
  CHECK(poor.find("being made") == std::string::npos);
  const auto moved = support::run_of(support::story_with({{"hepatic_output", 0.5}}, 60, 5));
  const std::string falls = stage::balance_sentence(*moved, 20, english, look::Depth::plain);
  CHECK(falls.find("less being made") != std::string::npos);
  CHECK(falls.find("would give") == std::string::npos);
}

TEST_CASE("on a day of plasma exchange what is taken out is said as that, and stands in a row of its own") {
  const auto run = shipped("16-plasma-exchange.toml");
  double day = -1.0;
  for (const scenario::Event& event : run->story().events) {
    if (event.lever == body::lever_at("plasma_exchange") && day < 0.0) day = event.day + 0.05;
  }
  REQUIRE(day > 0.0);
  const std::string text = stage::balance_sentence(*run, day, words("en"), look::Depth::plain);
  CHECK(text.find("Pulled down further by plasma exchange.") != std::string::npos);
  const std::string after = stage::balance_sentence(*run, day + 0.2, words("en"), look::Depth::clinic);
  CHECK(after.find("Filling again after plasma exchange.") != std::string::npos);
  support::Screen screen([&] {
    stage::AppState s = command::state_for(support::source_folder() + "/scenarios/16-plasma-exchange.toml", day);
    return s;
  }());
  CHECK(screen.shows("Plasma exchange"));
  screen.do_action(stage::SetView{stage::View::words});
  screen.frame();
  CHECK(screen.shows(" g out"));
  screen.do_action(stage::GoToDay{1.0});
  screen.frame();
  CHECK_FALSE(screen.shows(" g out"));
}

TEST_CASE(
    "two figures that the sentence says differ are seen to differ, and a share over the whole pool is told as times a "
    "day") {
  CHECK(stage::decimals_to_differ(0.301, 0.299, 2) == 3);
  CHECK(stage::decimals_to_differ(0.31, 0.29, 2) == 2);
  CHECK(stage::decimals_to_differ(0.3, 0.3, 2) == 5);
  const look::WordBook english = words("en");
  CHECK(stage::share_text(0.49, 0, english) == "49 %");
  CHECK(stage::share_text(3.2, 0, english) == "3.2 times");
  CHECK(stage::share_text(0.994, 0, english) == "99 %");
}
