// The solver on a hard problem, on broken ones, and when it is told to stop.
#include <doctest/doctest.h>

#include "solve/problems.hpp"
#include "solve/segments.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE("Robertson's problem to t = 4e10 agrees with the reference solution") {
  // Reference: Hairer & Wanner's test set, as used for SUNDIALS and others:
  // (5.2083495894337328e-08, 2.0833399429795671e-13, 0.99999994791629776).
  const auto problem = support::robertson();
  solve::Options options;
  options.rtol = 1e-6;
  options.atol = {1e-12, 1e-16, 1e-12};
  solve::Course course(3);
  const auto outcome = solve::solve(problem, {1.0, 0.0, 0.0}, 0.0, 4e10, options, course);
  REQUIRE(outcome.status == solve::Status::ok);
  CHECK(course.value(0, 4e10) == support::near(5.2083495894337328e-08, 1e-4));
  CHECK(course.value(1, 4e10) == support::near(2.0833399429795671e-13, 1e-4));
  CHECK(course.value(2, 4e10) == support::near(0.99999994791629776, 1e-9));
  CHECK(outcome.statistics.steps < 1500);
}

TEST_CASE("a species that stops being a number is named, in bounded work") {
  int calls = 0;
  const support::Problem problem(
      3,
      [&calls](double t, const double* y, double* f) {
        calls += 1;
        f[0] = -y[0];
        f[1] = t > 2.0 ? std::numeric_limits<double>::quiet_NaN() : y[0] - y[1];
        f[2] = -y[2] + y[0];
      },
      [](double, const double*, double* j, double* dfdt) {
        for (int k = 0; k < 9; ++k) j[k] = 0.0;
        j[0] = j[4] = j[8] = -1.0;
        j[3] = j[6] = 1.0;
        dfdt[0] = dfdt[1] = dfdt[2] = 0.0;
      });
  solve::Course course(3);
  const auto outcome = solve::solve(problem, {1.0, 1.0, 1.0}, 0.0, 10.0, {}, course);
  CHECK(outcome.status == solve::Status::non_finite);
  CHECK(outcome.species == 1);
  CHECK(outcome.time <= 2.0);
  CHECK(outcome.time > 1.0);
  CHECK_FALSE(course.empty());
  CHECK(calls < 2000);
}

TEST_CASE("a start that is not a number is refused before any step") {
  const auto problem = support::logistic();
  solve::Course course(1);
  const auto outcome = solve::solve(problem, {std::numeric_limits<double>::infinity()}, 0.0, 1.0, {}, course);
  CHECK(outcome.status == solve::Status::non_finite);
  CHECK(outcome.species == 0);
  CHECK(course.empty());
}

TEST_CASE("a solution that blows up ends with a reason near that time, not in an endless loop") {
  // y' = y^2, y(0) = 1 goes to infinity at t = 1.
  const support::Problem problem(
      1, [](double, const double* y, double* f) { f[0] = y[0] * y[0]; },
      [](double, const double* y, double* j, double* dfdt) {
        j[0] = 2.0 * y[0];
        dfdt[0] = 0.0;
      });
  solve::Course course(1);
  const auto outcome = solve::solve(problem, {1.0}, 0.0, 2.0, {}, course);
  CHECK(outcome.status != solve::Status::ok);
  CHECK(outcome.time == support::near(1.0, 1e-3));
}

TEST_CASE("the step limit ends a run and keeps what was reached") {
  const auto problem = support::robertson();
  solve::Options options;
  options.step_limit = 10;
  solve::Course course(3);
  const auto outcome = solve::solve(problem, {1.0, 0.0, 0.0}, 0.0, 4e10, options, course);
  CHECK(outcome.status == solve::Status::step_limit);
  CHECK(course.step_count() == 10);
}

TEST_CASE("a run can be cancelled, and reports its progress") {
  const auto problem = support::logistic();
  solve::Options options;
  double last = 0.0;
  options.keep_going = [&](double t) {
    CHECK(t > last);
    last = t;
    return t < 1.0;
  };
  solve::Course course(1);
  const auto outcome = solve::solve(problem, {0.1}, 0.0, 50.0, options, course);
  CHECK(outcome.status == solve::Status::cancelled);
  CHECK(outcome.time == last);
  CHECK(last < 50.0);
}

