// What actions do to the state: pure, so each is checked by itself.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>

#include "stage/action.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"
#include "work/worker.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {

const body::LeverId liver = body::lever_at("hepatic_output");
const body::LeverId genes = body::lever_at("c4_gene_copies");

AppState after(AppState state, const std::vector<Action>& actions) {
  for (const Action& a : actions) state = reduce(std::move(state), a).state;
  return state;
}

}  // namespace

TEST_CASE("moving a lever asks for one run, of the story with the what-if laid over") {
  const Step step = reduce(support::opening_state(), MoveLever{liver, 0.5, false});
  REQUIRE(step.effects.size() == 1);
  const auto& ask = std::get<RunStory>(step.effects[0]);
  CHECK(ask.story.levers[liver] == 0.5);
  CHECK(ask.number == step.state.runs.asked);
  CHECK(step.state.document.undo.size() == 1);
}

TEST_CASE("a drag is one step of undo however many times the lever moved") {
  AppState s = after(support::opening_state(),
                     {MoveLever{liver, 0.8, true}, MoveLever{liver, 0.6, true}, MoveLever{liver, 0.4, true}});
  CHECK(s.document.undo.empty());
  s = after(s, {EndDrag{}});
  CHECK(s.document.undo.size() == 1);
  CHECK(current_value(s, liver) == 0.4);
  s = after(s, {Undo{}});
  CHECK(current_value(s, liver) == doctest::Approx(0.9));
  s = after(s, {Redo{}});
  CHECK(current_value(s, liver) == 0.4);
}

TEST_CASE("undo and redo walk back and on, and a new what-if forgets what was undone") {
  AppState s = after(support::opening_state(), {MoveLever{liver, 0.8, false}, MoveLever{liver, 0.5, false}});
  s = after(s, {Undo{}});
  CHECK(current_value(s, liver) == 0.8);
  s = after(s, {MoveLever{genes, 2, false}});
  CHECK(s.document.redo.empty());
  s = after(s, {Undo{}, Undo{}, Undo{}, Undo{}});
  CHECK(s.document.now.edits.empty());
}

TEST_CASE("lever values are clamped, and counted ones move in whole steps") {
  AppState s = after(support::opening_state(), {MoveLever{liver, 99, false}, MoveLever{genes, 2.6, false}});
  CHECK(current_value(s, liver) == 1.5);
  CHECK(current_value(s, genes) == 3.0);
  const Step same = reduce(s, MoveLever{genes, std::nan(""), false});
  CHECK(same.effects.empty());
}

TEST_CASE("a lever the story moves is changed where it governs the playhead's day") {
  const body::LeverId drive = body::lever_at("antibody_drive");
  AppState s = after(support::opening_state(95), {MoveLever{drive, 3, false}});
  CHECK(told(s.document.now).levers[drive] == doctest::Approx(0.4));
  CHECK(told(s.document.now).events[0].value == 3.0);
  CHECK(story_value(s, drive) == 6.0);
  s = after(support::opening_state(5), {MoveLever{drive, 3, false}});
  CHECK(told(s.document.now).levers[drive] == 3.0);
}

TEST_CASE("from this day on: the lever holds from the playhead, the days before stay as told") {
  AppState s = after(support::opening_state(95), {ToggleFromToday{}, MoveLever{liver, 0.5, false}});
  const scenario::Timeline t(told(s.document.now));
  CHECK(t.value(liver, 94) == doctest::Approx(0.9));
  CHECK(t.value(liver, 96) == 0.5);
}

TEST_CASE("reset gives a lever, or all, back to the story") {
  AppState s =
      after(support::opening_state(), {MoveLever{liver, 0.5, false}, MoveLever{genes, 2, false}, ResetLever{liver}});
  CHECK_FALSE(is_edited(s, liver));
  CHECK(is_edited(s, genes));
  s = after(s, {ResetAll{}});
  CHECK(s.document.now.edits.empty());
}

