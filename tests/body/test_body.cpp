// The body at rest and its levers one by one: what physiology says must follow, in direction.
#include <doctest/doctest.h>

#include <cmath>

#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::run_of;
using support::settled_with;
using support::story_with;

TEST_CASE("a body that does not come to rest says why and gives no state in place of one") {
  const auto body = support::standard_body();
  const auto rest = body::settled(*body, body::resting_levers());
  CHECK(rest.outcome.status == solve::Status::ok);
  REQUIRE(rest.state.size() == body->rest.size());
  std::vector<double> broken = body::resting_levers();
  broken[body::lever_at("hepatic_output")] = std::nan("");
  const auto nan = body::settled(*body, broken);
  CHECK(nan.outcome.status == solve::Status::non_finite);
  CHECK(nan.state.empty());  // it used to be the healthy state
  body::SettleOptions few;
  few.step_limit = 3;
  std::vector<double> flare = body::resting_levers();
  flare[body::lever_at("antibody_drive")] = 6;
  CHECK(body::settled(*body, flare, few).outcome.status == solve::Status::step_limit);
  CHECK(body::settled(*body, flare, few).state.empty());
  body::SettleOptions cancelled;
  cancelled.keep_going = [](double hours) { return hours < 100.0; };
  CHECK(body::settled(*body, flare, cancelled).outcome.status == solve::Status::cancelled);
  CHECK(body::settled(*body, flare, cancelled).state.empty());
}

TEST_CASE("a run whose start does not settle has no course, no usual level, and can be cancelled before day 0") {
  const auto story = support::settled_with({{"antibody_drive", 6}, {"hepatic_output", 0.5}});
  SimulateOptions few;
  few.step_limit = 3;
  const auto stuck = simulate(support::standard_body(), story, few);
  CHECK_FALSE(stuck->complete());
  CHECK_FALSE(stuck->started());
  CHECK(stuck->outcome().status == solve::Status::step_limit);
  CHECK(stuck->outcome().time < 0.0);
  CHECK_THROWS_AS((void)stuck->c3(5), std::logic_error);
  double first_seen = 0.0;
  SimulateOptions cancelled;
  cancelled.keep_going = [&](double hours) {
    first_seen = std::min(first_seen, hours);
    return false;
  };
  const auto ended = simulate(support::standard_body(), story, cancelled);
  CHECK(ended->outcome().status == solve::Status::cancelled);
  CHECK_FALSE(ended->started());
  CHECK(first_seen < -20000.0);
  CHECK(simulate(support::standard_body(), story)->started());
}

TEST_CASE("the healthy body rests exactly at its usual levels, for different people") {
  for (const double c3 : {0.8, 1.2, 1.8}) {
    for (const double c4 : {0.12, 0.25, 0.45}) {
      body::Patient patient;
      patient.usual[body::protein_at("C3")] = 1000 * c3;
      patient.usual[body::protein_at("C4")] = 1000 * c4;
      scenario::Scenario story = story_with({}, 200.0);
      story.patient = patient;
      const auto run = run_of(story);
      CHECK(run->c3(200) == support::near(c3, 1e-6));
      CHECK(run->c4(200) == support::near(c4, 1e-6));
    }
  }
}

TEST_CASE("at rest nothing is deposited or inflamed beyond a trace") {
  const auto run = run_of(story_with({}, 30.0));
  for (const readout::Tissue& tissue : run->tissues(30)) {
    CHECK(std::abs(tissue.deposit) < 1e-9);
    CHECK(std::abs(tissue.inflammation) < 1e-9);
  }
}

TEST_CASE(
    "without the gene of C1q, C2, C5 or C9 that protein is gone and CH50 with it (of C9 half), C3 and C4 no lower") {
  struct Case {
    const char* lever;
    const char* protein;
    bool ah50;
  };
  for (const Case& c : {Case{"c1q_gene_copies", "C1", false}, Case{"c2_gene_copies", "C2", false},
                        Case{"c5_gene_copies", "C5", true}, Case{"c9_gene_copies", "C9", true}}) {
    const auto run = run_of(settled_with({{c.lever, 0}}));
    const auto serum = run->serum(10);
    CHECK_MESSAGE(serum.c3 > 1.18, c.lever);
    // Without C1q debris stays and inflames, so a little more of both is made; nothing is lost to C1 waking by itself.
    const bool c1q = std::string(c.protein) == "C1";
    if (!c1q) CHECK_MESSAGE(serum.c3 == support::near(1.2, 0.02), c.lever);
    CHECK_MESSAGE(serum.c3 < 1.4, c.lever);
    CHECK_MESSAGE(serum.c4 > 0.245, c.lever);
    CHECK_MESSAGE(serum.c4 < (c1q ? 0.35 : 0.30), c.lever);
    const auto own = static_cast<std::size_t>(run->body().network.species_index(c.protein));
    CHECK_MESSAGE(run->state(10)[own] < 1e-6, c.lever);  // nmol/L
    CHECK_MESSAGE(support::standard_body()->rest[own] > 1.0, c.lever);
    // Laboratory guideline tables (from memory): without C9 cells are lysed to about half.
    const bool c9 = std::string(c.protein) == "C9";
    CHECK_MESSAGE((c9 ? serum.ch50 > 40.0 && serum.ch50 < 60.0 : serum.ch50 < 5.0), c.lever);
    if (c.ah50) CHECK_MESSAGE(serum.ah50 < (c9 ? 60.0 : 5.0), c.lever);
    if (!c.ah50) CHECK_MESSAGE(serum.ah50 > 90.0, c.lever);
  }
}

