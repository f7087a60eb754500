// Differences of runs against the variational equations, and directions everyone agrees on.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "study/sensitivity.hpp"
#include "support/kidney_flare.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE("forward sensitivities agree with differences of runs, within 3 % inside a range and 12 % at its ends") {
  const auto by_differences = study::effects_by_differences(*support::kidney_flare(), 60, 0.001);
  REQUIRE(by_differences.size() >= 20);
  for (const auto& d : by_differences) {
    const body::Lever& lever = body::standard_model()->levers()[d.lever];
    const double value = support::kidney_flare()->lever(d.lever, 60);
    // One-sided differences at an end of the range carry the curvature; wider there.
    const bool at_end = value <= lever.least || value >= lever.most;
    const auto v = study::effect_by_variation(*support::kidney_flare(), d.lever, 60);
    const double share = at_end ? 0.12 : 0.03;
    CHECK_MESSAGE(std::abs(v.c3 - d.c3) <= share * std::abs(d.c3) + 0.1, lever.name, " C3 ", v.c3, " ", d.c3);
    CHECK_MESSAGE(std::abs(v.c4 - d.c4) <= share * std::abs(d.c4) + 0.1, lever.name, " C4 ", v.c4, " ", d.c4);
  }
}

TEST_CASE("in the flare more antibody lowers C4, less liver lowers both, and a blocker of C1s raises both") {
  std::size_t seen = 0;
  for (const auto& e : study::effects_of_steps(*support::kidney_flare(), 90)) {
    const body::Lever& lever = body::standard_model()->levers()[e.lever];
    CHECK(e.to != e.from);
    CHECK(e.to >= lever.least);
    CHECK(e.to <= lever.most);
    const double way = e.to > e.from ? 1.0 : -1.0;
    if (lever.name == "antibody_drive" || lever.name == "fixation") CHECK(way * e.c4 < 0);
    if (lever.name == "hepatic_output" || lever.name == "block_c1s") {
      CHECK(way * e.c3 > 0);
      CHECK(way * e.c4 > 0);
      seen += 1;
    }
    if (lever.name == "activating_surface") CHECK(way * e.c3 < 0);
  }
  CHECK(seen == 2);
}

TEST_CASE(
    "which lever: what does nothing here is left out, the largest stands first, and the steps are in the ranges") {
  const auto all = study::effects_of_steps(*support::kidney_flare(), 90);
  const auto shown = study::worth_showing(all);
  REQUIRE(shown.size() > 3);
  CHECK(shown.size() < all.size());
  CHECK(all.size() == study::asked_levers(*body::standard_model()).size());
  for (std::size_t i = 0; i < shown.size(); ++i) {
    CHECK(shown[i].size() >= study::does_nothing);
    if (i > 0) CHECK(shown[i].size() <= shown[i - 1].size());
    // Plasma as the replacement does nothing where nothing is exchanged.
    CHECK(body::standard_model()->levers()[shown[i].lever].name != "exchange_plasma");
  }
  CHECK(shown.front().size() > study::tells);
  // A step is a step of the lever's row, or goes to an end of its range.
  for (const auto& e : all) {
    const body::Lever& lever = body::standard_model()->levers()[e.lever];
    const bool whole = std::abs(std::abs(e.to - e.from) - std::abs(lever.step)) < 1e-12;
    CHECK_MESSAGE((whole || e.to == lever.least || e.to == lever.most), lever.name);
  }
}

TEST_CASE("which lever: where nothing moves the level by two per cent none is put first, and the page says so") {
  // On the first day nothing has had time: a step placed there, by an event of that day.
  scenario::Scenario story = support::story_with({}, 20.0);
  const auto& levers = body::standard_model()->levers();
  for (const body::LeverId lever : study::asked_levers(*body::standard_model()))
    story.events.push_back({2.0, lever, levers[lever].rest, 0, 0, ""});
  const auto run = support::run_of(story);
  auto effects = study::effects_of_steps(*run, 2.0);
  // But more plasma dilutes at once: that is told apart.
  const auto dilutes = [](const study::LeverEffect& e) { return e.lever == body::lever_at("pregnancy"); };
  const auto at_once = std::find_if(effects.begin(), effects.end(), dilutes);
  REQUIRE(at_once != effects.end());
  CHECK(at_once->c3 == support::near(100.0 / 1.4 - 100.0, 1e-6));
  CHECK(at_once->c4 == support::near(100.0 / 1.4 - 100.0, 1e-6));
  CHECK(study::worth_showing(effects).front().size() > study::tells);
  effects.erase(at_once);
  const auto shown = study::worth_showing(effects);
  CHECK((shown.empty() || shown.front().size() < study::tells));
}
