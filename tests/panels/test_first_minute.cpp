// The first minute, the file chooser, explained words, motion: what a newcomer meets.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <fstream>

#include "support/folder.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using stage::FirstMinute;
using support::Folder;
using support::Screen;

namespace {

stage::AppState newcomer() {
  stage::AppState state = support::opening_state(95);
  state.page.overlay = stage::Overlay::cautions;
  state.first.time = true;
  return state;
}

// Days go by as in the window, until the story stops.
void play(Screen& screen) {
  for (int i = 0; i < 2000 && screen.state().time.playing; ++i) screen.do_action(stage::Tick{1.0 / 60.0});
  screen.frame();
}

}  // namespace

TEST_CASE("after the first cautions: raise complexes, C3 falls, raise the liver, C3 rises - by keyboard alone") {
  Screen screen(newcomer());
  screen.key(ImGuiKey_Enter);
  REQUIRE(screen.state().first.step == FirstMinute::raise_complexes);
  const double usual = screen.state().runs.now->usual_c3();
  while (screen.focused() != "first.lever") screen.key(ImGuiKey_Tab);
  for (int i = 0; i < 12 && !screen.state().time.playing; ++i) screen.key(ImGuiKey_RightArrow);
  REQUIRE(screen.state().first.step == FirstMinute::watch_it_fall);
  play(screen);
  REQUIRE(screen.state().first.step == FirstMinute::raise_liver);
  const double low = screen.state().runs.now->c3(screen.state().time.day);
  CHECK(low < 0.87 * usual);
  while (screen.focused() != "first.lever") screen.key(ImGuiKey_Tab);
  for (int i = 0; i < 6 && !screen.state().time.playing; ++i) screen.key(ImGuiKey_RightArrow);
  REQUIRE(screen.state().first.step == FirstMinute::watch_it_rise);
  play(screen);
  CHECK(screen.state().first.step == FirstMinute::done);
  CHECK(screen.state().runs.now->c3(screen.state().time.day) > 1.05 * low);
  REQUIRE(screen.click_text("Go on"));
  CHECK_FALSE(screen.state().first.step.has_value());
}

TEST_CASE("the first minute waits for the lever it asks for, ends with Escape, and comes only once by itself") {
  Screen screen(newcomer());
  screen.key(ImGuiKey_Enter);
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 1.4, false});
  CHECK(screen.state().first.step == FirstMinute::raise_complexes);
  screen.do_action(stage::MoveLever{body::lever_at("antibody_drive"), 5, true});
  CHECK_MESSAGE(screen.state().first.step == FirstMinute::raise_complexes, "goes on while the hand still pulls");
  screen.do_action(stage::EndDrag{});
  CHECK(screen.state().first.step == FirstMinute::watch_it_fall);
  screen.key(ImGuiKey_Escape);
  CHECK_FALSE(screen.state().first.step.has_value());
  screen.do_action(stage::SetOverlay{stage::Overlay::cautions});
  screen.key(ImGuiKey_Enter);
  CHECK_FALSE(screen.state().first.step.has_value());
  screen.type("f");
  CHECK(screen.state().first.step == FirstMinute::raise_complexes);
  screen.do_action(stage::OpenStory{support::shipped_stories().at(3)});
  CHECK_FALSE(screen.state().first.step.has_value());
}

TEST_CASE("the chooser works by keyboard: folders, letters, Enter, what was opened is listed as opened before") {
  const Folder folder;
  std::filesystem::create_directory(folder.path + "/inner");
  std::filesystem::create_directory(folder.path + "/other");
  std::filesystem::copy(support::shipped_stories().at(4), folder.path + "/inner/my story.toml");
  std::ofstream(folder.path + "/inner/notes.md") << "not a story";
  Screen screen(support::opening_state(95));
  screen.do_action(stage::OpenFolder{folder.path});
  screen.frame();
  CHECK(screen.state().page.overlay == stage::Overlay::files);
  CHECK(screen.shows("other"));
  screen.type("i");
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().files.folder.path == folder.path + "/inner");
  CHECK_FALSE(screen.shows("notes.md"));
  screen.key(ImGuiKey_DownArrow);
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().page.overlay == stage::Overlay::none);
  CHECK(screen.state().document.path == folder.path + "/inner/my story.toml");
  REQUIRE_FALSE(screen.state().files.recent.empty());
  screen.type("o");
  CHECK(screen.shows("Opened before"));
  // Up again, from where it was left.
  screen.do_action(stage::OpenFolder{});
  screen.frame();
  CHECK(screen.state().files.folder.path == folder.path + "/inner");
  screen.key(ImGuiKey_Home);
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().files.folder.path == folder.path);
}