TEST_CASE("loss of factor I or factor H empties C3 by itself, C4 untouched") {
  for (const char* lever : {"factor_i_gene_copies", "factor_h_gene_copies"}) {
    const auto run = run_of(story_with({{lever, 0}}, 365.0));
    CHECK(run->c3(365) < 0.36);  // C3 about 30 % of usual (Vyse 1994: without factor I)
    CHECK(run->c4(365) == support::near(0.25, 0.02));
  }
}

TEST_CASE("the surface loop stays in check while the liver fails, and does not depend on the tolerance") {
  for (const double output : {0.3, 0.5, 0.7, 1.0}) {
    const auto loose = run_of(story_with({{"hepatic_output", output}}, 365.0), 1e-5);
    const auto tight = run_of(story_with({{"hepatic_output", output}}, 365.0), 1e-7);
    CHECK(loose->c3(365) == support::near(tight->c3(365), 1e-3));
    // C3 falls with its synthesis (92 % hepatic) and no more than a third beyond.
    const double made = 0.92 * output + 0.08;
    CHECK(loose->c3(365) > 1.2 * made * 0.66);
    CHECK(loose->c3(365) < 1.2 * made * 1.1);
  }
}

TEST_CASE("low complement slows clearance: with C3 and C1q gone more complexes settle, but not without bound") {
  const support::Levers flare{{"antibody_drive", 4}, {"antigen_release", 2}};
  const auto normal = run_of(story_with(flare, 200.0));
  auto without = story_with(flare, 200.0);
  without.levers[body::lever_at("c1q_gene_copies")] = 0;
  without.levers[body::lever_at("c3_gene_copies")] = 0;
  const auto lacking = run_of(without);
  CHECK(lacking->tissues(150)[0].deposit > 1.1 * normal->tissues(150)[0].deposit);
  CHECK(lacking->tissues(150)[0].deposit < 5.0 * normal->tissues(150)[0].deposit);
}

TEST_CASE("an antibody that fixes no complement settles and inflames but leaves C3 and C4 alone") {
  const auto run = run_of(
      story_with({{"antibody_drive", 6}, {"antigen_release", 3}, {"fixation", 0}, {"acute_phase_response", 0}}, 200.0));
  CHECK(run->c3(200) == support::near(1.2, 0.02));
  CHECK(run->c4(200) == support::near(0.25, 0.02));
  CHECK(run->tissues(200)[0].deposit > 0.3);
}

TEST_CASE("a blocker of C1s, C3 or factor B stops its own step and nothing above it") {
  const support::Levers flare{{"antibody_drive", 6}, {"antigen_release", 3}, {"acute_phase_response", 0}};
  const auto with = [&](const char* blocker) {
    support::Levers levers = flare;
    levers.emplace_back(blocker, 1.0);
    return run_of(story_with(levers, 200.0));
  };
  const auto open = run_of(story_with(flare, 200.0));
  const auto c1s = with("block_c1s");
  CHECK(c1s->c4(200) > 0.24);
  CHECK(c1s->c3(200) > 1.15);
  const auto c3 = with("block_c3");
  CHECK(c3->c4(200) < 0.15);
  CHECK(c3->c3(200) > open->c3(200) + 0.2);
  const auto factor_b = with("block_factor_b");
  CHECK(factor_b->c4(200) < 0.15);
  CHECK(factor_b->c3(200) > open->c3(200) + 0.1);
  CHECK(factor_b->c3(200) < c1s->c3(200));
}

TEST_CASE("the acute phase never more than doubles C3, and a stronger liver and pregnancy come on top") {
  std::mt19937 random(1234);
  for (int trial = 0; trial < 60; ++trial) {
    const std::vector<double> levers = support::random_levers(random);
    scenario::Scenario story = story_with({}, 200.0);
    story.levers = levers;
    const auto run = run_of(story);
    REQUIRE(run->complete());
    const double more =
        std::max(1.0, levers[body::lever_at("hepatic_output")]) * (1 + 0.33 * levers[body::lever_at("pregnancy")]);
    CHECK(run->c3(200) <= 2.0 * 1.2 * more);
  }
}
