// Many people in lanes: the same bits on every set of instructions and beside anyone, the course each would have alone,
// and no answer where the lanes cannot give one.
#include <doctest/doctest.h>

#include <cmath>
#include <cstring>

#include "solve/lanes.hpp"
#include "support/people.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

constexpr std::size_t people = solve::lane_count;

std::shared_ptr<const solve::LanesShared> shared_of(const body::Body& body, double rtol = 1e-5,
                                                    std::size_t step_limit = 20000) {
  return std::make_shared<const solve::LanesShared>(
      solve::LanesShared{body.plan, body.model->lu(), body.rest, body.model->scales(), rtol, step_limit});
}

std::vector<scenario::Scenario> stories_from(std::size_t number, std::size_t count = people) {
  std::vector<scenario::Scenario> stories;
  for (std::size_t p = 0; p < count; ++p) stories.push_back(support::sampled_person(number + p, true));
  return stories;
}

// C3 and C4 every day.
solve::LanesTask task_of(const std::vector<scenario::Scenario>& stories) {
  solve::LanesTask task;
  for (const auto& story : stories) task.people.push_back({story.levers, scenario::Timeline(story).segments()});
  const body::Model& model = *stories.front().model;
  task.species = {model.in_plasma(model.known().c3), model.in_plasma(model.known().c4)};
  for (int day = 0; day <= static_cast<int>(stories.front().days); ++day) task.times.push_back(24.0 * day);
  return task;
}

void require_all_ok(const solve::LanesAnswer& answer) {
  for (const auto& person : answer.people) REQUIRE(person.status == solve::LanesStatus::ok);
}
// What was read of one person.
std::vector<double> of_person(const solve::LanesAnswer& answer, std::size_t p) {
  const std::size_t row = answer.read.size() / answer.people.size();
  const auto from = answer.read.begin() + static_cast<std::ptrdiff_t>(p * row);
  return {from, from + static_cast<std::ptrdiff_t>(row)};
}

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

// Largest difference from runs alone at `rtol`, as a share of that person's largest value.
double off_from_alone(const std::vector<scenario::Scenario>& stories, const solve::LanesAnswer& answer, double rtol) {
  double worst = 0.0;
  for (std::size_t p = 0; p < stories.size(); ++p) {
    const auto run = support::run_of(stories[p], rtol);
    const std::vector<double> read = of_person(answer, p);
    REQUIRE(run->complete());
    const body::Model& model = *run->body().model;
    for (const std::size_t which : {0U, 1U}) {
      const auto species = model.in_plasma(which == 0 ? model.known().c3 : model.known().c4);
      double most = 0.0;
      double off = 0.0;
      for (std::size_t day = 0; day * 2 < read.size(); ++day) {
        const double alone = run->course().value(species, 24.0 * static_cast<double>(day));
        most = std::max(most, alone);
        off = std::max(off, std::abs(read[day * 2 + which] - alone));
      }
      worst = std::max(worst, off / most);
    }
  }
  return worst;
}

}  // namespace

TEST_CASE("every set of instructions of this machine gives the same bits") {
  const auto shared = shared_of(*support::standard_body());
  const auto here = solve::instructions_here();
  REQUIRE(here.front() == solve::Instructions::portable);
  for (const std::size_t count : {1U, 8U, 19U}) {
    solve::LanesTask task = task_of(stories_from(count, count));
    const auto portable = solve::LanesRunner(shared, here.front()).run(task);
    require_all_ok(portable);
    for (const solve::Instructions instructions : here) {
      solve::LanesRunner runner(shared, instructions);
      const auto answer = runner.run(task);
      CHECK_MESSAGE(same_bytes(answer.read, portable.read), solve::instructions_name(instructions));
      for (std::size_t p = 0; p < count; ++p) {
        CHECK(answer.people[p].steps == portable.people[p].steps);
        CHECK(answer.people[p].rejected == portable.people[p].rejected);
        CHECK(answer.people[p].iterations == portable.people[p].iterations);
      }
      // And a second time in the same workspace.
      CHECK(same_bytes(runner.run(task).read, portable.read));
    }
    // One lever of one person by one unit in its last place is seen, and in that person alone.
    double& lever = task.people.back().before[body::lever_at("hepatic_output")];
    lever = std::nextafter(lever, 2.0);
    const auto other = solve::LanesRunner(shared, here.back()).run(task);
    for (std::size_t p = 0; p < count; ++p) {
      CHECK(same_bytes(of_person(other, p), of_person(portable, p)) == (p + 1 < count));
    }
  }
}

