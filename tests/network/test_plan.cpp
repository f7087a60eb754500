// The plan against the list it was worked out from: every rate law written out a second time, reaction by reaction,
// from the definitions beside FactorKind. Held inputs and ramping ones.
#include <doctest/doctest.h>

#include <cmath>

#include "support/stories.hpp"

using namespace drawdown;

namespace {

double written_out(const network::Factor& f, double x) {
  const double a = f.a.value;
  const double b = f.b.value;
  const double y = std::max(x, 0.0);
  switch (f.kind) {
    case network::FactorKind::first_order:
      return x;
    case network::FactorKind::saturating:
      return y / (a + y);
    case network::FactorKind::repressing:
      return 1.0 / (1.0 + std::pow(y / a, b));
    case network::FactorKind::gain:
      return 1.0 + a * y;
    case network::FactorKind::floor:
      return a + (1.0 - a) * y / b;
    case network::FactorKind::reciprocal:
      return 1.0 / x;
  }
  return std::nan("");
}

// Largest difference between the plan's rates and the list's, relative; `off` is added to every constant of the list.
double worst_rate(const body::Body& body, const std::vector<double>& levers, const std::vector<double>& slopes,
                  double hours, const std::vector<double>& x, double off = 0.0) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, slopes, 0.0);
  std::vector<double> rates(bound.plan().reactions());
  bound.rates(hours, x.data(), rates.data());
  double worst = 0.0;
  for (std::size_t r = 0; r < rates.size(); ++r) {
    const network::Reaction& reaction = body.network.reactions[r];
    double rate = reaction.constant.value * (1.0 + off);
    for (const network::Factor& f : reaction.factors) {
      const auto i = static_cast<std::size_t>(f.symbol.index);
      const double slope = slopes.empty() || !f.symbol.is_input ? 0.0 : slopes[i];
      rate *= written_out(f, f.symbol.is_input ? levers[i] + slope * hours : x[i]);
    }
    worst = std::max(worst, std::abs(rates[r] - rate) / std::max(std::abs(rate), 1e-30));
  }
  return worst;
}

}  // namespace

TEST_CASE("the plan's rates equal every rate law written out from the list, under held and under ramping levers") {
  const auto body = support::standard_body();
  std::mt19937 random(1957);
  for (int trial = 0; trial < 30; ++trial) {
    const std::vector<double> levers = support::random_levers(random);
    const std::vector<double> x = support::random_state(body->network, random);
    std::vector<double> slopes(levers.size(), 0.0);
    for (std::size_t i = 0; i < slopes.size(); i += 3) slopes[i] = 0.001 * static_cast<double>(i % 5);
    CHECK(worst_rate(*body, levers, {}, 0.0, x) < 1e-13);
    CHECK(worst_rate(*body, levers, slopes, 20.0, x) < 1e-13);
    // The comparison does see a constant that is off by a millionth.
    CHECK(worst_rate(*body, levers, {}, 0.0, x, 1e-6) > 1e-7);
  }
}

TEST_CASE("factors that are equal are worked out once, and linear reactions leave no partial") {
  const auto body = support::standard_body();
  std::size_t written = 0;
  std::size_t linear = 0;
  for (const network::Reaction& reaction : body->network.reactions) {
    std::size_t operands = 0;
    bool bent = false;
    for (const network::Factor& f : reaction.factors) {
      if (f.symbol.is_input) continue;
      operands += 1;
      bent = bent || f.kind != network::FactorKind::first_order;
      written += f.kind != network::FactorKind::first_order ? 1 : 0;
    }
    linear += operands == 1 && !bent ? 1 : 0;
  }
  CHECK(body->plan->terms.size() < written);
  CHECK(linear > 50);
  for (const auto& partial : body->plan->partials) {
    const network::Reaction& reaction = body->network.reactions[body->plan->written_as[partial.reaction]];
    const bool alone = reaction.factors.size() == 1 && reaction.factors[0].kind == network::FactorKind::first_order;
    REQUIRE_FALSE(alone);
  }
}

TEST_CASE("one plan serves two people at once: binding one does not move the other") {
  const auto body = support::standard_body();
  network::Bound<double> first = body->bound();
  network::Bound<double> second = body->bound();
  std::vector<double> slope(body->plan->species);
  std::vector<double> before(body->plan->species);
  first.derivative(0.0, body->rest.data(), before.data());
  std::vector<double> levers = body::resting_levers();
  levers[body::lever_at("hepatic_output")] = 0.3;
  second.bind(levers, {}, 0.0);
  first.derivative(0.0, body->rest.data(), slope.data());
  CHECK(slope == before);
  second.derivative(0.0, body->rest.data(), slope.data());
  CHECK(slope != before);
}

TEST_CASE("a rate law of more factors than the plan can hold is refused by name") {
  network::Network network = support::standard_body()->network;
  network::Reaction& reaction = network.reactions.front();
  reaction.name = "too_long";
  for (std::size_t i = 0; i <= network::Plan::most_operands; ++i) {
    reaction.factors.push_back({network::FactorKind::first_order, {false, 0}, {}, {}});
  }
  CHECK_THROWS_WITH_AS((void)network::Plan(network), doctest::Contains("too_long"), std::logic_error);
}
