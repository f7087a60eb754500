// Panels without a window: what is on the screen, and what clicks and keys do.
#include <doctest/doctest.h>

#include "support/near.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using support::Screen;

TEST_CASE("the opening screen shows title, verdict, both levels, ranges, organs and the caution") {
  Screen screen(support::opening_state(120));
  for (const char* words :
       {"A kidney flare and its treatment", "Liver", "Kidney", "Skin", "Joints", "ordinary wear", "Antibody made",
        "Liver output", "usual = 1.00", "Holding, below usual: drain stays wide open", "g/L", "holding"}) {
    CHECK_MESSAGE(screen.shows(words), std::string(words));
  }
  CHECK(screen.shows("not for diagnosis or treatment decisions"));
  CHECK(screen.shows("laboratory range 0.90–1.80"));
}

TEST_CASE("the depth switch changes the words at once") {
  Screen screen(support::opening_state(120));
  CHECK(screen.shows("makes C3 and C4"));
  REQUIRE(screen.click_text("Mechanism"));
  CHECK(screen.state().page.depth == look::Depth::mechanism);
  CHECK(screen.shows("hepatic synthesis"));
  screen.type("2");
  CHECK(screen.state().page.depth == look::Depth::clinic);
}

TEST_CASE("dragging a lever moves the course while the finger is down, and is one undo") {
  Screen screen(support::opening_state(120));
  const auto before = screen.state().runs.now;
  const auto label = screen.find("Liver output");
  REQUIRE(label.has_value());
  const float y = label->box.bottom() + 18;
  screen.move(label->box.x + 250, y);
  screen.press();
  const auto during = screen.state().runs.now;
  CHECK((during != before));
  screen.move(label->box.x + 60, y);
  CHECK((screen.state().runs.now != during));
  CHECK(screen.state().runs.now->c3(120) < before->c3(120));
  CHECK(screen.state().document.undo.empty());
  screen.release();
  CHECK(screen.state().document.undo.size() == 1);
  screen.key(ImGuiKey_Z, true);
  CHECK(screen.state().runs.now->c3(120) == support::near(before->c3(120), 1e-9));
}

TEST_CASE("a double click gives a lever back to the story") {
  Screen screen(support::opening_state(120));
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 0.4, false});
  screen.frame();
  const auto label = screen.find("Liver output");
  REQUIRE(label.has_value());
  const float x = label->box.x + 120;
  const float y = label->box.bottom() + 18;
  screen.move(x, y);
  screen.press();
  screen.release();
  screen.press();
  screen.release();
  CHECK_FALSE(stage::is_edited(screen.state(), body::lever_at("hepatic_output")));
}

TEST_CASE("the balance is worked by keyboard: Tab walks the controls, Enter presses, arrows move a lever") {
  Screen screen(support::opening_state(120));
  std::vector<std::string> seen;
  for (int i = 0; i < 60; ++i) {
    screen.key(ImGuiKey_Tab);
    seen.push_back(screen.focused());
  }
  for (const char* name :
       {"head.stories", "head.depth/1",   "head.smaller",         "head.larger",          "head.room",
        "head.keys",    "view.balance",   "view.course",          "view.compare",         "head.play",
        "head.day",     "head.slower",    "head.faster",          "course.unit",          "course.track",
        "course.plot0", "levers.reach/1", "lever.hepatic_output", "lever.c4_gene_copies", "levers.more",
        "levers.keep",  "levers.reset"}) {
    CHECK_MESSAGE(std::find(seen.begin(), seen.end(), name) != seen.end(), name);
  }
  while (screen.focused() != "lever.hepatic_output") screen.key(ImGuiKey_Tab);
  const double before = stage::current_value(screen.state(), body::lever_at("hepatic_output"));
  screen.key(ImGuiKey_LeftArrow);
  CHECK(stage::current_value(screen.state(), body::lever_at("hepatic_output")) < before);
  while (screen.focused() != "view.course") screen.key(ImGuiKey_Tab, false, true);
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().page.view == stage::View::course);
}