TEST_CASE("people are each within 1e-4 of their course's largest of a run alone") {
  for (const std::size_t number : {0U, 40U}) {
    const auto stories = stories_from(number, 10);
    const auto task = task_of(stories);
    const auto body = support::standard_body();
    const auto answer = solve::LanesRunner(shared_of(*body), solve::widest_instructions()).run(task);
    require_all_ok(answer);
    // What simulate.hpp promises at the shipped tolerance, from the truth and from what is shipped.
    CHECK(off_from_alone(stories, answer, 1e-9) < 1e-4);
    CHECK(off_from_alone(stories, answer, 1e-5) < 1e-4);
    // At a tolerance a thousand times looser it is not kept: the comparison sees errors of that size.
    const auto loose = solve::LanesRunner(shared_of(*body, 1e-2), solve::widest_instructions()).run(task);
    require_all_ok(loose);
    CHECK(off_from_alone(stories, loose, 1e-9) > 1e-4);
  }
}

TEST_CASE("a person takes the very same steps beside anyone, in any lane, as when run by itself") {
  const auto shared = shared_of(*support::standard_body());
  auto stories = stories_from(24, 21);
  solve::LanesRunner runner(shared, solve::widest_instructions());
  const auto before = runner.run(task_of(stories));
  require_all_ok(before);
  std::rotate(stories.begin(), stories.begin() + 5, stories.end());
  stories.resize(18);
  const auto after = runner.run(task_of(stories));
  for (std::size_t p = 0; p < stories.size(); ++p) {
    const std::size_t was = (p + 5) % 21;
    CHECK(same_bytes(of_person(after, p), of_person(before, was)));
    CHECK_FALSE(same_bytes(of_person(after, p), of_person(before, p)));
    CHECK(after.people[p].steps == before.people[was].steps);
    CHECK(after.people[p].rejected == before.people[was].rejected);
    CHECK(after.people[p].iterations == before.people[was].iterations);
  }
  for (const std::size_t p : {0U, 7U, 17U}) {
    const auto by_itself = solve::LanesRunner(shared, solve::widest_instructions()).run(task_of({stories[p]}));
    CHECK(same_bytes(by_itself.read, of_person(after, p)));
  }
}

TEST_CASE("people of whom some have more plasma, all at once or day by day, are each within 1e-4 of a run alone") {
  constexpr std::size_t people = 11;
  std::vector<scenario::Scenario> stories;
  for (std::size_t p = 0; p < people; ++p) {
    // A ramp from day 20 to 40, a jump on day 50 and back on day 53.
    scenario::Scenario story = support::story_with({}, 80.0);
    const double share = 0.05 * static_cast<double>(p);
    story.levers[body::lever_at("plasma_volume")] = 1.0 + 0.5 * share;
    story.events = {{20.0, body::lever_at("pregnancy"), share, 20.0, 0.0, ""},
                    {50.0, body::lever_at("plasma_volume"), 1.0 - share, 0.0, 72.0, ""}};
    stories.push_back(story);
  }
  const auto task = task_of(stories);
  const auto body = support::standard_body();
  const auto answer = solve::LanesRunner(shared_of(*body), solve::widest_instructions()).run(task);
  require_all_ok(answer);
  CHECK(off_from_alone(stories, answer, 1e-9) < 1e-4);
  const auto portable = solve::LanesRunner(shared_of(*body), solve::Instructions::portable).run(task);
  CHECK(same_bytes(answer.read, portable.read));
  // Negative control: the last person's jump is seen against the first's, who has none.
  const auto c3 = [&](std::size_t day, std::size_t p) { return of_person(answer, p)[2 * day]; };
  CHECK(c3(50, people - 1) / c3(49, people - 1) > 1.2 * c3(50, 0) / c3(49, 0));
}

TEST_CASE("on 800 random settings the state settled to is the one each settles to alone") {
  const auto body = support::standard_body();
  const std::vector<double>& scales = body->model->scales();
  solve::LanesRunner runner(shared_of(*body), solve::widest_instructions());
  std::mt19937 random(303);
  std::size_t found = 0;
  double worst = 0.0;
  double nearest_other = 1e9;
  solve::LanesTask task;
  for (int person = 0; person < 800; ++person) task.resting.push_back(support::random_levers(random));
  for (std::size_t i = 0; i < scales.size(); ++i) task.species.push_back(i);
  const auto answer = runner.run(task);
  REQUIRE(answer.resting.size() == 800);
  const auto off = [&](const std::vector<double>& alone, std::size_t p) {
    double most = 0.0;
    for (std::size_t i = 0; i < scales.size(); ++i) {
      most = std::max(most, std::abs(answer.rest[p * scales.size() + i] - alone[i]) / std::max(scales[i], alone[i]));
    }
    return most;
  };
  for (std::size_t p = 0; p < 800; ++p) {
    if (answer.resting[p].status != solve::LanesStatus::ok) continue;
    found += 1;
    const auto alone = body::settled(*body, task.resting[p]);
    REQUIRE(alone.outcome.status == solve::Status::ok);
    // A few are settled by time there, within its tolerance on the way (tests/body/test_settle.cpp).
    const bool by_time = alone.outcome.statistics.steps > 0;
    worst = std::max(worst, off(alone.state, p) * (by_time ? 1e-6 / 2e-4 : 1.0));
    nearest_other = std::min(nearest_other, off(alone.state, (p + 1) % 800));
  }
  CHECK_MESSAGE(found >= 795, found);
  CHECK_MESSAGE(worst < 1e-6, worst);
  CHECK_MESSAGE(nearest_other > 1e-3, nearest_other);
}