TEST_CASE("an overtaken run is dropped, a failed one keeps the last good course and says so") {
  AppState s = support::opening_state();
  const auto good = s.runs.now;
  s = after(s, {MoveLever{liver, 0.5, false}, MoveLever{liver, 0.4, false}});
  s = after(s, {RunFinished{s.runs.asked, good}});
  const auto shown = s.runs.shown;
  s = after(s, {RunFinished{shown - 1, nullptr}});
  CHECK(s.runs.shown == shown);
  CHECK((s.runs.now == good));
  s = after(s, {ReportProblem{"cannot be read"}});
  CHECK(s.problem == "cannot be read");
  CHECK((s.runs.now == good));
  s = after(s, {DismissProblem{}});
  CHECK(s.problem.empty());
}

TEST_CASE("a partial course stays visible with the reason") {
  AppState s = support::opening_state();
  SimulateOptions options;
  options.keep_going = [](double hours) { return hours < 24.0 * 50; };
  const auto partial = simulate(s.document.now.story, options);
  REQUIRE_FALSE(partial->complete());
  s = after(s, {RunFinished{s.runs.asked + 1, partial}});
  CHECK((s.runs.now == partial));
  REQUIRE(s.runs.stopped.has_value());
  CHECK(s.runs.stopped->status == solve::Status::cancelled);
  CHECK(s.runs.stopped->day == support::near(50, 0.2));
}

TEST_CASE("a body that does not settle is said in a banner in both languages, and the last good course stays") {
  AppState s = support::opening_state();
  const auto good = s.runs.now;
  SimulateOptions few;
  few.step_limit = 3;
  const auto stuck = simulate(support::settled_with({{"antibody_drive", 6}}), few);
  const auto english = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  const auto spanish = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  CHECK(banner_text(s, english).empty());
  s = after(s, {RunFinished{s.runs.asked + 1, stuck}});
  CHECK((s.runs.now == good));
  CHECK(banner_text(s, english).find("did not come to rest before day 0") != std::string::npos);
  CHECK(banner_text(s, english).find("too many steps") != std::string::npos);
  CHECK(banner_text(s, spanish).find("demasiados pasos") != std::string::npos);
  CHECK(after(s, {DismissProblem{}}).runs.stopped == std::nullopt);
  // The next run that succeeds takes the banner away.
  CHECK(banner_text(after(s, {RunFinished{s.runs.asked + 2, good}}), english).empty());
}

TEST_CASE("something dated is done at its own usual session, whichever lever it is") {
  const auto& levers = body::standard_model()->levers();
  int dated = 0;
  for (std::size_t i = 0; i < levers.size(); ++i) {
    if (levers[i].kind != body::LeverKind::dated) continue;
    dated += 1;
    CHECK(levers[i].session_value > 0.0);
    CHECK(levers[i].session_value <= levers[i].most);
    CHECK(levers[i].session_hours > 0.0);
    const AppState s = after(support::opening_state(), {PlaceDated{body::LeverId(i)}});
    REQUIRE(s.document.now.edits.size() == 1);
    CHECK(s.document.now.edits[0].value == levers[i].session_value);
    CHECK(s.document.now.edits[0].for_hours == levers[i].session_hours);
  }
  CHECK(dated == 2);
  // One plasma exchange: 1.1 plasma volumes, one infusion: 2 g/kg (common practice, no source).
  const auto session = [&](const char* name) {
    const body::Lever& l = levers[body::lever_at(name)];
    return l.session_value * l.session_hours;
  };
  CHECK(session("plasma_exchange") == doctest::Approx(1.1));
  CHECK(session("immunoglobulin") == doctest::Approx(2.0));
}

TEST_CASE("kept runs get letters, four at most, and can be let go") {
  AppState s = after(support::opening_state(), {KeepRun{}, KeepRun{}});
  REQUIRE(s.runs.kept.size() == 2);
  CHECK(s.runs.kept[0].name == "A");
  CHECK(s.runs.kept[1].name == "B");
  s = after(s, {KeepRun{}, KeepRun{}, KeepRun{}, KeepRun{}});
  CHECK(s.runs.kept.size() == 4);
  s = after(s, {DropKept{0}, DropKept{99}});
  CHECK(s.runs.kept.size() == 3);
}