TEST_CASE("single keys: play, step, text size, room, views, keep, undo, unit, track, stories, keys") {
  Screen screen(support::opening_state(120));
  screen.key(ImGuiKey_Space);
  CHECK(screen.state().time.playing);
  screen.key(ImGuiKey_Space);
  CHECK_FALSE(screen.state().time.playing);
  screen.key(ImGuiKey_RightArrow);
  CHECK(screen.state().time.day == 121.0);
  screen.key(ImGuiKey_PageDown);
  CHECK(screen.state().time.day == 131.0);
  screen.key(ImGuiKey_Home);
  CHECK(screen.state().time.day == 0.0);
  screen.type("+");
  CHECK(screen.state().look.text_percent == 110);
  screen.type("r");
  CHECK(screen.state().look.room == look::Room::dark);
  screen.type("m");
  CHECK(screen.state().page.view == stage::View::compare);
  screen.type("k");
  CHECK(screen.state().runs.kept.size() == 1);
  screen.type("u");
  CHECK(screen.shows("mg/dL"));
  screen.type("t");
  CHECK(screen.shows("CH50"));
  screen.type("o");
  CHECK(screen.state().page.overlay == stage::Overlay::stories);
  screen.key(ImGuiKey_Escape);
  CHECK(screen.state().page.overlay == stage::Overlay::none);
  screen.type("?");
  CHECK(screen.state().page.overlay == stage::Overlay::keys);
  screen.type("d");
  CHECK(screen.state().page.overlay == stage::Overlay::glossary);
  CHECK(screen.shows("Immune complex"));
  screen.key(ImGuiKey_Escape);
  CHECK(screen.state().page.overlay == stage::Overlay::none);
}

TEST_CASE("the wheel over a page that covers the screen moves no list beneath it") {
  Screen screen(support::opening_state(120), 1600, 900);
  const auto lever = screen.find("Antibody made");
  REQUIRE(lever.has_value());
  screen.do_action(stage::SetOverlay{stage::Overlay::stories});
  screen.move(lever->box.middle_x(), lever->box.middle_y());
  ImGui::GetIO().MouseWheel = -4.0F;
  screen.frame(2);
  screen.do_action(stage::SetOverlay{stage::Overlay::none});
  screen.frame(2);
  CHECK(screen.find("Antibody made")->box.y == lever->box.y);
  ImGui::GetIO().MouseWheel = -4.0F;
  screen.frame(2);
  const auto after = screen.find("Antibody made");
  const bool moved = !after || after->box.y < lever->box.y;
  CHECK(moved);
}

TEST_CASE("keep a run, change something: both are on the chart and the difference stands in words") {
  Screen screen(support::opening_state(120));
  screen.type("k");
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 0.5, false});
  screen.type("m");
  CHECK(screen.shows("C3: lowest"));
  CHECK(screen.shows("instead of"));
  CHECK(screen.find("A").has_value());
  REQUIRE(screen.click_text("Let go"));
  CHECK(screen.state().runs.kept.empty());
}

TEST_CASE("another story opens from the list by mouse and by keyboard") {
  Screen screen(support::opening_state(120));
  REQUIRE(screen.click_text("Stories"));
  REQUIRE(screen.click_text("Low but quiet"));
  CHECK(screen.state().document.now.story.title == "Low but quiet");
  CHECK(screen.state().page.overlay == stage::Overlay::none);
  CHECK(screen.state().runs.now->story().title == "Low but quiet");
  screen.type("o");
  while (screen.focused() != "story.0") screen.key(ImGuiKey_Tab);
  screen.key(ImGuiKey_Enter);
  CHECK(screen.state().document.now.story.title == "A steady day");
}

TEST_CASE("while a page covers the screen nothing under it can be pressed") {
  Screen screen(support::opening_state(120));
  const auto play = screen.find("Course");
  REQUIRE(play.has_value());
  const float x = play->box.middle_x();
  const float y = play->box.middle_y();
  screen.do_action(stage::SetOverlay{stage::Overlay::cautions});
  screen.frame();
  screen.click(x, y);
  CHECK(screen.state().page.view == stage::View::balance);
  screen.type("m");
  CHECK(screen.state().page.view == stage::View::balance);
  REQUIRE(screen.click_text("I understand"));
  CHECK(screen.state().page.overlay == stage::Overlay::none);
}

