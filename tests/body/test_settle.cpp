// Settling by Newton's method comes to what time comes to, and only to what is stable. Compared with three years of
// integration; tolerances are that integration's (its relative tolerance is 1e-3 on the way).
#include <doctest/doctest.h>

#include <cmath>

#include "body/builder.hpp"
#include "support/ledger.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

body::SettleOptions by_time() {
  body::SettleOptions options;
  options.by_time = true;
  return options;
}

// Largest difference of two states, of a species or its typical amount.
double difference(const body::Body& body, const std::vector<double>& a, const std::vector<double>& b) {
  double most = 0.0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    most = std::max(most, std::abs(a[i] - b[i]) / std::max(body.model->scales()[i], std::abs(b[i])));
  }
  return most;
}

// A body with one more species that makes itself at `gain` and is lost at 1, per hour; at rest there is none of it.
std::shared_ptr<const body::Body> with_a_runaway(double gain) {
  body::Catalogue c = body::standard_catalogue();
  c.chapters.emplace_back([gain](body::Builder& b) {
    b.chapter("made up");
    b.species("runaway", "something that makes itself", "nmol/L plasma", 1.0);
    b.reaction("runaway_grows", "it makes itself", gain, "/h", "made up")
        .gain("runaway")
        .by("runaway")
        .repressed("runaway", 5.0, 1, "nmol/L", "made up");
    b.reaction("runaway_fades", "it is lost", 1.0, "/h", "made up").lose("runaway").by("runaway");
  });
  return body::make_body({}, std::make_shared<const body::Model>(c));
}

}  // namespace

TEST_CASE("on 2 000 random settings the root found is the state time leads to") {
  std::mt19937 random(11);
  const auto body = support::standard_body();
  int found = 0;
  double worst = 0.0;
  for (int i = 0; i < 2000; ++i) {
    const std::vector<double> levers = support::random_levers(random);
    const auto root = body::settled(*body, levers);
    const auto time = body::settled(*body, levers, by_time());
    REQUIRE(root.outcome.status == solve::Status::ok);
    REQUIRE(time.outcome.status == solve::Status::ok);
    if (root.outcome.statistics.steps == 0) found += 1;
    worst = std::max(worst, difference(*body, root.state, time.state));
  }
  CHECK_MESSAGE(worst < 2e-4, worst);
  CHECK_MESSAGE(found > 1900, found);
}

TEST_CASE("pushed by a thousandth of every species' amount, a root comes back") {
  std::mt19937 random(12);
  const auto body = support::standard_body();
  const std::size_t n = body->rest.size();
  for (int i = 0; i < 100; ++i) {
    const std::vector<double> levers = support::random_levers(random);
    const auto root = body::settled(*body, levers);
    if (root.outcome.statistics.steps > 0) continue;
    auto bound = body->bound();
    bound.bind(levers, {}, 0.0);
    const solve::NetworkSystem system(bound);
    solve::Solver solver(bound.pattern(), body->model->lu());
    std::vector<double> x = root.state;
    for (std::size_t s = 0; s < n; ++s) x[s] += 1e-3 * body->model->scales()[s];
    const double pushed = difference(*body, x, root.state);
    solve::Course course(n);
    REQUIRE(solver.solve(system, x, 0.0, body::settling_hours, body->options(1e-4), course).status ==
            solve::Status::ok);
    course.last_state(x.data());
    CHECK(pushed > 4e-4);
    CHECK_MESSAGE(difference(*body, x, root.state) < 0.05 * pushed, i);
  }
}

TEST_CASE("a root that is not stable is refused, and time decides") {
  const auto calm = body::settled(*with_a_runaway(0.5), body::resting_levers());
  CHECK(calm.outcome.statistics.steps == 0);  // found by Newton's method: there is none of it, and that is stable
  const auto runaway = body::settled(*with_a_runaway(2.0), body::resting_levers());
  CHECK(runaway.outcome.statistics.steps > 0);
  // the sign it is told by
  const network::Pattern one{1, {{0, 0}}};
  solve::SparseLu<double> lu(std::make_shared<const solve::LuPlan>(one));
  const double grows = 0.5;
  const double fades = -0.5;
  REQUIRE(lu.factorise(1e-12, &grows));
  CHECK(lu.sign() == -1);
  REQUIRE(lu.factorise(1e-12, &fades));
  CHECK(lu.sign() == 1);
}

TEST_CASE("every story's daily C3 and C4 are within 2e-5 of their largest of a start settled by time") {
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    SimulateOptions options;
    options.settle_by_time = true;
    const auto time = simulate(story, options);
    const auto root = simulate(story);
    double most = 0.0;
    double c3 = 0.0;
    double c4 = 0.0;
    for (int day = 0; day <= static_cast<int>(story.days); ++day) {
      most = std::max(most, std::abs(root->c3(day) - time->c3(day)) + std::abs(root->c4(day) - time->c4(day)));
      c3 = std::max(c3, time->c3(day));
      c4 = std::max(c4, time->c4(day));
    }
    CHECK_MESSAGE(most < 2e-5 * std::min(c3, c4), path, " ", most);
  }
}
