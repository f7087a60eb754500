// The plasma volume: what a growing plasma dilutes, and that grams are neither made nor lost by it.
#include <doctest/doctest.h>

#include <cmath>

#include "support/ledger.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::near;

namespace {

const body::LeverId volume = body::lever_at("plasma_volume");
const body::LeverId pregnancy = body::lever_at("pregnancy");

// The plasma grows by half in ten days, twice: by the lever and in pregnancy; a flare goes on.
struct Growing {
  std::vector<double> levers = body::resting_levers();
  std::vector<double> slopes = std::vector<double>(levers.size(), 0.0);
  static constexpr double hours = 240.0;
  Growing() {
    levers[body::lever_at("antibody_drive")] = 6.0;
    levers[body::lever_at("plasma_exchange")] = 0.002;
    slopes[volume] = 0.5 / hours;
    slopes[pregnancy] = 1.0 / hours;
  }
};

// The imbalance of the ledger over the ten days, the volume at the end taken as `at_end`.
double imbalance(double at_end) {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  const Growing growing;
  bound.bind(growing.levers, growing.slopes, 0.0);
  const support::Ledger ledger(*body, bound);
  std::vector<double> x = body->rest;
  x.resize(ledger.pattern().size, 0.0);
  solve::Options options;
  options.rtol = 1e-7;
  options.atol.assign(x.size(), 1e-6);
  for (std::size_t i = 0; i < body->rest.size(); ++i) options.atol[i] = 1e-9 * body->model->scales()[i];
  options.step_limit = 200000;
  solve::Course course(x.size());
  REQUIRE(solve::solve(ledger, x, 0.0, Growing::hours, options, course).status == solve::Status::ok);
  std::vector<double> end(x.size());
  course.last_state(end.data());
  CHECK(bound.volume(Growing::hours) == near(1.5 * 1.4, 1e-12));
  return support::worst_imbalance(*body, x, end, 1.0, at_end);
}

}  // namespace

TEST_CASE("while the plasma grows the grams of each moiety change by what came in less what went out, to 1e-9") {
  CHECK(imbalance(1.5 * 1.4) <= 1e-9);
  // Negative control: grams on the litres of the start.
  CHECK(imbalance(1.0) > 0.1);
}

TEST_CASE("where the plasma volume jumps the grams stay and the levels change, of what is in the plasma alone") {
  scenario::Scenario story = support::story_with({{"antibody_drive", 6}}, 40.0);
  story.events.push_back({20.0, volume, 1.25, 0.0, 48.0, ""});
  const auto run = support::run_of(story, 1e-8);
  REQUIRE(run->complete());
  std::vector<double> before(run->body().rest.size());
  std::size_t ends = 0;
  for (std::size_t s = 0; s < run->course().step_count(); ++s) {
    if (run->course().step_end(s) != 480.0) continue;
    run->course().end_state(s, before.data());
    ends += 1;
  }
  REQUIRE(ends == 1);
  const std::vector<double> after = run->state(20.0);
  std::size_t diluted = 0;
  for (std::size_t i = 0; i < after.size(); ++i) {
    const bool per_litre = run->body().network.species[i].per_litre;
    CHECK(std::abs(after[i] - before[i] / (per_litre ? 1.25 : 1.0)) <= 1e-12 * before[i]);
    diluted += per_litre ? 1 : 0;
  }
  CHECK(diluted > 30);
  CHECK(diluted < after.size());
  // As much is made, in more litres, and the same share of it is used: the level stays low until the volume is back.
  CHECK(run->plasma_litres(21.0) == near(1.25 * run->plasma_litres(1.0), 1e-12));
  CHECK(run->flows(21.0).c3.made == near(run->flows(19.9).c3.made, 0.01));
  CHECK(run->c3(21.9) < run->c3(19.9) / 1.2);
  CHECK(run->c3(22.01) == near(1.25 * run->c3(21.99), 0.01));
}

TEST_CASE(
    "a person with more plasma makes as many grams and has them in more litres, and late pregnancy makes more too") {
  const auto usual = support::run_of(support::settled_with({}));
  const auto more = support::run_of(support::settled_with({{"plasma_volume", 1.25}}));
  const auto pregnant = support::run_of(support::settled_with({{"pregnancy", 1}}));
  CHECK(more->flows(0).c3.made == near(usual->flows(0).c3.made, 1e-9));
  CHECK(more->c3(0) < 0.85 * usual->c3(0));
  CHECK(pregnant->flows(0).c3.made == near(1.33 * 1.4 * usual->flows(0).c3.made, 1e-6));
  CHECK(pregnant->flows(0).c3.pool > 1.4 * 1.25 * usual->flows(0).c3.pool);
}