TEST_CASE("the playhead stays inside the story, and playing stops at its end") {
  AppState s = after(support::opening_state(), {GoToDay{9999}});
  CHECK(s.time.day == 365.0);
  s = after(s, {GoToDay{-5}});
  CHECK(s.time.day == 0.0);
  s = after(s, {GoToDay{364.9}, TogglePlay{}, Tick{0.2}});
  CHECK(s.time.day == 365.0);
  CHECK_FALSE(s.time.playing);
  s = after(s, {TogglePlay{}});
  CHECK(s.time.day == 0.0);
  CHECK(s.time.playing);
}

TEST_CASE("text size and speed stay in their ranges") {
  AppState s = after(support::opening_state(), {SetTextPercent{500}, SetSpeed{1e6}});
  CHECK(s.look.text_percent == 200);
  CHECK(s.time.speed == 100.0);
  s = after(s, {SetTextPercent{1}, SetSpeed{0}});
  CHECK(s.look.text_percent == 80);
  CHECK(s.time.speed == 1.0);
}

TEST_CASE("the worker answers the newest run, and a file it cannot read with the reason") {
  work::Worker worker;
  const AppState s = support::opening_state();
  for (std::uint64_t n = 1; n <= 30; ++n) {
    scenario::Scenario story = s.document.now.story;
    story.levers[liver] = 0.5 + 0.01 * static_cast<double>(n);
    worker.submit(RunStory{n, story, {}});
  }
  worker.submit(ReadStory{"/nowhere/story.toml"});
  std::uint64_t newest = 0;
  bool told_why = false;
  while (newest < 30 || !told_why) {
    for (const Action& a : worker.take()) {
      if (const auto* run = std::get_if<RunFinished>(&a.any())) {
        CHECK(run->number > newest);
        newest = run->number;
      }
      if (const auto* problem = std::get_if<ReportProblem>(&a.any()))
        told_why = problem->text.find("/nowhere/story.toml") == 0;
    }
    std::this_thread::yield();
  }
  CHECK(newest == 30);
}

TEST_CASE("a folder's stories are listed in order, a broken one with its reason") {
  const auto stories = work::list_stories(support::source_folder() + "/scenarios");
  REQUIRE(stories.size() >= 6);
  CHECK(stories[0].title == "A steady day");
  for (const auto& s : stories) CHECK(s.problem.empty());
  CHECK(work::list_stories("/nowhere").empty());
  const auto folder = std::filesystem::temp_directory_path() / "drawdown-listed";
  std::filesystem::remove_all(folder);
  std::filesystem::create_directories(folder);
  std::filesystem::copy_file(support::source_folder() + "/scenarios/01-steady-day.toml", folder / "b.toml");
  std::ofstream(folder / "a.toml") << "title = \"x\"\ndys = 3\n";
  const auto mixed = work::list_stories(folder.string());
  REQUIRE(mixed.size() == 2);
  CHECK(mixed[0].problem.find("dys") != std::string::npos);
  CHECK(mixed[1].problem.empty());
}

TEST_CASE("a plasma exchange placed on the playhead's day is an event of hours and one step of undo") {
  const body::LeverId exchange = body::lever_at("plasma_exchange");
  AppState s = after(support::opening_state(95), {PlaceDated{exchange}, PlaceDated{liver}});
  REQUIRE(s.document.undo.size() == 1);
  const scenario::Timeline t(told(s.document.now));
  CHECK(t.value(exchange, 95.05) == 0.44);
  CHECK(t.value(exchange, 95.2) == 0.0);
  s = after(s, {GoToDay{97}, PlaceDated{exchange}});
  const scenario::Timeline twice(told(s.document.now));
  CHECK(twice.value(exchange, 95.05) == 0.44);
  CHECK(twice.value(exchange, 97.05) == 0.44);
  s = after(s, {ResetLever{exchange}});
  CHECK(s.document.now.edits.empty());
}
