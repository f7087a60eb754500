// A talk that cannot lie: claims are read with their place, held to the run, and a false one is reported.
#include <doctest/doctest.h>

#include <cmath>

#include "scenario/read.hpp"
#include "study/claims.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

std::string story_with_claims(const std::string& claims) {
  return "title = \"T\"\ndays = 60\n[[event]]\nday = 5\nlever = \"antibody_drive\"\nvalue = 6\n"
         "[[talk]]\nday = 40\nplain = \"p\"\nclaims = [" +
         claims + "]\n";
}

}  // namespace

TEST_CASE("every claim of every shipped story holds, and every talk that speaks of the numbers has some") {
  std::size_t claims = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    const auto checked = study::check_claims(*run);
    CHECK_MESSAGE(checked.size() >= 2, path);
    CHECK_MESSAGE(checked.front().step.has_value() == run->story().claims.empty(), path);
    CHECK_MESSAGE(!run->story().claims.empty(), path, ": what the message says of the numbers is held to the run too");
    claims += checked.size();
    for (const auto& c : checked)
      CHECK_MESSAGE(c.holds, path, ":", c.claim->line, " ", c.claim->text, " day ", c.day, ": ", c.left);
  }
  CHECK(claims > 150);
}

TEST_CASE("in every story a claim turned round is reported as false") {
  std::size_t turned = 0;
  for (const std::string& path : support::shipped_stories()) {
    scenario::Scenario story = scenario::read_file(path);
    const auto turn = [&](std::vector<scenario::Claim>& claims) {
      for (scenario::Claim& claim : claims) {
        using R = scenario::Relation;
        const bool up = claim.relation == R::more || claim.relation == R::at_least;
        claim.relation = up ? R::less : R::more;
        turned += 1;
      }
    };
    turn(story.claims);
    for (scenario::TalkStep& step : story.talk) turn(step.claims);
    for (const auto& c : study::check_claims(*simulate(story))) CHECK_FALSE(c.holds);
  }
  CHECK(turned > 150);
}

TEST_CASE(
    "drawdown check reports a false claim with file, line and column and the value found, and ends with exit code 1") {
  const support::Folder folder;
  const std::string path =
      support::file_with(folder.path + "/s.toml",
                         story_with_claims("\"C4 level < 0.9\", \"C4 level > 1.5\", \"C3 in > C4 out on day 3\""));
  const auto answer = support::drawdown_with({"check", path});
  CHECK(answer.code == 1);
  CHECK(answer.out.find(path + ":10:29: not so: \"C4 level > 1.5\"") != std::string::npos);
  CHECK(answer.out.find("C4 level < 0.9") == std::string::npos);
  CHECK(answer.out.find("C3 in > C4 out on day 3") != std::string::npos);
  const auto sound = support::drawdown_with(
      {"check", support::file_with(folder.path + "/t.toml", story_with_claims("\"C4 level < 0.9\""))});
  CHECK(sound.code == 0);
  CHECK(sound.out.find("claims that hold: 1") != std::string::npos);
}

TEST_CASE("a claim that is none is refused with its place and what is allowed") {
  for (const char* wrong :
       {"C5 level > 1", "C4 height > 1", "C4 level = 1", "C4 level > one", "C4 level > nan", "C4 level > 1 on day 61",
        "C4 level > 1 from day 20 to day 10", "C4 level > 1 today", "C4 level >", "", "C4"}) {
    CHECK_THROWS_WITH_AS((void)scenario::read_text(story_with_claims("\"" + std::string(wrong) + "\""), "s"),
                         doctest::Contains("s:10:11: "), scenario::ReadError);
  }
  CHECK_THROWS_AS((void)scenario::read_text(story_with_claims("1"), "s"), scenario::ReadError);
  CHECK_THROWS_AS((void)scenario::read_text(story_with_claims("\"C4 level > " + std::string(200, '1') + "\""), "s"),
                  scenario::ReadError);
}

TEST_CASE("claims are written back as they were read") {
  const auto story =
      scenario::read_text(story_with_claims("\"C4 level < 0.9 from day 20 to day 40\", \"C3 g/L >= 0.2\""), "s");
  const auto again = scenario::read_text(scenario::write_text(story), "s");
  REQUIRE(again.talk.size() == 1);
  REQUIRE(again.talk[0].claims.size() == 2);
  CHECK(again.talk[0].claims[0].text == "C4 level < 0.9 from day 20 to day 40");
  CHECK(again.talk[0].claims[0].to_day == 40);
  CHECK(again.talk[0].claims[1].relation == scenario::Relation::at_least);
}

TEST_CASE("the message's claims name their days, are checked, and written back") {
  const auto with = [](const std::string& claim) {
    return scenario::read_text("title = \"t\"\ndays = 60\n[message]\nplain = \"p\"\nclaims = [\"" + claim + "\"]\n",
                               "s");
  };
  const auto story = with("C3 level > 0.9 on day 20");
  REQUIRE(story.claims.size() == 1);
  CHECK(story.claims[0].line == 5);
  CHECK(study::check_claims(*simulate(story)).at(0).holds);
  CHECK_FALSE(study::check_claims(*simulate(with("C3 level < 0.9 on day 20"))).at(0).holds);
  CHECK(scenario::read_text(scenario::write_text(story), "s").claims.at(0).text == "C3 level > 0.9 on day 20");
  CHECK_THROWS_WITH_AS((void)with("C3 level > 0.9"), doctest::Contains("must name its days"), scenario::ReadError);
}

TEST_CASE("a claim about days that the run did not reach does not hold") {
  auto story = scenario::read_text(story_with_claims("\"C3 level > 0\", \"C3 level > 0 on day 10\""), "s");
  SimulateOptions options;
  options.keep_going = [](double hours) { return hours < 24.0 * 20; };
  const auto checked = study::check_claims(*simulate(story, options));
  REQUIRE(checked.size() == 2);
  CHECK_FALSE(checked[0].holds);
  CHECK(std::isnan(checked[0].left));
  CHECK(checked[1].holds);
}
