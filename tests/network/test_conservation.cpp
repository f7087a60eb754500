// Nothing is lost on the way. With synthesis, loss and clearance off, every C3, C4, factor B and C5 is somewhere; on
// full runs the change of each moiety equals the integral of what came in less what went out. A Rosenbrock method keeps
// linear sums to round-off, so the bound is 1e-9 whatever the step.
#include <doctest/doctest.h>

#include <cmath>

#include "support/ledger.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

bool crosses_the_border(const network::Network& network, const network::Reaction& reaction) {
  for (const network::Moiety& moiety : network.moieties) {
    if (network::moiety_change(moiety, reaction) != 0.0) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("with synthesis, loss and clearance off the C3, C4, factor B and C5 moieties are conserved") {
  const auto body = support::standard_body();
  network::Bound<double> closed = body->bound();
  std::size_t closed_off = 0;
  for (std::size_t r = 0; r < body->network.reactions.size(); ++r) {
    const network::Reaction& reaction = body->network.reactions[r];
    if (!crosses_the_border(body->network, reaction)) continue;
    // Only making, losing and clearing may cross the border: anything else would be a leak in a chapter.
    const std::string& name = reaction.name;
    bool allowed = false;
    for (const char* kind : {"make_", "turn_over_", "exchange_", "clear_", "shed_"}) {
      allowed = allowed || name.rfind(kind, 0) == 0;
    }
    REQUIRE_MESSAGE(allowed, name, " destroys or makes protein");
    closed.set_constant(r, 0.0);
    closed_off += 1;
  }
  CHECK(closed_off >= 20);
  std::vector<double> levers = body::resting_levers();
  levers[body::lever_at("antibody_drive")] = 6.0;
  levers[body::lever_at("nephritic_factor")] = 3.0;
  closed.bind(levers, {}, 0.0);
  const solve::NetworkSystem system(closed);
  solve::Course course(closed.plan().species);
  REQUIRE(solve::solve(system, body->rest, 0.0, 24.0 * 60, body->options(), course).status == solve::Status::ok);
  const std::vector<double> end = course.state(24.0 * 60);
  for (const network::Moiety& moiety : body->network.moieties) {
    const double before = support::moiety_amount(moiety, body->rest.data());
    CHECK(std::abs(support::moiety_amount(moiety, end.data()) / before - 1.0) < 1e-9);
  }
  // And something did happen.
  const auto c3 = static_cast<std::size_t>(body->network.species_index("C3"));
  CHECK(end[c3] < 0.5 * body->rest[c3]);
}

TEST_CASE("on a full run the change of each moiety equals the integral of in minus out") {
  const auto body = support::standard_body();
  for (const auto& [lever, value] : support::Levers{
           {"antibody_drive", 6}, {"nephritic_factor", 4}, {"hepatic_output", 0.3}, {"activating_surface", 1}}) {
    network::Bound<double> bound = body->bound();
    std::vector<double> levers = body::resting_levers();
    levers[body::lever_at(lever)] = value;
    bound.bind(levers, {}, 0.0);
    const support::Ledger ledger(*body, bound);
    std::vector<double> x = body->rest;
    x.resize(ledger.pattern().size, 0.0);
    solve::Options options;
    options.atol.assign(x.size(), 1e-2);
    for (std::size_t i = 0; i < body->model->scales().size(); ++i) options.atol[i] = 1e-6 * body->model->scales()[i];
    solve::Course course(x.size());
    REQUIRE(solve::solve(ledger, x, 0.0, 8760.0, options, course).status == solve::Status::ok);
    std::vector<double> end(x.size());
    course.last_state(end.data());
    CHECK(support::worst_imbalance(*body, x, end) <= 1e-9);
  }
}

TEST_CASE("a species at zero never has a negative derivative") {
  const auto body = support::standard_body();
  network::Bound<double> bound = body->bound();
  std::mt19937 random(99);
  const std::size_t n = bound.plan().species;
  std::vector<double> slope(n);
  for (int trial = 0; trial < 30; ++trial) {
    bound.bind(support::random_levers(random), {}, 0.0);
    const std::vector<double> x = support::random_state(body->network, random);
    for (std::size_t i = 0; i < n; ++i) {
      std::vector<double> at_zero = x;
      at_zero[i] = 0.0;
      bound.derivative(0.0, at_zero.data(), slope.data());
      REQUIRE_MESSAGE(slope[i] >= 0.0, body->network.species[i].name);
    }
  }
}

TEST_CASE("every lever outside the laboratory's is read by some reaction") {
  const auto body = support::standard_body();
  for (std::size_t i = 0; i < body::standard_model()->levers().size(); ++i) {
    if (body::standard_model()->levers()[i].group == body::LeverGroup::laboratory) continue;
    bool read = false;
    for (const network::Reaction& reaction : body->network.reactions) {
      for (const network::Factor& factor : reaction.factors) {
        read = read || (factor.symbol.is_input && factor.symbol.index == static_cast<int>(i));
      }
    }
    CHECK_MESSAGE(read, body::standard_model()->levers()[i].name);
  }
}