TEST_CASE("where the fixed elimination order meets a pivot of zero the dense method takes over and is counted") {
  // shift - J has zeros on its diagonal: y0' = y0 * s + y1, with shift = 1/(gamma h) equal to the diagonal of J.
  const double step = 0.5;
  const double shift = 1.0 / (0.25 * step);
  const support::Problem problem(
      2,
      [shift](double, const double* y, double* f) {
        f[0] = shift * y[0] + y[1];
        f[1] = y[0] + shift * y[1];
      },
      [shift](double, const double*, double* j, double* dfdt) {
        j[0] = j[3] = shift;
        j[1] = j[2] = 1.0;
        dfdt[0] = dfdt[1] = 0.0;
      });
  solve::Options options;
  options.fixed_step = step;
  solve::Course ours(2);
  const auto outcome = solve::solve(problem, {1e-3, 0.0}, 0.0, 1.0, options, ours);
  CHECK(outcome.status == solve::Status::ok);
  CHECK(outcome.statistics.dense_fallbacks == 2);
  options.method = solve::Method::dense_reference;
  solve::Course theirs(2);
  REQUIRE(solve::solve(problem, {1e-3, 0.0}, 0.0, 1.0, options, theirs).status == solve::Status::ok);
  CHECK(ours.value(0, 1.0) == support::near(theirs.value(0, 1.0), 1e-9));
}

TEST_CASE("the sparse factors solve random matrices of the network's pattern") {
  const auto body = support::standard_body();
  const auto& pattern = body->plan->pattern;
  solve::SparseLu<double> lu(body->model->lu());
  CHECK(body->model->lu()->entries() < 2 * pattern.entries.size());  // little fill: that is what the order is for
  std::mt19937 random(3);
  std::normal_distribution<double> normal;
  for (int trial = 0; trial < 20; ++trial) {
    std::vector<double> values;
    for (std::size_t e = 0; e < pattern.entries.size(); ++e) values.push_back(normal(random));
    REQUIRE(lu.factorise(25.0, values.data()));
    std::vector<double> answer;
    for (std::size_t i = 0; i < pattern.size; ++i) answer.push_back(normal(random));
    std::vector<double> b(pattern.size);
    for (std::size_t i = 0; i < pattern.size; ++i) b[i] = 25.0 * answer[i];
    for (std::size_t e = 0; e < values.size(); ++e) {
      b[static_cast<std::size_t>(pattern.entries[e].first)] -=
          values[e] * answer[static_cast<std::size_t>(pattern.entries[e].second)];
    }
    lu.solve(b.data());
    for (std::size_t i = 0; i < pattern.size; ++i) REQUIRE(b[i] == support::near(answer[i], 1e-8));
  }
}

TEST_CASE("an input pulse much shorter than a step is not missed") {
  // Plasma exchange for two and a half hours in the middle of a quiet year: steps there are weeks long.
  scenario::Scenario story = support::story_with({}, 365.0);
  story.events.push_back({200.0, body::lever_at("plasma_exchange"), 0.44, 0.0, 2.5, ""});
  const auto run = support::run_of(story);
  REQUIRE(run->complete());
  CHECK(run->c3(199.9) == support::near(1.2, 1e-3));
  CHECK(run->c3(200.0 + 2.5 / 24) < 0.6);
}

TEST_CASE("a year of strong flare takes few steps") {
  const auto run = support::run_of(support::story_with({{"antibody_drive", 6}, {"antigen_release", 3}}, 365.0));
  REQUIRE(run->complete());
  CHECK(run->outcome().statistics.steps < 90);  // 40-80 in the first trials
  CHECK(run->outcome().statistics.rejected < 10);
  CHECK(run->outcome().statistics.dense_fallbacks == 0);
}

TEST_CASE("the odeint reference and the fast stepper give the same course") {
  const auto story = scenario::read_file(support::source_folder() + "/scenarios/02-kidney-flare.toml");
  SimulateOptions options;
  options.rtol = 1e-6;
  const auto fast = simulate(story, options);
  options.method = solve::Method::dense_reference;
  const auto reference = simulate(story, options);
  REQUIRE(fast->complete());
  REQUIRE(reference->complete());
  for (double day = 0; day <= 365; day += 5) {
    CHECK(fast->c3(day) == support::near(reference->c3(day), 1e-6));
    CHECK(fast->c4(day) == support::near(reference->c4(day), 1e-6));
  }
}

TEST_CASE("C3 and C4 of every story agree within 1e-3 between rtol 1e-4 and 1e-8") {
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    SimulateOptions tight;
    tight.rtol = 1e-8;
    SimulateOptions loose;
    loose.rtol = 1e-4;
    const auto shipped = simulate(story, loose);
    const auto exact = simulate(story, tight);
    REQUIRE(shipped->complete());
    REQUIRE(exact->complete());
    for (double day = 0; day <= story.days; day += 1) {
      REQUIRE_MESSAGE(std::abs(shipped->c3(day) - exact->c3(day)) < 1e-3 * exact->usual_c3(), path, " day ", day);
      REQUIRE_MESSAGE(std::abs(shipped->c4(day) - exact->c4(day)) < 1e-3 * exact->usual_c4(), path, " day ", day);
    }
  }
}