TEST_CASE("while the volume moves, the Jacobian and the time derivative equal central differences") {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  const Growing growing;
  bound.bind(growing.levers, growing.slopes, 0.0);
  std::vector<double> x = body->rest;
  const std::size_t n = x.size();
  for (std::size_t i = 0; i < n; ++i) x[i] += 0.1 * body->model->scales()[i];  // away from the kink at zero
  std::vector<double> slope(n);
  std::vector<double> values(bound.pattern().entries.size());
  std::vector<double> dfdt(n);
  std::vector<double> up(n);
  std::vector<double> down(n);
  const double t = 100.0;
  bound.linearise(t, x.data(), slope.data(), values.data(), dfdt.data());
  // In time.
  const double h = 0.01;
  bound.derivative(t + h, x.data(), up.data());
  bound.derivative(t - h, x.data(), down.data());
  for (std::size_t i = 0; i < n; ++i) {
    CHECK(std::abs(dfdt[i] - (up[i] - down[i]) / (2 * h)) <= 1e-5 * std::abs(dfdt[i]) + 1e-11 * (1.0 + x[i]));
  }
  // By each species itself.
  for (std::size_t e = 0; e < values.size(); ++e) {
    const auto [row, column] = bound.pattern().entries[e];
    if (row != column) continue;
    const auto i = static_cast<std::size_t>(row);
    const double by = 1e-6 * (x[i] + body->model->scales()[i]);
    std::vector<double> moved = x;
    moved[i] += by;
    bound.derivative(t, moved.data(), up.data());
    moved[i] -= 2 * by;
    bound.derivative(t, moved.data(), down.data());
    const double difference = (up[i] - down[i]) / (2 * by);
    CHECK(std::abs(values[e] - difference) <= 1e-5 * std::abs(difference) + 1e-6 * std::abs(up[i] / (x[i] + 1.0)));
  }
  // And what dilution takes is the level times V'/V, nothing from what is no amount per litre.
  network::Bound<double> still = body->bound();
  std::vector<double> held = growing.levers;
  for (const body::LeverId lever : {volume, pregnancy}) held[lever] += t * growing.slopes[lever];
  still.bind(held, {}, 0.0);
  still.derivative(t, x.data(), down.data());
  const double grows = 0.5 / 240 / held[volume] + 0.4 / 240 / (1 + 0.4 * held[pregnancy]);
  for (std::size_t i = 0; i < n; ++i) {
    const double taken = body->network.species[i].per_litre ? x[i] * grows : 0.0;
    CHECK(std::abs(down[i] - slope[i] - taken) <= 1e-12 * (1.0 + x[i]));
  }
}

TEST_CASE("a volume that reads a species or bends, and a reaction across litres and none, are refused by name") {
  network::Network n;
  n.species = {{"a", "a", "nmol/L plasma", "c", 1.0, true}, {"b", "b", "relative", "c", 1.0, false}};
  n.inputs = {{"u", "1", 1.0}};
  n.reactions = {{"r", "r", "c", {1.0, "/h", "made up"}, {}, {{0, 1.0}}}};
  CHECK_NOTHROW(network::validate(n));
  network::Network across = n;
  across.reactions[0].changes.push_back({1, 1.0});
  CHECK_THROWS_WITH(network::validate(across),
                    "network: what is per litre of plasma and what is not in one reaction: r");
  network::Network bends = n;
  bends.volume = {{network::FactorKind::reciprocal, {true, 0}, {}, {}}};
  CHECK_THROWS_WITH(network::validate(bends), "network: a plasma volume that is not straight in an input");
  network::Network of_species = n;
  of_species.volume = {{network::FactorKind::first_order, {false, 0}, {}, {}}};
  CHECK_THROWS_WITH(network::validate(of_species), "network: a plasma volume that is not straight in an input");
  n.volume = {{network::FactorKind::gain, {true, 0}, {0.4, "per unit", "made up"}, {}}};
  CHECK_NOTHROW(network::validate(n));
  CHECK(network::volume_share(n, {0.5}) == near(1.2, 1e-15));
}
