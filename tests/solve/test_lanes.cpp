// Eight people at once: the same bits on every set of instructions, the course each would have alone, and no answer
// where the lanes cannot give one.
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

std::vector<scenario::Scenario> stories_from(std::size_t number) {
  std::vector<scenario::Scenario> stories;
  for (std::size_t p = 0; p < people; ++p) stories.push_back(support::sampled_person(number + p).story);
  return stories;
}

// Of stories that are cut at the same hours: C3 and C4 every day.
solve::LanesTask task_of(const std::vector<scenario::Scenario>& stories) {
  solve::LanesTask task;
  const std::size_t inputs = stories.front().levers.size();
  task.before.resize(inputs * people);
  for (std::size_t p = 0; p < people; ++p) {
    const auto segments = scenario::Timeline(stories[p]).segments();
    if (p == 0) {
      task.cuts.push_back(0.0);
      for (const auto& segment : segments) task.cuts.push_back(segment.end);
      task.values.resize(segments.size() * inputs * people);
      task.slopes.resize(task.values.size());
    }
    for (std::size_t i = 0; i < inputs; ++i) task.before[i * people + p] = stories[p].levers[i];
    for (std::size_t s = 0; s < segments.size(); ++s) {
      REQUIRE(segments[s].end == task.cuts.at(s + 1));
      for (std::size_t i = 0; i < inputs; ++i) {
        task.values[(s * inputs + i) * people + p] = segments[s].values[i];
        task.slopes[(s * inputs + i) * people + p] = segments[s].slopes[i];
      }
    }
  }
  const body::Model& model = *stories.front().model;
  task.species = {model.in_plasma(model.known().c3), model.in_plasma(model.known().c4)};
  for (int day = 0; day <= static_cast<int>(stories.front().days); ++day) task.times.push_back(24.0 * day);
  return task;
}

bool same_bytes(const std::vector<double>& a, const std::vector<double>& b) {
  return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(double)) == 0;
}