TEST_CASE("the course kept of one person says at every time what was read, to the last bit") {
  const auto body = support::standard_body();
  auto task = task_of(stories_from(8, 12));
  solve::Course course(body->rest.size());
  task.course = &course;
  task.kept = 10;
  const auto answer = solve::LanesRunner(shared_of(*body), solve::widest_instructions()).run(task);
  require_all_ok(answer);
  CHECK(course.step_count() == answer.people[10].steps);
  CHECK(course.end_time() == task.people[10].segments.back().end);
  const std::vector<double> own = of_person(answer, 10);
  const std::vector<double> another = of_person(answer, 9);
  std::size_t same = 0;
  std::size_t as_another = 0;
  for (std::size_t at = 0; at < task.times.size(); ++at) {
    for (std::size_t which = 0; which < 2; ++which) {
      const double kept = course.value(task.species[which], task.times[at]);
      same += kept == own[at * 2 + which] ? 1U : 0U;
      as_another += kept == another[at * 2 + which] ? 1U : 0U;
    }
  }
  CHECK(same == 2 * task.times.size());
  CHECK(as_another == 0);
}

TEST_CASE("what the lanes cannot do is refused with its reason, for that person alone, on every set of instructions") {
  const auto body = support::standard_body();
  const auto task = task_of(stories_from(0, 11));
  const std::size_t liver = body::lever_at("hepatic_output");
  auto spoilt = task;
  spoilt.people[5].segments[2].values[liver] = std::nan("");
  spoilt.people[8].before[liver] = std::nan("");
  spoilt.resting = {task.people[0].before, spoilt.people[8].before};
  for (const solve::Instructions instructions : solve::instructions_here()) {
    solve::LanesRunner runner(shared_of(*body), instructions);
    const auto whole = runner.run(task);
    require_all_ok(whole);
    const auto answer = runner.run(spoilt);
    const auto stopped = answer.people[5].status;
    CHECK((stopped == solve::LanesStatus::non_finite || stopped == solve::LanesStatus::bad_pivot));
    CHECK(answer.people[8].status == solve::LanesStatus::not_settled);
    CHECK(answer.resting[0].status == solve::LanesStatus::ok);
    CHECK(answer.rest[0] == of_person(whole, 0)[0]);
    CHECK(answer.resting[1].status == solve::LanesStatus::not_settled);
    for (const std::size_t p : {0U, 1U, 2U, 3U, 4U, 6U, 7U, 9U, 10U}) {
      REQUIRE(answer.people[p].status == solve::LanesStatus::ok);
      CHECK(same_bytes(of_person(answer, p), of_person(whole, p)));
    }
    CHECK(same_bytes(runner.run(task).read, whole.read));
    solve::LanesRunner hurried(shared_of(*body, 1e-5, 3), instructions);
    for (const auto& person : hurried.run(task).people) CHECK(person.status == solve::LanesStatus::step_limit);
  }
}

TEST_CASE("tasks of the wrong size or order are refused by throwing") {
  const auto body = support::standard_body();
  const auto shared = shared_of(*body);
  solve::LanesRunner runner(shared, solve::Instructions::portable);
  const auto good = task_of(stories_from(0));
  CHECK_NOTHROW((void)runner.run(good));
  CHECK(runner.run({}).people.empty());
  const auto refuses = [&](const auto& change) {
    auto task = good;
    change(task);
    CHECK_THROWS_AS((void)runner.run(task), std::logic_error);
  };
  refuses([](auto& task) { task.people[7].before.pop_back(); });
  refuses([](auto& task) { task.people[7].segments.clear(); });
  refuses([](auto& task) { task.people[7].segments[1].values.pop_back(); });
  refuses([](auto& task) { task.people[7].segments[1].slopes.clear(); });
  refuses([](auto& task) { task.people[7].segments[1].start += 1.0; });
  refuses([](auto& task) { task.people[7].segments.back().end = task.people[7].segments.back().start; });
  refuses([](auto& task) { task.people[7].segments.pop_back(); });
  refuses([](auto& task) { task.resting = {{1.0}}; });
  refuses([](auto& task) { task.times.back() = 366.0 * 24.0; });
  refuses([](auto& task) { std::swap(task.times[3], task.times[4]); });
  refuses([](auto& task) { task.times[3] = std::nan(""); });
  refuses([&](auto& task) { task.species.push_back(body->rest.size()); });
  solve::Course other(3);
  refuses([&](auto& task) { task.course = &other; });
  solve::Course course(body->rest.size());
  refuses([&](auto& task) {
    task.course = &course;
    task.kept = 8;
  });
  auto wrong = *shared;
  wrong.rest.pop_back();
  CHECK_THROWS_AS(solve::LanesRunner(std::make_shared<const solve::LanesShared>(wrong), solve::Instructions::portable),
                  std::logic_error);
}
