// The sentence under the balance against the network's rates, on every day of every story, and shown to fail on lies.
#include <doctest/doctest.h>

#include <cmath>

#include "stage/narrate.hpp"
#include "stage/spoken.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using stage::Which;
using support::lies_in;

namespace {

look::WordBook words(const char* language) {
  return look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
}

void hold(const Run& run, double day, const look::WordBook& book, look::Depth depth, std::size_t& said) {
  const std::string text = stage::balance_sentence(run, day, book, depth);
  said += 1;
  const auto lies = lies_in(text, run, day);
  for (const std::string& lie : lies) {
    FAIL_CHECK(run.story().name, " day ", day, ": ", lie, "\n  of: ", text);
  }
  for (const std::string& what : support::unsaid_in(text, run, day)) {
    FAIL_CHECK(run.story().name, " day ", day, ": nothing is said of ", what);
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

TEST_CASE(
    "on every day of every story the plain English agrees with the rates, and every fifth day each other language and "
    "depth") {
  const look::WordBook english = words("en");
  const look::WordBook spanish = words("es");
  std::size_t said = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    for (double day = 0.0; day <= run->last_day(); day += 1.0) {
      hold(*run, day, english, look::Depth::plain, said);
      const int turn = static_cast<int>(day) % 5;
      if (turn == 0) hold(*run, day, spanish, look::Depth::plain, said);
      if (turn == 1) hold(*run, day, english, look::Depth::clinic, said);
      if (turn == 2) hold(*run, day, spanish, look::Depth::clinic, said);
      if (turn == 3) hold(*run, day, english, look::Depth::mechanism, said);
      if (turn == 4) hold(*run, day, spanish, look::Depth::mechanism, said);
    }
    // Just after each event too, and while what it took flows back.
    for (const scenario::Event& event : run->story().events) {
      for (const double after : {0.05, 0.2}) {
        hold(*run, std::min(event.day + after, run->last_day()), english, look::Depth::plain, said);
        hold(*run, std::min(event.day + after, run->last_day()), spanish, look::Depth::clinic, said);
      }
    }
  }
  CHECK(said > 7000);
}

TEST_CASE("under 60 random lever settings what is said agrees with the rates") {
  const look::WordBook english = words("en");
  std::mt19937 random(815);
  std::size_t said = 0;
  for (int trial = 0; trial < 60; ++trial) {
    const auto run = support::run_of(support::story_of_random_levers(random));
    for (const double day : {3.0, 6.0, 12.0, 40.0, 61.0, 75.0, 110.0}) {
      hold(*run, day, english, look::Depth::plain, said);
      hold(*run, day, english, look::Depth::mechanism, said);
    }
  }
  CHECK(said == 60 * 14);
}

TEST_CASE(
    "lies planted in the sentence are found: made and used swapped, another protein, another direction, no complexes") {
  const look::WordBook english = words("en");
  const auto run = shipped("02-kidney-flare.toml");
  const std::string falling = stage::balance_sentence(*run, 50, english, look::Depth::plain);
  REQUIRE(lies_in(falling, *run, 50).empty());
  CHECK_FALSE(lies_in(replaced(falling, "More is used than made", "More is made than used"), *run, 50).empty());
  CHECK_FALSE(lies_in(replaced(falling, "falling", "rising"), *run, 50).empty());
  CHECK_FALSE(
      lies_in(replaced(falling, "Complexes use up a larger share than usual", "Less is made than usual"), *run, 50)
          .empty());
  CHECK_FALSE(lies_in(replaced(falling, "falling", "falling because of the moon. Nothing is used"), *run, 50).empty());
  const std::string below = stage::balance_sentence(*run, 120, english, look::Depth::plain);
  REQUIRE(lies_in(below, *run, 120).empty());
  CHECK_FALSE(
      lies_in(replaced(below, "Both are below the laboratory's range", "C3 is below the laboratory's range, C4 is not"),
              *run, 120)
          .empty());
  // What stood there before: nothing used up faster, on a day when the share used is 56 against 49 %.
  CHECK_FALSE(lies_in("C3: steady, below your usual level. Less is made than usual.", *run, 198).empty());
  // Figures: a digit changed is found.
  const std::string exact = stage::balance_sentence(*run, 50, english, look::Depth::mechanism);
  REQUIRE(lies_in(exact, *run, 50).empty());
  std::size_t digits = 0;
  for (std::size_t i = 0; i + 1 < exact.size(); ++i) {
    const bool figure = exact[i] >= '0' && exact[i] <= '9' && (i == 0 || exact[i - 1] != 'C');
    if (!figure) continue;
    std::string changed = exact;
    changed[i] = exact[i] == '9' ? '7' : static_cast<char>(exact[i] + 1);
    CHECK_MESSAGE(!lies_in(changed, *run, 50).empty(), changed);
    digits += 1;
  }
  CHECK(digits > 8);
  // Cold antibodies told where complexes are, and the other way round.
  const std::string complexes = "C4: falling. More is used than made. Complexes use up a larger share than usual.";
  const std::string cold =
      "C4: falling. More is used than made. Red cells with antibody use up a larger share than usual.";
  CHECK(lies_in(complexes, *run, 50).empty());
  CHECK_FALSE(lies_in(cold, *run, 50).empty());
  const auto red = simulate(support::story_with({{"cold_antibody", 1}}, 60.0));
  CHECK(lies_in(cold, *red, 3).empty());
  CHECK_FALSE(lies_in(complexes, *red, 3).empty());
  // C4 wasted in the fluid told of C3.
  const auto unchecked = shipped("10-unchecked-c1.toml");
  CHECK_FALSE(lies_in("C3: steady, below your usual level. A larger share than usual is used up without complexes.",
                      *unchecked, 100)
                  .empty());
}

TEST_CASE(
    "what moves the level and what stands out in the table is said: tissue fluid after an exchange, more made in a "
    "flare") {
  const look::WordBook english = words("en");
  const auto exchange = shipped("16-plasma-exchange.toml");
  const std::string after = stage::balance_sentence(*exchange, 40.2, english, look::Depth::clinic);
  CHECK(after.find("Some comes back from tissue fluid") != std::string::npos);
  CHECK(after.find("% an hour") != std::string::npos);
  CHECK(after.find("% a day") == std::string::npos);
  // Left out, it is missed; a pace of another unit is found.
  CHECK_FALSE(support::unsaid_in(replaced(after, " Some comes back from tissue fluid.", ""), *exchange, 40.2).empty());
  CHECK_FALSE(lies_in(replaced(after, "% an hour", "% a day"), *exchange, 40.2).empty());
  const auto flare = shipped("02-kidney-flare.toml");
  const std::string more = stage::balance_sentence(*flare, 110, english, look::Depth::clinic);
  CHECK(more.find("Production is above usual") != std::string::npos);
  CHECK_FALSE(support::unsaid_in(replaced(more, " Production is above usual.", ""), *flare, 110).empty());
}

TEST_CASE("no sentence calls use raised or below usual beside grams that say the opposite: it speaks of the share") {
  for (const char* language : {"en", "es"}) {
    const look::WordBook book = words(language);
    for (const char* claim : {"complexes", "red_cells", "alternative", "fluid", "slower"}) {
      for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
        const std::string& said = book.at(std::string("says.") + claim, depth);
        const bool share = said.find("share") != std::string::npos || said.find("ractional") != std::string::npos ||
                           said.find("parte") != std::string::npos || said.find("fraccional") != std::string::npos;
        CHECK_MESSAGE(share, said);
      }
    }
  }
}

TEST_CASE("day 198 of the kidney story names no lack of production where production is usual") {
  const auto run = shipped("02-kidney-flare.toml");
  const stage::Reading c4 = stage::read_balance(*run, 198, Which::c4);
  const stage::Reading c3 = stage::read_balance(*run, 198, Which::c3);
  for (const stage::Reading& r : {c3, c4}) {
    if (std::abs(r.made - 1.0) < stage::least_cause) CHECK_FALSE(r.says(stage::Claim::less_made));
  }
  // The negative control: a liver at half is told.
  const auto failing = simulate(support::story_with({{"hepatic_output", 0.5}}));
  CHECK(stage::read_balance(*failing, 5, Which::c3).says(stage::Claim::less_made));
}

TEST_CASE("on a day of plasma exchange what is taken out is said as that, and stands in a row of its own") {
  const auto run = shipped("16-plasma-exchange.toml");
  double day = -1.0;
  for (const scenario::Event& event : run->story().events) {
    if (event.lever == body::lever_at("plasma_exchange") && day < 0.0) day = event.day + 0.05;
  }
  REQUIRE(day > 0.0);
  const std::string text = stage::balance_sentence(*run, day, words("en"), look::Depth::plain);
  CHECK(text.find("Plasma exchange takes some out.") != std::string::npos);
  CHECK(text.find("omplexes") == std::string::npos);
  CHECK(text.find("More is used than made") == std::string::npos);
  support::Screen screen([&] {
    stage::AppState s = command::state_for(support::source_folder() + "/scenarios/16-plasma-exchange.toml", day);
    return s;
  }());
  CHECK(screen.shows("Plasma exchange"));
  CHECK(screen.shows(" g out"));
  screen.do_action(stage::GoToDay{1.0});
  screen.frame();
  CHECK_FALSE(screen.shows(" g out"));
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
    for (double day = 0; day <= run->last_day(); day += 1.0) {
      for (const Which which : {Which::c3, Which::c4}) {
        const stage::Reading r = stage::read_balance(*run, day, which);
        CHECK_MESSAGE(!r.says(stage::Claim::complexes), name, " day ", day);
      }
    }
  }
  CHECK(without >= 6);
  CHECK(stage::read_balance(*shipped("02-kidney-flare.toml"), 60, Which::c3).says(stage::Claim::complexes));
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
