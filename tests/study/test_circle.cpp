// The circle in a tissue against whole integrations with one link's constants changed, which share nothing with the
// variational equations but the network.
//   eases = 10 % x d ln(injury) / d ln(link), over the days before the day asked about
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "scenario/timeline.hpp"
#include "solve/segments.hpp"
#include "study/circle.hpp"
#include "support/kidney_flare.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using study::Link;

namespace {

constexpr double day = 60.0;
constexpr std::size_t kidney = 0;

// The kidney's injury on the day, had these reactions run at `factor` of their pace over the four weeks before.
double injury_with(const Run& run, const std::vector<std::string>& reactions, double factor) {
  network::Plan plan = *run.body().plan;
  for (const std::string& name : reactions) {
    const int r = run.body().network.reaction_index(name);
    REQUIRE(r >= 0);
    plan.constants[plan.place_of[static_cast<std::size_t>(r)]] *= factor;
  }
  const double from = 24.0 * (day - study::circle_days);
  const double to = 24.0 * day;
  std::vector<solve::Segment> segments;
  for (solve::Segment segment : scenario::Timeline(run.story()).segments()) {
    const double start = std::max(segment.start, from);
    segment.end = std::min(segment.end, to);
    if (segment.end <= start) continue;
    for (std::size_t i = 0; i < segment.slopes.size(); ++i) {
      segment.values[i] += segment.slopes[i] * (start - segment.start);
    }
    segment.start = start;
    segments.push_back(segment);
  }
  network::Bound<double> bound(std::make_shared<const network::Plan>(plan));
  bound.bind(segments.front().values, {}, from);
  solve::Solver solver(bound.pattern(), run.body().model->lu());
  solve::Options options;
  options.rtol = 1e-8;
  solve::Course course(plan.species);
  const auto outcome = solve::run_segments(bound, solver, segments, run.state(from / 24.0), options, course);
  REQUIRE(outcome.status == solve::Status::ok);
  std::vector<double> last(plan.species);
  course.last_state(last.data());
  return last[run.body().model->tissue_ids()[kidney].injury];
}

double eased(const study::Circle& circle, Link link) {
  return circle.links[static_cast<std::size_t>(link)].eases;
}

}  // namespace

TEST_CASE(
    "what a link eases is what a tenth of it changes in whole runs, within 3 %, and a link left alone changes "
    "nothing") {
  const study::Circle circle = study::circle_of(*support::kidney_flare(), kidney, day);
  REQUIRE(circle.links.size() == study::link_names.size());
  const double base = injury_with(*support::kidney_flare(), {}, 1.0);
  CHECK(base == support::near(circle.injury, 1e-3));
  struct Case {
    Link link;
    std::vector<std::string> reactions;
    double sign;  // a link weaker, an exit stronger
  };
  const std::vector<Case> cases{{Link::forms, {"complex_forms"}, -1},
                                {Link::settles, {"settle_kidney"}, -1},
                                {Link::inflames, {"inflame_fc_kidney", "inflame_c5a_kidney"}, -1},
                                {Link::injures, {"injure_kidney"}, -1},
                                {Link::returns, {"debris_kidney"}, -1},
                                {Link::debris_cleared, {"debris_cleared"}, 1},
                                {Link::removed, {"remove_kidney"}, 1},
                                {Link::calms, {"calm_kidney"}, 1},
                                {Link::heals, {"heal_kidney"}, 1}};
  for (const Case& one : cases) {
    const double h = 1e-3;
    const double changed = injury_with(*support::kidney_flare(), one.reactions, 1.0 + one.sign * h);
    const double expected = 100.0 * (base - changed) / base * (0.1 / h);
    CHECK_MESSAGE(std::abs(eased(circle, one.link) - expected) <= 0.03 * std::abs(expected) + 0.02,
                  study::link_names.at(static_cast<std::size_t>(one.link)), " ", eased(circle, one.link), " ",
                  expected);
    CHECK(expected > 0.0);
  }
  // The check can fail: another link's change is not this one's.
  const double other = 100.0 * (base - injury_with(*support::kidney_flare(), {"heal_kidney"}, 1.001)) / base * 100.0;
  CHECK(std::abs(eased(circle, Link::settles) - other) > 0.03 * std::abs(other) + 0.02);
}

TEST_CASE("the weakest link is the one that eases most, and without injury there is none") {
  const study::Circle circle = study::circle_of(*support::kidney_flare(), kidney, day);
  const study::LinkEffect* weakest = circle.weakest();
  REQUIRE(weakest != nullptr);
  for (const study::LinkEffect& link : circle.links) CHECK(link.eases <= weakest->eases);
  const auto quiet = simulate(scenario::read_file(support::source_folder() + "/scenarios/01-steady-day.toml"));
  CHECK(study::circle_of(*quiet, kidney, 5.0).weakest() == nullptr);
}

TEST_CASE("every tissue's circle is closed by rule: each link and exit has its reactions, and flows are their rates") {
  const auto run = support::kidney_flare();
  for (std::size_t tissue = 0; tissue < run->body().model->tissue_ids().size(); ++tissue) {
    const study::Circle circle = study::circle_flows(*run, tissue, day);
    for (const study::LinkEffect& link : circle.links) {
      CHECK_MESSAGE(link.flow > 0.0, tissue, " ", study::link_names.at(static_cast<std::size_t>(link.link)));
    }
  }
  // What settles in the tissues and what is cleared is all that leaves the circulating complexes.
  const auto flow = [&](std::size_t tissue, Link link) {
    return study::circle_flows(*run, tissue, day).links[static_cast<std::size_t>(link)].flow;
  };
  double settles = 0.0;
  for (std::size_t t = 0; t < run->body().model->tissue_ids().size(); ++t) settles += flow(t, Link::settles);
  const double out = settles + flow(0, Link::complexes_cleared);
  const double in = flow(0, Link::forms);
  const std::size_t complexes = run->body().model->known().complexes;
  const double change = (run->state(day + 0.01)[complexes] - run->state(day - 0.01)[complexes]) / 0.02;
  CHECK(in - out == support::near(change, 0.02));
  CHECK_THROWS_AS((void)study::circle_flows(*run, 99, day), std::logic_error);
}
