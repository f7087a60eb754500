// The last session comes back as it was left, and a damaged one is refused whole, with its place.
#include <doctest/doctest.h>

#include "command/command.hpp"
#include "command/session.hpp"
#include "command/stories.hpp"
#include "support/stories.hpp"
#include "work/worker.hpp"

using namespace drawdown;

namespace {

stage::AppState left_state() {
  stage::AppState state =
      command::state_for(support::source_folder() + "/scenarios/03-flare-the-test-misses.toml", 91.5);
  state.page.languages = look::Library(support::source_folder() + "/assets").names();
  for (const stage::Action& action :
       {stage::Action{stage::SetView{stage::View::cascade}}, stage::Action{stage::SetDepth{look::Depth::clinic}},
        stage::Action{stage::SetTextPercent{130}}, stage::Action{stage::SetRoom{look::Room::dark}},
        stage::Action{stage::ToggleLanguage{}}}) {
    state = stage::reduce(std::move(state), action).state;
  }
  const body::LeverId liver = body::lever_at("hepatic_output");
  return work::Executor().settle(std::move(state), stage::MoveLever{liver, 0.625, false});
}

}  // namespace

TEST_CASE("a session comes back: story, day, view, depth, language, room, text size and what-ifs") {
  const stage::AppState left = left_state();
  REQUIRE(left.document.now.edits.size() == 1);
  stage::AppState back;
  back.page.overlay = stage::Overlay::cautions;
  command::restore_session(back, command::session_text(left), "session", true);
  CHECK(back.document.now.story.name == "03-flare-the-test-misses");
  CHECK(back.time.day == 91.5);
  CHECK(back.page.view == stage::View::cascade);
  CHECK(back.page.depth == look::Depth::clinic);
  CHECK(back.look.text_percent == 130);
  CHECK(back.look.room == look::Room::dark);
  CHECK(back.look.language == "es");
  CHECK(back.page.overlay == stage::Overlay::none);
  CHECK(back.document.now.edits == left.document.now.edits);
  REQUIRE(static_cast<bool>(back.runs.now));
  CHECK(back.runs.now->c3(91.5) == left.runs.now->c3(91.5));
}

TEST_CASE("the stories opened before come back, the newest first, those that are gone left out") {
  stage::AppState left = command::state_for(support::shipped_stories().at(0), 1);
  left = command::opened(std::move(left), support::shipped_stories().at(1));
  left.files.recent.push_back({"/nowhere/gone.toml", "Gone", "", ""});
  stage::AppState back;
  command::restore_session(back, command::session_text(left), "session", true);
  REQUIRE(back.files.recent.size() == 2);
  CHECK(back.files.recent[0].path == support::shipped_stories().at(1));
  CHECK(back.files.recent[1].path == support::shipped_stories().at(0));
  CHECK(back.files.recent[1].title == "A steady day");
  // A story asked for: the list comes back all the same.
  stage::AppState other;
  command::restore_session(other, command::session_text(left), "session", false);
  CHECK(other.files.recent.size() == 2);
}

TEST_CASE("a story asked for by name is not replaced by the last session's") {
  stage::AppState fresh;
  command::restore_session(fresh, command::session_text(left_state()), "session", false);
  CHECK(fresh.document.path.empty());
  CHECK(fresh.look.language == "es");
}

TEST_CASE("a session with inherited what-ifs is compared with that person's own usual level again") {
  const stage::AppState told = command::state_for(support::source_folder() + "/scenarios/01-steady-day.toml", 30);
  const body::LeverId genes = body::lever_at("c4_gene_copies");
  const stage::AppState left = work::Executor().settle(told, stage::MoveLever{genes, 2.0, false});
  CHECK(left.runs.now->usual_c4() < 0.6 * told.runs.now->usual_c4());
  stage::AppState back;
  command::restore_session(back, command::session_text(left), "session", true);
  CHECK(back.runs.now->usual_c4() == left.runs.now->usual_c4());
}

TEST_CASE("cautions that were not yet accepted are shown again") {
  stage::AppState left = left_state();
  left.page.overlay = stage::Overlay::cautions;
  stage::AppState back;
  back.page.overlay = stage::Overlay::cautions;
  command::restore_session(back, command::session_text(left), "session", true);
  CHECK(back.page.overlay == stage::Overlay::cautions);
}

TEST_CASE("a damaged session is refused with file, line and what is allowed, and changes nothing") {
  const auto refused = [](const std::string& text) {
    stage::AppState state;
    state.page.overlay = stage::Overlay::cautions;
    std::string said;
    try {
      command::restore_session(state, text, "session", true);
    } catch (const std::exception& error) {
      said = error.what();
    }
    CHECK(state.page.overlay == stage::Overlay::cautions);
    CHECK(state.look.text_percent == 100);
    CHECK(state.document.path.empty());
    return said;
  };
  CHECK(refused("text = 120\nroom = \"pink\"").find("session:2: room must be one of bright, dark, print") == 0);
  CHECK(refused("text = 900").find("session:1: text must be a number from 80 to 200") == 0);
  CHECK(refused("text = 120\nday = = 3").find("session:2:7: ") == 0);
  CHECK(refused("cautions_read = true\nstory = \"/nowhere.toml\"").find("/nowhere.toml") != std::string::npos);
  std::string wrong = command::session_text(left_state());
  wrong.replace(wrong.find("0.625"), 5, "77.25");
  CHECK(refused(wrong).find("value must be a number from") != std::string::npos);
}
