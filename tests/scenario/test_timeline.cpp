// Levers over time: steps, ramps, pulses of hours, what-ifs.
#include <doctest/doctest.h>

#include "support/stories.hpp"

using namespace drawdown;
using scenario::Timeline;

namespace {
const body::LeverId liver = body::lever_at("hepatic_output");
const body::LeverId exchange = body::lever_at("plasma_exchange");
}  // namespace

TEST_CASE("a step holds, a ramp is straight, a pulse goes back") {
  scenario::Scenario s = support::story_with({}, 100);
  s.events = {{10, liver, 0.5, 0, 0, ""}, {20, liver, 0.9, 10, 0, ""}, {50, exchange, 0.4, 0, 3, ""}};
  const Timeline t(s);
  CHECK(t.value(liver, 9.99) == 1.0);
  CHECK(t.value(liver, 10) == 0.5);
  CHECK(t.value(liver, 25) == doctest::Approx(0.7));
  CHECK(t.value(liver, 31) == 0.9);
  CHECK(t.value(exchange, 50.1) == 0.4);
  CHECK(t.value(exchange, 50.0 + 3.01 / 24) == 0.0);
  const auto segments = t.segments();
  CHECK(segments.size() == 6);
  for (std::size_t i = 1; i < segments.size(); ++i) CHECK(segments[i].start == segments[i - 1].end);
  CHECK(segments.front().start == 0.0);
  CHECK(segments.back().end == 2400.0);
}

TEST_CASE("an event in the middle of a ramp starts from where the ramp has come to") {
  scenario::Scenario s = support::story_with({}, 100);
  s.events = {{10, liver, 0.2, 10, 0, ""}, {15, liver, 1.0, 5, 0, ""}};
  const Timeline t(s);
  CHECK(t.value(liver, 15) == doctest::Approx(0.6));
  CHECK(t.value(liver, 17.5) == doctest::Approx(0.8));
  CHECK(t.value(liver, 40) == 1.0);
}

TEST_CASE("a what-if on the whole story changes the value that governs the day, one from a day on holds to the end") {
  scenario::Scenario s = support::story_with({}, 100);
  s.events = {{10, liver, 0.5, 0, 0, ""}, {60, liver, 0.9, 0, 0, ""}};
  const auto governing = scenario::governing_edit(s, liver, 30, 0.7);
  CHECK(governing.event == 0);
  const Timeline whole(scenario::edited(s, {governing}));
  CHECK(whole.value(liver, 5) == 1.0);
  CHECK(whole.value(liver, 30) == 0.7);
  CHECK(whole.value(liver, 70) == 0.9);
  CHECK(scenario::governing_edit(s, liver, 5, 0.7).event == -1);
  const Timeline from(scenario::edited(s, {{liver, -1, 30, 0.7, 0}}));
  CHECK(from.value(liver, 20) == 0.5);
  CHECK(from.value(liver, 30) == 0.7);
  CHECK(from.value(liver, 70) == 0.7);
}