TEST_CASE("a broken file chosen says where it is broken and leaves the story as it was") {
  const Folder folder;
  std::ofstream(folder.path + "/broken.toml") << "title = \n";
  Screen screen(support::opening_state(95));
  const std::string before = screen.state().document.path;
  screen.do_action(stage::OpenFolder{folder.path});
  screen.frame();
  screen.type("b");
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().document.path == before);
  CHECK(screen.state().page.overlay == stage::Overlay::files);
  CHECK(screen.shows("broken.toml:1"));
  screen.do_action(stage::OpenFolder{folder.path + "/nowhere"});
  screen.frame();
  CHECK_FALSE(screen.state().files.folder.problem.empty());
}

TEST_CASE("a talk can be jumped in, left for a what-if and come back to, going on comes back too") {
  Screen screen(support::opening_state(95));
  screen.do_action(stage::StartTalk{});
  screen.key(ImGuiKey_End);
  CHECK(*screen.state().talk.step == screen.state().document.now.story.talk.size() - 1);
  REQUIRE(screen.click_text("2"));
  CHECK(*screen.state().talk.step == 1);
  const double told = screen.state().runs.now->c3(90);
  screen.do_action(stage::Reveal{});
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 0.4, false});
  screen.do_action(stage::SetView{stage::View::course});
  screen.frame();
  CHECK(stage::branched(screen.state()));
  CHECK(screen.state().runs.now->c3(90) < 0.8 * told);
  REQUIRE(screen.click_text("Back to the talk"));
  CHECK_FALSE(stage::branched(screen.state()));
  CHECK(screen.state().runs.now->c3(90) == support::near(told, 1e-9));
  CHECK(screen.state().page.view == stage::View::balance);
  CHECK(*screen.state().talk.step == 1);
  CHECK(screen.state().talk.revealed);
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 0.4, false});
  screen.key(ImGuiKey_PageDown);
  CHECK(*screen.state().talk.step == 2);
  CHECK_FALSE(stage::branched(screen.state()));
  screen.do_action(stage::Undo{});
  CHECK_MESSAGE(stage::branched(screen.state()), "the what-if is kept for undo");
}

TEST_CASE("a word of the trade is explained under the first step that uses it, and wherever it is pointed at") {
  Screen screen(command::state_for(support::source_folder() + "/scenarios/02-kidney-flare.toml", 10));
  screen.do_action(stage::StartTalk{});
  screen.do_action(stage::JumpTalk{1});
  screen.frame();
  CHECK(screen.shows("Immune complex: "));
  screen.do_action(stage::JumpTalk{2});
  screen.frame();
  CHECK_FALSE(screen.shows("Immune complex: "));
  screen.do_action(stage::EndTalk{});
  screen.do_action(stage::GoToDay{45});
  screen.do_action(stage::SetView{stage::View::words});
  screen.frame();
  std::optional<draw::TextRecord> line;
  for (const auto& t : screen.texts()) {
    if (t.text.find("by use at complexes") != std::string::npos) line = t;
  }
  REQUIRE(line.has_value());
  const std::size_t at = line->text.find("complexes");
  const float share = (static_cast<float>(at) + 3.0F) / static_cast<float>(line->text.size());
  screen.move(line->box.x + share * line->box.w, line->box.middle_y());
  CHECK(screen.shows("Immune complex"));
  screen.move(2, 2);
  CHECK_FALSE(screen.shows("Immune complex"));
}

TEST_CASE(
    "a jump of the day is followed by the picture, whose streams flow for three seconds more and then rest, reduced "
    "motion is there at once") {
  Screen screen(support::opening_state(10));
  screen.frame_at(1.0);
  screen.frame_at(1.02);
  const double before = screen.drawn();
  screen.do_action(stage::GoToDay{110});
  screen.frame_at(1.04);
  CHECK(screen.moving());
  const double first = screen.drawn();
  CHECK(first != before);
  double seconds = 1.04;
  int frames = 0;
  while (screen.moving() && frames < 400) {
    screen.frame_at(seconds += 1.0 / 60.0);
    frames += 1;
  }
  CHECK(frames > 180);
  CHECK(frames < 240);  // three seconds and less than one
  const double settled = screen.drawn();
  CHECK(settled != first);
  screen.do_action(stage::ToggleMotion{});
  screen.do_action(stage::GoToDay{10});
  screen.frame_at(seconds += 1.0 / 60.0);
  CHECK_FALSE(screen.moving());
  screen.do_action(stage::GoToDay{110});
  screen.frame_at(seconds += 1.0 / 60.0);
  CHECK_FALSE(screen.moving());
  CHECK(screen.drawn() == settled);
}