TEST_CASE("a wrong file leaves the window up with the last good course and says what is wrong") {
  Screen screen(support::opening_state(120));
  const auto run = screen.state().runs.now;
  screen.do_action(stage::OpenStory{"/nowhere/x.toml"});
  screen.frame();
  CHECK((screen.state().runs.now == run));
  CHECK(screen.shows("/nowhere/x.toml: no such file"));
  REQUIRE(screen.click_text("Dismiss"));
  CHECK(screen.state().problem.empty());
}

TEST_CASE("a press or drag on a chart moves the playhead") {
  Screen screen(support::opening_state(120));
  const auto axis = screen.find("12 mo");
  REQUIRE(axis.has_value());
  screen.move(axis->box.x - 5, axis->box.y - 60);
  screen.press();
  const double there = screen.state().time.day;
  CHECK(there > 330);
  screen.move(axis->box.x - 200, axis->box.y - 60);
  CHECK(screen.state().time.day < there - 50);
  screen.release();
}

TEST_CASE("a frame stays inside one draw list's sixteen-bit indices, with four kept runs and a third track") {
  Screen screen(support::opening_state(120), 3840, 2160);
  for (int i = 0; i < 4; ++i) screen.do_action(stage::KeepRun{});
  screen.do_action(stage::NextTrack{});
  screen.frame();
  CHECK(screen.vertices() > 1000);
  CHECK(screen.vertices() < 65000);
}

TEST_CASE("the study view injects a tracer in everyone on the screen and tells what was read from the label") {
  Screen screen(command::state_for(support::source_folder() + "/scenarios/07-two-people-one-number.toml", 20));
  REQUIRE(screen.state().runs.kept.size() == 1);
  screen.type("s");
  REQUIRE(screen.state().study.tracer.has_value());
  REQUIRE(screen.state().study.tracer->people.size() == 2);
  CHECK(screen.shows("Used an hour"));
  CHECK(screen.shows("Injected on day 20"));
  REQUIRE(screen.click_text("C3"));
  CHECK(screen.state().study.tracer->protein == study::Traced::c4);
  REQUIRE(screen.click_text("without counting noise"));
  CHECK(screen.state().study.counting_noise);
}

TEST_CASE("the study view ranks the levers for the playhead's day") {
  Screen screen(support::opening_state(60));
  screen.type("s");
  REQUIRE(screen.click_text("Which lever?"));
  REQUIRE(screen.state().study.effects.has_value());
  const auto& effects = screen.state().study.effects->effects;
  for (std::size_t i = 1; i < effects.size(); ++i) CHECK(effects[i - 1].size() >= effects[i].size());
  screen.frame();
  CHECK(screen.shows("Liver output"));
}

TEST_CASE("the study view lists the ledger of truth") {
  Screen screen(support::opening_state(60));
  screen.type("s");
  REQUIRE(screen.click_text("Truth"));
  screen.frame();
  CHECK(screen.state().study.truth.size() >= 115);
  CHECK(screen.shows("independent figures inside the published range"));
  CHECK(screen.shows("Not met"));
  CHECK(screen.shows("P9b"));
}

TEST_CASE("a study that cannot be done says why and leaves the screen as it was") {
  scenario::Scenario brief;
  brief.title = "brief";
  brief.days = 5;
  stage::AppState state = support::opening_state(60);
  Screen screen(state);
  screen.do_action(stage::StoryOpened{brief});
  screen.type("s");
  CHECK(screen.state().problem.find("tracer study") != std::string::npos);
  CHECK_FALSE(screen.state().study.busy);
}

TEST_CASE("walking to a step of the cascade tells it, and the mechanism depth shows its rate law") {
  Screen screen(support::opening_state(95));
  screen.type("a");
  CHECK(screen.shows("The loop"));
  screen.type("2");
  CHECK(screen.shows("loop gain 0."));
  for (int i = 0; i < 300 && screen.focused() != "cascade.FI.C3"; ++i) screen.key(ImGuiKey_Tab);
  REQUIRE(screen.focused() == "cascade.FI.C3");
  CHECK(screen.shows("Factor I, helped by factor H"));
  CHECK_FALSE(screen.shows("stop_C3b = "));
  screen.type("3");
  CHECK(screen.shows("stop_C3b = "));
  CHECK(screen.shows("Now "));
}

