// The gallery of stories, undo that says what it undid, names of kept runs, and pointing at the opening picture: driven
// as a person would, with mouse and keys.
#include <doctest/doctest.h>

#include <set>

#include "look/folded.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"

using namespace drawdown;

namespace {

stage::AppState with_stories() {
  stage::AppState state = support::opening_state();
  state.files.stories = command::shipped_stories();
  return state;
}

}  // namespace

TEST_CASE("every shipped story answers a question, and the gallery shows its course in small as it is computed") {
  support::Screen screen(with_stories());
  screen.do_action(stage::SetOverlay{stage::Overlay::stories});
  screen.frame(2);
  std::set<std::string> questions;
  for (const stage::StoryEntry& story : screen.state().files.stories) {
    CHECK_MESSAGE(!story.question.empty(), story.path);
    questions.insert(story.question);
    const bool sketched = story.sketch != nullptr;
    REQUIRE_MESSAGE(sketched, story.path);
    const auto run = simulate(scenario::read_file(story.path));
    const body::ProteinId c3 = run->body().model->known().c3;
    const body::ProteinId c4 = run->body().model->known().c4;
    const std::size_t last = story.sketch->c3.size() - 1;
    for (const std::size_t i : {std::size_t{0}, last / 2, last}) {
      const double day = run->last_day() * static_cast<double>(i) / static_cast<double>(last);
      CHECK(story.sketch->c3[i] ==
            support::near(run->c3(day) * 1000.0 / run->body().model->standard_levels()[c3], 1e-9));
      CHECK(story.sketch->c4[i] ==
            support::near(run->c4(day) * 1000.0 / run->body().model->standard_levels()[c4], 1e-9));
    }
  }
  CHECK(questions.size() == scenario::questions.size());
}

TEST_CASE("words typed in the gallery find stories and never trigger the program's keys, and Enter opens the first") {
  support::Screen screen(with_stories(), 1600, 2400);
  screen.do_action(stage::SetOverlay{stage::Overlay::stories});
  screen.frame(2);
  CHECK(screen.focused() == "stories.seek");
  CHECK(screen.shows("A steady day"));
  const stage::AppState before = screen.state();
  screen.type("cryo");
  screen.frame(2);
  CHECK(screen.state().files.sought == "cryo");
  CHECK(screen.shows("Cryoglobulins"));
  CHECK(!screen.shows("A steady day"));
  // c, r, y and o are keys of the program: nothing of theirs happened.
  CHECK(screen.state().page.view == before.page.view);
  CHECK(screen.state().look.room == before.look.room);
  CHECK(screen.state().page.overlay == stage::Overlay::stories);
  screen.type(" xyzzy");
  screen.frame(2);
  CHECK(screen.shows("No story has these words."));
  screen.do_action(stage::SeekStory{"cryo"});
  screen.frame(2);
  screen.key(ImGuiKey_Enter);
  screen.frame(2);
  CHECK(screen.state().document.now.story.title == "Cryoglobulins");
  CHECK(screen.state().page.overlay == stage::Overlay::none);
}

TEST_CASE("what is looked for is found without its accents and in capitals") {
  CHECK(look::folded("Día") == "dia");
  CHECK(look::folded("HÍGADO, señal") == "higado, senal");
  CHECK(look::folded("C3 → 0.5") == "c3 → 0.5");
  CHECK(look::folded("\xC3") == "\xC3");
  CHECK(look::folded("Días") != look::folded("Dedos"));
}

TEST_CASE("undo says which lever it took back and from what to what, and the next change takes the words away") {
  support::Screen screen(support::opening_state());
  const body::LeverId liver = body::lever_at("hepatic_output");
  screen.do_action(stage::MoveLever{liver, 0.5, false});
  screen.frame();
  CHECK(!screen.shows("Undone"));
  screen.key(ImGuiKey_Z, true);
  screen.frame(2);
  REQUIRE(screen.state().document.undone.has_value());
  REQUIRE(screen.state().document.undone->moved.size() == 1);
  CHECK(screen.state().document.undone->moved[0].lever == liver);
  CHECK(screen.state().document.undone->moved[0].from == 0.5);
  CHECK(screen.state().document.undone->moved[0].to == stage::story_value(screen.state(), liver));
  CHECK(screen.shows("Undone: Liver output"));
  screen.do_action(stage::Redo{});
  screen.frame(2);
  CHECK(screen.shows("Done again: Liver output"));
  screen.do_action(stage::GoToDay{10});
  screen.frame(2);
  CHECK(!screen.shows("Done again"));
}

TEST_CASE("undoing a session says what was done for a time") {
  stage::AppState state = support::opening_state();
  const body::LeverId exchange = body::lever_at("plasma_exchange");
  state = stage::reduce(std::move(state), stage::PlaceDated{exchange}).state;
  state = stage::reduce(std::move(state), stage::Undo{}).state;
  REQUIRE(state.document.undone.has_value());
  REQUIRE(state.document.undone->moved.size() == 1);
  CHECK(state.document.undone->moved[0].lever == exchange);
}

TEST_CASE("after a lever was dragged or a button pressed by hand the space bar plays") {
  support::Screen screen(support::opening_state());
  screen.frame();
  const auto found = screen.find("Liver output");
  REQUIRE(found.has_value());
  CHECK(screen.click_text("Keep this run"));
  screen.frame();
  const std::size_t kept = screen.state().runs.kept.size();
  CHECK(kept == 1);
  screen.key(ImGuiKey_Space);
  screen.frame();
  CHECK(screen.state().time.playing);
  CHECK(screen.state().runs.kept.size() == kept);
  screen.key(ImGuiKey_Space);
  screen.frame();
  CHECK(!screen.state().time.playing);
}

TEST_CASE("kept runs carry the name a person gives, and letters typed there do nothing else") {
  support::Screen screen(support::opening_state());
  screen.do_action(stage::KeepRun{});
  screen.do_action(stage::KeepRun{});
  screen.do_action(stage::SetView{stage::View::compare});
  screen.frame(2);
  for (const char* field : {"compare.name0", "compare.name1"}) {
    screen.interaction().focus(field);
    screen.frame();
    screen.type("more kidney");
    screen.frame(2);
  }
  CHECK(screen.state().runs.kept.size() == 2);
  CHECK(screen.state().runs.kept[0].given == "more kidney");
  CHECK(screen.state().runs.kept[1].given == "more kidney");
  CHECK(screen.state().page.view == stage::View::compare);
}

TEST_CASE("each part of the opening picture tells its number when pointed at, and Tab reaches the same") {
  stage::AppState state = support::opening_state(60);
  support::Screen screen(state);
  screen.frame(2);
  const double c3 = screen.state().runs.account->at(c3_in_account, 24.0 * 60).drain;
  CHECK(!screen.shows("times the usual share"));
  std::set<std::string> told;
  for (int i = 0; i < 200; ++i) {
    screen.key(ImGuiKey_Tab);
    screen.frame();
    const std::string& at = screen.focused();
    if (at.rfind("stage.", 0) != 0 || !told.insert(at).second) continue;
    if (at == "stage.C3.opening") CHECK(screen.shows(look::number(c3, 2) + " times the usual share"));
    if (at == "stage.liver") CHECK(screen.shows("Today the liver makes"));
  }
  for (const char* part : {"stage.liver", "stage.C3.in", "stage.C3.level", "stage.C3.opening", "stage.C3.range",
                           "stage.C4.in", "stage.C4.level", "stage.C4.opening", "stage.C4.range", "stage.plate0"}) {
    CHECK_MESSAGE(told.count(part) == 1, part);
  }
}
