// The tracer study reads back what the model does, without being told.
#include <doctest/doctest.h>

#include "study/tracer.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using study::Traced;

TEST_CASE("in steady people the label gives back the true catabolic rate and synthesis within 3 %") {
  for (const auto& levers : {support::Levers{}, support::Levers{{"hepatic_output", 0.5}},
                             support::Levers{{"antibody_drive", 6}, {"antigen_release", 3}}}) {
    const auto run = support::run_of(support::settled_with(levers, 20.0));
    for (const Traced protein : {Traced::c3, Traced::c4}) {
      const auto r = study::tracer_study(*run, protein, 5.0);
      CHECK(r.fcr == support::near(r.true_fcr, 0.03));
      CHECK(r.fcr_by_ratio == support::near(r.true_fcr, 0.03));
      CHECK(r.synthesis == support::near(r.true_synthesis, 0.03));
    }
  }
}

TEST_CASE("two people with the same low C3, one using more and one making less, are told apart by the label alone") {
  const auto user = support::run_of(
      support::settled_with({{"antibody_drive", 6}, {"antigen_release", 3}, {"acute_phase_response", 0.3}}, 20.0));
  // The liver output that gives the same level.
  double low = 0.2;
  double high = 1.0;
  for (int i = 0; i < 30; ++i) {
    const double mid = (low + high) / 2;
    const auto run = support::run_of(support::settled_with({{"hepatic_output", mid}}, 20.0));
    (run->c3(5) > user->c3(5) ? high : low) = mid;
  }
  const auto maker = support::run_of(support::settled_with({{"hepatic_output", low}}, 20.0));
  CHECK(maker->c3(5) == support::near(user->c3(5), 0.01));
  const auto used = study::tracer_study(*user, Traced::c3, 5.0);
  const auto made = study::tracer_study(*maker, Traced::c3, 5.0);
  CHECK(used.fcr > 1.3 * made.fcr);
  CHECK(used.synthesis > 1.3 * made.synthesis);
}

TEST_CASE("a study that does not fit into the story is refused with the reason") {
  const auto run = support::run_of(support::story_with({}, 20.0));
  CHECK_THROWS_AS((void)study::tracer_study(*run, Traced::c3, 15.0), std::invalid_argument);
  CHECK_THROWS_AS((void)study::tracer_study(*run, Traced::c3, -1.0), std::invalid_argument);
}

TEST_CASE(
    "with counting noise the answers scatter about the true ones by less than 15 %, their mean by less than 3 %") {
  const auto run = support::run_of(support::settled_with({}, 20.0));
  double mean = 0.0;
  for (unsigned seed = 1; seed <= 20; ++seed) {
    study::TracerOptions options;
    options.counting_noise = 0.01;
    options.seed = seed;
    const auto r = study::tracer_study(*run, Traced::c3, 5.0, options);
    CHECK(r.fcr == support::near(r.true_fcr, 0.15));
    CHECK(r.fcr != support::near(r.true_fcr, 1e-6));
    mean += r.fcr / 20 / r.true_fcr;
  }
  CHECK(mean == support::near(1.0, 0.03));
}

TEST_CASE("the shipped story of two people: the same low C3, told apart by use and synthesis") {
  const auto story = scenario::read_file(support::source_folder() + "/scenarios/07-two-people-one-number.toml");
  REQUIRE_FALSE(story.beside.empty());
  const auto user = support::run_of(story);
  const auto maker = support::run_of(scenario::beside_story(story));
  CHECK(user->c3(10) < 0.9);
  CHECK(maker->c3(10) == support::near(user->c3(10), 0.05));
  CHECK(study::tracer_study(*user, Traced::c3, 10).fcr > 1.3 * study::tracer_study(*maker, Traced::c3, 10).fcr);
  CHECK(study::tracer_study(*user, Traced::c3, 10).synthesis >
        1.3 * study::tracer_study(*maker, Traced::c3, 10).synthesis);
}