TEST_CASE(
    "on a small window with large text the lab sheet scrolls to its last row and to the verdicts, by keyboard too") {
  stage::AppState state = support::opening_state(95);
  state.look.text_percent = 160;
  Screen screen(state, 1100, 700);
  screen.do_action(stage::SetView{stage::View::lab});
  screen.frame(2);
  const auto seen = [&](const std::string& part) {
    for (const auto& t : screen.texts()) {
      if (t.text.find(part) != std::string::npos && t.box.bottom() <= t.clip.bottom() + 1 && t.box.y >= t.clip.y - 1)
        return true;
    }
    return false;
  };
  CHECK(seen("C4"));
  CHECK(seen(" since day 67: "));  // without scrolling
  CHECK_FALSE(seen("Urine protein"));
  for (int i = 0; i < 60 && screen.focused() != "lab.list"; ++i) screen.key(ImGuiKey_Tab);
  REQUIRE(screen.focused() == "lab.list");
  for (int i = 0; i < 12; ++i) screen.key(ImGuiKey_DownArrow);
  CHECK(seen("Urine protein"));
}

TEST_CASE("the lab sheet flags, stores the sample, and another laboratory turns a low C3 normal") {
  Screen screen(support::opening_state(95));
  screen.type("g");
  CHECK(screen.shows("Reports up to day 95"));
  CHECK(screen.find("L").has_value());
  const auto count_low = [&] {
    int n = 0;
    for (const auto& t : screen.texts()) n += t.text == "L" ? 1 : 0;
    return n;
  };
  const double fresh = screen.state().runs.now->measured(95).ch50;
  REQUIRE(screen.click_text("Four days in the fridge"));
  CHECK(screen.state().runs.now->measured(95).ch50 < fresh);
  CHECK(screen.state().runs.now->measured(95).c3 > screen.state().runs.now->serum(95).c3);
  screen.do_action(stage::OpenStory{support::source_folder() + "/scenarios/04-low-but-quiet.toml"});
  screen.do_action(stage::GoToDay{30});
  screen.frame();
  const int here = count_low();
  REQUIRE(screen.click_text("Another laboratory's range"));
  screen.frame();
  CHECK(count_low() < here);
}

TEST_CASE("the tissues view shows deposits, inflammation, injury and the circle back") {
  Screen screen(support::opening_state(95));
  screen.type("i");
  for (const char* words :
       {"Kidney", "Complexes settled", "Inflammation", "Injury", "Debris", "injured tissue gives more debris"}) {
    CHECK_MESSAGE(screen.shows(words), std::string(words));
  }
}

TEST_CASE("a talk is driven by button, arrows and a presenter's clicker: step, ask, reveal, hide the note, end") {
  Screen screen(support::opening_state(5));
  REQUIRE(screen.click_text("Talk"));
  REQUIRE(screen.state().talk.step.has_value());
  CHECK(screen.state().time.day == 20.0);
  CHECK(screen.state().talk.step == std::size_t{0});
  screen.key(ImGuiKey_PageDown);
  CHECK(*screen.state().talk.step == 1);
  CHECK(screen.shows("Which has fallen further, and why?"));
  CHECK_FALSE(screen.shows("C4: a few complexes cost C4 at once"));
  REQUIRE(screen.click_text("Reveal"));
  CHECK(screen.shows("C4: a few complexes cost C4 at once"));
  screen.type("h");
  CHECK_FALSE(screen.shows("Which has fallen further"));
  screen.type("h");
  REQUIRE(screen.click_text("Next"));
  REQUIRE(screen.click_text("Next"));
  CHECK(screen.state().page.view == stage::View::tissues);
  screen.key(ImGuiKey_PageUp);
  CHECK(*screen.state().talk.step == 2);
  for (int i = 0; i < 10; ++i) screen.key(ImGuiKey_PageDown);
  CHECK(*screen.state().talk.step == 4);
  // A what-if in the middle of the talk, and back.
  screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), 0.5, false});
  CHECK(screen.state().talk.step.has_value());
  screen.do_action(stage::ResetAll{});
  screen.key(ImGuiKey_Escape);
  CHECK_FALSE(screen.state().talk.step.has_value());
}
