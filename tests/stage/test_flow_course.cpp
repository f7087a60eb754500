// What the course draws under the levels is the account's in, out, tap and drain.
#include "stage/flow_course.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "account_of.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE(
    "in, out, tap and opening under the course are the account's on every day drawn, in and out swapped is found") {
  for (const char* file :
       {"02-kidney-flare.toml", "06-liver-cannot-keep-up.toml", "15-third-trimester.toml", "16-plasma-exchange.toml"}) {
    const auto run = support::run_of(scenario::read_file(support::source_folder() + "/scenarios/" + file));
    const auto account = account_with(run);
    const auto course = stage::flow_course(*run, 120);
    REQUIRE(course->days.size() > 80);
    REQUIRE(std::is_sorted(course->days.begin(), course->days.end()));
    double swapped = 0.0;
    for (std::size_t i = 0; i < course->days.size(); i += 3) {
      // Off the ends of steps, where an event may stand and each answers with another side of it.
      for (std::size_t p = 0; p < 2; ++p) {
        const stage::FlowCourse::Day& d = course->protein[p][i];
        const readout::AccountOf after = account->at(p, 24 * course->days[i]);
        const readout::AccountOf before = account->at(p, 24 * course->days[i], readout::Account::Side::before);
        const auto like = [&](const readout::AccountOf& a) {
          return std::max(
              {std::abs(d.in - a.in), std::abs(d.out - a.out), std::abs(d.tap - a.tap), std::abs(d.drain - a.drain)});
        };
        CHECK_MESSAGE(std::min(like(after), like(before)) < 2e-3, file, " day ", course->days[i]);
        swapped = std::max(swapped, std::abs(d.in - after.out));
      }
    }
    CHECK_MESSAGE(swapped > 0.02, file);
  }
}
