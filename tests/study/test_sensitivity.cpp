// Differences of runs against the variational equations, and directions everyone agrees on.
#include <doctest/doctest.h>

#include <cmath>

#include "study/sensitivity.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {
std::shared_ptr<const Run> flare() {
  static const auto run = [] {
    SimulateOptions options;
    options.rtol = 1e-7;
    return simulate(scenario::read_file(support::source_folder() + "/scenarios/02-kidney-flare.toml"), options);
  }();
  return run;
}
}  // namespace

TEST_CASE("forward sensitivities agree with differences of runs for every lever, within 3 %") {
  const auto by_differences = study::effects_by_differences(*flare(), 60, 0.001);
  REQUIRE(by_differences.size() >= 20);
  for (const auto& d : by_differences) {
    const body::Lever& lever = body::levers()[d.lever];
    const double value = flare()->lever(d.lever, 60);
    // One-sided differences at an end of the range carry the curvature; wider there.
    const bool at_end = value <= lever.least || value >= lever.most;
    const auto v = study::effect_by_variation(*flare(), d.lever, 60);
    const double share = at_end ? 0.12 : 0.03;
    CHECK_MESSAGE(std::abs(v.c3 - d.c3) <= share * std::abs(d.c3) + 0.01, lever.name, " C3 ", v.c3, " ", d.c3);
    CHECK_MESSAGE(std::abs(v.c4 - d.c4) <= share * std::abs(d.c4) + 0.01, lever.name, " C4 ", v.c4, " ", d.c4);
  }
}

TEST_CASE("in the flare more antibody and more fixation lower C4, a stronger liver raises both") {
  for (const auto& e : study::effects_by_differences(*flare(), 90)) {
    const std::string& name = body::levers()[e.lever].name;
    if (name == "antibody_drive" || name == "fixation") CHECK(e.c4 < 0);
    if (name == "hepatic_output") {
      CHECK(e.c3 > 0);
      CHECK(e.c4 > 0);
    }
    if (name == "activating_surface") CHECK(e.c3 < 0);
  }
}
