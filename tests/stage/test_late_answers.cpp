// Answers that arrive after another story was opened: none of them may be shown under the new story's name. And numbers
// that are none change nothing. Found by random sequences of actions (tests/fuzz/play.hpp).
#include <doctest/doctest.h>

#include <cmath>
#include <limits>

#include "stage/action.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {

const std::string folder = support::source_folder() + "/scenarios";

AppState after(AppState state, const std::vector<Action>& actions) {
  for (const Action& a : actions) state = reduce(std::move(state), a).state;
  return state;
}

StoryOpened steady() {
  const std::string path = folder + "/01-steady-day.toml";
  return {scenario::read_file(path), path};
}

StoryOpened two_people() {
  const std::string path = folder + "/07-two-people-one-number.toml";
  return {scenario::read_file(path), path};
}

}  // namespace

TEST_CASE("the first minute begins on its own story, also where another story arrives before it") {
  AppState s = support::opening_state();
  s.files.stories = work::list_stories(folder);
  s = after(s, {StartFirstMinute{}, two_people()});
  CHECK_FALSE(s.first.step.has_value());
  CHECK(s.document.now.edits.empty());
  s = after(s, {steady()});
  CHECK(s.first.step == FirstMinute::raise_complexes);
  CHECK(s.time.day == 3.0);
  // Asked for once, begun once.
  CHECK_FALSE(after(s, {steady()}).first.step.has_value());
}

TEST_CASE("the run of the last story is neither taken nor kept under the next story's name") {
  AppState s = after(support::opening_state(), {MoveLever{body::lever_at("hepatic_output"), 0.5, false}});
  const RunFinished late{s.runs.asked, simulate(s.document.now.story)};
  const auto before = s.runs.now;
  s = after(s, {steady()});
  s = after(s, {late, KeepRun{}});
  CHECK((s.runs.now == before));
  CHECK(s.runs.kept.empty());
  const auto own = simulate(s.document.now.story);
  s = after(s, {RunFinished{s.runs.asked, own}, KeepRun{}});
  CHECK((s.runs.now == own));
  CHECK(s.runs.kept.size() == 1);
}

TEST_CASE("a second person, a tracer study and effects that were asked of the last story are dropped") {
  const AppState first = after(support::opening_state(), {two_people()});
  const auto run = simulate(first.document.now.story);
  const AppState second = after(first, {steady()});
  const BesideFinished beside{run, first.runs.of_story};
  const TracerFinished tracer{{5.0, study::Traced::c3, {}, first.runs.of_story}};
  const EffectsFinished effects{{5.0, {}, first.runs.of_story}};
  CHECK(after(first, {beside}).runs.kept.size() == 1);
  CHECK(after(first, {tracer}).study.tracer.has_value());
  CHECK(after(first, {effects}).study.effects.has_value());
  CHECK(after(second, {beside}).runs.kept.empty());
  CHECK_FALSE(after(second, {tracer}).study.tracer.has_value());
  CHECK_FALSE(after(second, {effects}).study.effects.has_value());
}

TEST_CASE("where a new story's body does not come to rest, the last story's course does not stay under its title") {
  SimulateOptions few;
  few.step_limit = 3;
  AppState s = after(support::opening_state(), {two_people()});
  const auto stuck = simulate(s.document.now.story, few);
  REQUIRE_FALSE(stuck->started());
  s = after(s, {RunFinished{s.runs.asked, stuck}});
  CHECK_FALSE(static_cast<bool>(s.runs.now));
  REQUIRE(s.runs.stopped.has_value());
  CHECK(s.runs.stopped->settling);
  // The screen holds without a course.
  support::Screen screen(s);
  CHECK(screen.shows("Two people, one number"));
}

TEST_CASE("a day, a step, a speed or a tick that is not a number changes nothing, and time does not run backwards") {
  const double nan = std::nan("");
  AppState s = after(support::opening_state(95), {SetSpeed{20}, TogglePlay{}, GoToDay{nan}, Tick{nan}, SetSpeed{nan}});
  CHECK(s.time.day == 95);
  CHECK(s.time.speed == 20);
  CHECK(after(s, {Tick{-1}}).time.day == 95);
  CHECK(after(s, {Tick{-std::numeric_limits<double>::infinity()}}).time.day == 95);
  CHECK(after(s, {Tick{std::numeric_limits<double>::infinity()}}).time.day == 100);
  CHECK(after(s, {StepDays{nan}}).time.day == 95);
}