// Largest difference from runs alone at `rtol`, as a share of that person's largest value.
double off_from_alone(const std::vector<scenario::Scenario>& stories, const solve::LanesAnswer& answer, double rtol) {
  double worst = 0.0;
  for (std::size_t p = 0; p < people; ++p) {
    const auto run = support::run_of(stories[p], rtol);
    REQUIRE(run->complete());
    const body::Model& model = *run->body().model;
    for (const std::size_t which : {0U, 1U}) {
      const auto species = model.in_plasma(which == 0 ? model.known().c3 : model.known().c4);
      double most = 0.0;
      double off = 0.0;
      for (std::size_t day = 0; day * 2 * people < answer.read.size(); ++day) {
        const double alone = run->course().value(species, 24.0 * static_cast<double>(day));
        most = std::max(most, alone);
        off = std::max(off, std::abs(answer.read[(day * 2 + which) * people + p] - alone));
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
  for (const std::size_t number : {0U, 8U, 16U}) {
    solve::LanesTask task = task_of(stories_from(number));
    const auto portable = solve::LanesRunner(shared, here.front()).run(task);
    REQUIRE(portable.status == solve::LanesStatus::ok);
    for (const solve::Instructions instructions : here) {
      solve::LanesRunner runner(shared, instructions);
      const auto answer = runner.run(task);
      CHECK_MESSAGE(same_bytes(answer.read, portable.read), solve::instructions_name(instructions));
      CHECK(answer.steps == portable.steps);
      CHECK(answer.rejected == portable.rejected);
      CHECK(answer.iterations == portable.iterations);
      // And a second time in the same workspace.
      CHECK(same_bytes(runner.run(task).read, portable.read));
    }
    // One lever of one person by one unit in its last place is seen.
    double& lever = task.before[body::lever_at("hepatic_output") * people + 3];
    lever = std::nextafter(lever, 2.0);
    CHECK_FALSE(same_bytes(solve::LanesRunner(shared, here.back()).run(task).read, portable.read));
  }
}

TEST_CASE("eight people are each within 1e-4 of their course's largest of a run alone") {
  for (const std::size_t number : {0U, 40U}) {
    const auto stories = stories_from(number);
    const auto task = task_of(stories);
    const auto body = support::standard_body();
    const auto answer = solve::LanesRunner(shared_of(*body), solve::widest_instructions()).run(task);
    REQUIRE(answer.status == solve::LanesStatus::ok);
    // What simulate.hpp promises at the shipped tolerance, from the truth and from what is shipped.
    CHECK(off_from_alone(stories, answer, 1e-9) < 1e-4);
    CHECK(off_from_alone(stories, answer, 1e-5) < 1e-4);
    // At a tolerance a thousand times looser it is not kept: the comparison sees errors of that size.
    const auto loose = solve::LanesRunner(shared_of(*body, 1e-2), solve::widest_instructions()).run(task);
    REQUIRE(loose.status == solve::LanesStatus::ok);
    CHECK(off_from_alone(stories, loose, 1e-9) > 1e-4);
  }
}

TEST_CASE(
    "eight people of whom some have more plasma, all at once or day by day, are each within 1e-4 of a run alone") {
  std::vector<scenario::Scenario> stories;
  for (std::size_t p = 0; p < people; ++p) {
    // The same cuts for all: a ramp from day 20 to 40, a jump on day 50 and back on day 53.
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
  REQUIRE(answer.status == solve::LanesStatus::ok);
  CHECK(off_from_alone(stories, answer, 1e-9) < 1e-4);
  const auto portable = solve::LanesRunner(shared_of(*body), solve::Instructions::portable).run(task);
  CHECK(same_bytes(answer.read, portable.read));
  // Negative control: the last person's jump is seen against the first's, who has none.
  const auto c3 = [&](std::size_t day, std::size_t p) { return answer.read[day * 2 * people + p]; };
  CHECK(c3(50, people - 1) / c3(49, people - 1) > 1.2 * c3(50, 0) / c3(49, 0));
}

TEST_CASE("on 800 random settings, eight at a time, the state settled to is the one each settles to alone") {
  const auto body = support::standard_body();
  const std::vector<double>& scales = body->model->scales();
  solve::LanesRunner runner(shared_of(*body), solve::widest_instructions());
  std::mt19937 random(303);
  std::size_t found = 0;
  double worst = 0.0;
  double nearest_other = 1e9;
  for (int group = 0; group < 100; ++group) {
    std::vector<scenario::Scenario> stories(people);
    for (auto& story : stories) {
      story.days = 1.0;
      story.levers = support::random_levers(random);
    }
    auto task = task_of(stories);
    task.times = {0.0};
    task.species.clear();
    for (std::size_t i = 0; i < scales.size(); ++i) task.species.push_back(i);
    const auto answer = runner.run(task);
    if (answer.status != solve::LanesStatus::ok) continue;
    found += 1;
    const auto off = [&](const std::vector<double>& alone, std::size_t p) {
      double most = 0.0;
      for (std::size_t i = 0; i < scales.size(); ++i) {
        most = std::max(most, std::abs(answer.read[i * people + p] - alone[i]) / std::max(scales[i], alone[i]));
      }
      return most;
    };
    for (std::size_t p = 0; p < people; ++p) {
      const auto alone = body::settled(*body, stories[p].levers);
      REQUIRE(alone.outcome.status == solve::Status::ok);
      // A few are settled by time there, within its tolerance on the way (tests/body/test_settle.cpp).
      const bool by_time = alone.outcome.statistics.steps > 0;
      worst = std::max(worst, off(alone.state, p) * (by_time ? 1e-6 / 2e-4 : 1.0));
      nearest_other = std::min(nearest_other, off(alone.state, (p + 1) % people));
    }
  }
  CHECK_MESSAGE(found >= 95, found);
  CHECK_MESSAGE(worst < 1e-6, worst);
  CHECK_MESSAGE(nearest_other > 1e-3, nearest_other);
}

TEST_CASE("in another lane a person has the same bits beside the same people") {
  const auto shared = shared_of(*support::standard_body());
  auto stories = stories_from(24);
  solve::LanesRunner runner(shared, solve::widest_instructions());
  const auto before = runner.run(task_of(stories));
  std::rotate(stories.begin(), stories.begin() + 3, stories.end());
  const auto after = runner.run(task_of(stories));
  REQUIRE(before.status == solve::LanesStatus::ok);
  std::size_t same = 0;
  std::size_t same_lane = 0;
  for (std::size_t at = 0; at < before.read.size(); at += people) {
    for (std::size_t p = 0; p < people; ++p) {
      same += after.read[at + p] == before.read[at + (p + 3) % people] ? 1U : 0U;
      same_lane += after.read[at + p] == before.read[at + p] ? 1U : 0U;
    }
  }
  CHECK(same == before.read.size());
  CHECK(same_lane < before.read.size() / 10);
}

TEST_CASE("the course kept of one person says at every time what was read, to the last bit") {
  const auto body = support::standard_body();
  auto task = task_of(stories_from(8));
  solve::Course course(body->rest.size());
  task.course = &course;
  task.kept = 6;
  const auto answer = solve::LanesRunner(shared_of(*body), solve::widest_instructions()).run(task);
  REQUIRE(answer.status == solve::LanesStatus::ok);
  CHECK(course.step_count() == answer.steps);
  CHECK(course.end_time() == task.cuts.back());
  std::size_t same = 0;
  std::size_t of_another = 0;
  for (std::size_t at = 0; at < task.times.size(); ++at) {
    for (std::size_t which = 0; which < 2; ++which) {
      const double kept = course.value(task.species[which], task.times[at]);
      same += kept == answer.read[(at * 2 + which) * people + 6] ? 1U : 0U;
      of_another += kept == answer.read[(at * 2 + which) * people + 5] ? 1U : 0U;
    }
  }
  CHECK(same == 2 * task.times.size());
  CHECK(of_another == 0);
}

TEST_CASE("what the lanes cannot do is refused with its reason on every set of instructions, and the next task runs") {
  const auto body = support::standard_body();
  const auto task = task_of(stories_from(0));
  auto spoilt = task;
  const std::size_t liver = body::lever_at("hepatic_output") * people;
  spoilt.values[liver + 2 * task.before.size() + 5] = std::nan("");  // in the third stretch
  auto unsettled = task;
  unsettled.before[liver + 1] = std::nan("");
  for (const solve::Instructions instructions : solve::instructions_here()) {
    solve::LanesRunner runner(shared_of(*body), instructions);
    const auto stopped = runner.run(spoilt).status;
    CHECK((stopped == solve::LanesStatus::non_finite || stopped == solve::LanesStatus::bad_pivot));
    CHECK(runner.run(unsettled).status == solve::LanesStatus::not_settled);
    CHECK(runner.run(task).status == solve::LanesStatus::ok);
    solve::LanesRunner hurried(shared_of(*body, 1e-5, 3), instructions);
    CHECK(hurried.run(task).status == solve::LanesStatus::step_limit);
  }
}

TEST_CASE("tasks of the wrong size or order are refused by throwing") {
  const auto body = support::standard_body();
  const auto shared = shared_of(*body);
  solve::LanesRunner runner(shared, solve::Instructions::portable);
  const auto good = task_of(stories_from(0));
  CHECK_NOTHROW((void)runner.run(good));
  const auto refuses = [&](const auto& change) {
    auto task = good;
    change(task);
    CHECK_THROWS_AS((void)runner.run(task), std::logic_error);
  };
  refuses([](auto& task) { task.before.pop_back(); });
  refuses([](auto& task) { task.values.pop_back(); });
  refuses([](auto& task) { task.slopes.clear(); });
  refuses([](auto& task) { task.cuts.back() = task.cuts.front(); });
  refuses([](auto& task) { task.cuts.resize(1); });
  refuses([](auto& task) { task.times.back() = task.cuts.back() + 1.0; });
  refuses([](auto& task) { std::swap(task.times[3], task.times[4]); });
  refuses([](auto& task) { task.times[3] = std::nan(""); });
  refuses([&](auto& task) { task.species.push_back(body->rest.size()); });
  solve::Course other(3);
  refuses([&](auto& task) { task.course = &other; });
  auto wrong = *shared;
  wrong.rest.pop_back();
  CHECK_THROWS_AS(solve::LanesRunner(std::make_shared<const solve::LanesShared>(wrong), solve::Instructions::portable),
                  std::logic_error);
}
