// What is read from the state: units, flows that add up, and the sample's fate.
#include <doctest/doctest.h>

#include <cmath>

#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::run_of;
using support::settled_with;
using support::story_with;

TEST_CASE("at a steady state as much is made as is used, for both proteins, at rest and at the plateau of a flare") {
  for (const auto& story : {story_with({}, 400.0), story_with({{"antibody_drive", 6}, {"antigen_release", 3}}, 1500.0),
                            settled_with({{"hepatic_output", 0.5}})}) {
    const auto run = run_of(story, 1e-6);
    const auto flows = run->flows(run->last_day());
    for (const readout::Flows* f : {&flows.c3, &flows.c4}) {
      CHECK(f->made == support::near(f->used(), 1e-3));
      CHECK(std::abs(f->net_back()) < 1e-3 * f->made);
    }
  }
}

TEST_CASE("the flows add up to the change of the level throughout every story, away from its events") {
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const auto run = run_of(story, 1e-8);
    for (double day = 1; day < story.days - 1; day += 3.3) {
      const auto flows = run->flows(day);
      const double h = 0.02;
      // Grams: late pregnancy has more plasma.
      const auto litres = [&](double at) {
        return story.patient.plasma_litres() * (1 + 0.4 * run->lever(body::lever_at("pregnancy"), at));
      };
      CHECK(run->plasma_litres(day) == support::near(litres(day), 1e-12));
      // Not across an event, where the slope jumps.
      bool event = false;
      for (const auto& e : story.events)
        event = event || std::abs(e.day - day) < 0.1 || std::abs(e.day + e.ramp_days - day) < 0.1;
      if (event) continue;
      const double c3_slope = (run->c3(day + h) * litres(day + h) - run->c3(day - h) * litres(day - h)) / (2 * h);
      const double c4_slope = (run->c4(day + h) * litres(day + h) - run->c4(day - h) * litres(day - h)) / (2 * h);
      REQUIRE_MESSAGE(std::abs(flows.c3.slope - c3_slope) < 2e-3 * flows.c3.made, path, " day ", day);
      REQUIRE_MESSAGE(std::abs(flows.c4.slope - c4_slope) < 2e-3 * flows.c4.made, path, " day ", day);
    }
  }
}

TEST_CASE("made, used, exchanged and carried by tissue fluid add up to every protein's slope, in every story") {
  // The slope from the derivative itself, the flows from what each reaction says it counts for.
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    const body::Model& model = *run->body().model;
    for (const double day : {0.5, 0.3 * run->last_day(), 0.7 * run->last_day()}) {
      const std::vector<double> state = run->state(day);
      const std::vector<double> levers = run->levers(day);
      auto bound = run->body().bound();
      bound.bind(levers, {}, 0.0);
      std::vector<double> slope(state.size());
      bound.derivative(0.0, state.data(), slope.data());
      const std::vector<double> rates = body::reaction_rates(run->body(), state, levers);
      for (std::size_t p = 0; p < model.proteins().size(); ++p) {
        const body::ProteinId protein(p);
        const double litres = 2.8;
        const auto f = readout::read_flows_of(model, protein, state, rates, litres);
        const double grams = litres * model.proteins()[p].mass * 1e-6 * 24;
        CHECK_MESSAGE(std::abs(f.slope - slope[model.in_plasma(protein)] * grams) < 1e-9 * f.made + 1e-12, path, " ",
                      model.proteins()[p].name, " day ", day);
      }
    }
  }
}

TEST_CASE("what is spent at the tissues follows the patient's pattern") {
  auto story = story_with({{"antibody_drive", 6},
                           {"antigen_release", 3},
                           {"share_kidney", 0},
                           {"share_skin", 1},
                           {"share_joints", 0.5},
                           {"share_serosa", 0}},
                          200.0);
  const auto flows = run_of(story)->flows(150);
  using readout::Place;
  const auto spent = [&](Place place) { return flows.c4.spent[static_cast<std::size_t>(place)]; };
  CHECK(spent(Place::kidney) < 1e-3);
  CHECK(spent(Place::serosa) < 1e-3);
  CHECK(spent(Place::skin) == support::near(2 * spent(Place::joints), 0.05));
}

TEST_CASE("cold antibodies spend complement on red cells, cryoglobulins in the fluid") {
  using readout::Place;
  const auto cold = run_of(story_with({{"cold_antibody", 1}}, 60.0))->flows(50);
  CHECK(cold.c4.spent[static_cast<std::size_t>(Place::red_cells)] > 0.5 * cold.c4.spent_total());
  const auto cryo = run_of(story_with({{"cryoglobulin", 1}}, 60.0))->flows(50);
  CHECK(cryo.c4.spent[static_cast<std::size_t>(Place::fluid)] > 0.95 * cryo.c4.spent_total());
}

TEST_CASE("1 g/L of C3 in 2.8 L of plasma is 2.8 g, and 1 g/L is 100 mg/dL") {
  const auto run = run_of(story_with({}, 10.0));
  CHECK(run->flows(5).c3.pool == support::near(1.2 * 2.8, 1e-6));
  CHECK(readout::mg_per_dl == 100.0);
  CHECK(body::nanomolar(1200, 185) == support::near(6486.5, 1e-4));
  CHECK(body::nanomolar(250, 205) == support::near(1219.5, 1e-4));
}

TEST_CASE("cold activation in the tube lowers CH50 alone") {
  const auto run = run_of(settled_with({{"cold_activation", 0.8}}));
  CHECK(run->measured(5).ch50 < 25.0);
  CHECK(run->measured(5).c3 == support::near(1.2, 1e-3));
  CHECK(run->measured(5).c4 == support::near(0.25, 1e-3));
  CHECK(run->measured(5).ah50 == support::near(100.0, 1e-3));
  CHECK(run->serum(5).ch50 == support::near(100.0, 1e-3));
}

TEST_CASE("a healthy person's CH50 and AH50 are 100 % of normal") {
  const auto serum = run_of(story_with({}, 5.0))->serum(2);
  CHECK(serum.ch50 == support::near(100.0, 1e-4));
  CHECK(serum.ah50 == support::near(100.0, 1e-4));
}
