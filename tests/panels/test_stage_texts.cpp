// What is written into the opening picture: little in a hall, and what a dragged lever has done.
#include <doctest/doctest.h>

#include "panels/panels.hpp"
#include "support/screen.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::Screen;

namespace {

// Texts that lie in the upper part of the screen between the tabs and the course, by their place.
std::vector<draw::TextRecord> in_picture(const Screen& screen, float from, float to) {
  std::vector<draw::TextRecord> texts;
  for (const draw::TextRecord& t : screen.texts()) {
    if (t.box.y >= from && t.box.bottom() <= to) texts.push_back(t);
  }
  return texts;
}

const draw::TextRecord* find(const Screen& screen, const std::string& words) {
  for (const draw::TextRecord& t : screen.texts()) {
    if (t.text.find(words) != std::string::npos) return &t;
  }
  return nullptr;
}

}  // namespace

TEST_CASE("in a talk the opening picture has at most twelve texts, and each is at least 2.5 % of its height") {
  Screen screen(support::opening_state(60));
  const draw::TextRecord* title = find(screen, "Falling: ");
  REQUIRE(static_cast<bool>(title != nullptr));
  // Negative control: without a talk there are more.
  const draw::TextRecord* course = find(screen, "in g/L");
  REQUIRE(static_cast<bool>(course != nullptr));
  CHECK(in_picture(screen, title->box.y - 2, course->box.y - 8).size() > 18);
  screen.do_action(stage::StartTalk{});
  for (std::size_t step = 0; step < screen.state().document.now.story.talk.size(); ++step) {
    screen.do_action(stage::JumpTalk{step});
    if (screen.state().page.view != stage::View::balance) continue;
    screen.frame();
    const draw::TextRecord* liver = find(screen, "Liver");
    course = find(screen, "in g/L");
    REQUIRE(static_cast<bool>(liver != nullptr));
    REQUIRE(static_cast<bool>(course != nullptr));
    const float top = liver->box.y - 5 * liver->box.h;  // the title's lines, not the tabs
    const auto texts = in_picture(screen, top, course->box.y - 8);
    CHECK_MESSAGE(texts.size() <= 12, step);
    CHECK(texts.size() >= 7);
    for (const draw::TextRecord& t : texts) {
      CHECK_MESSAGE(t.box.h >= 0.025F * (course->box.y - top), t.text);
    }
  }
}

TEST_CASE("while a lever is dragged it says what it has done to both levels, and the state before is let go with it") {
  Screen screen(support::opening_state(60));
  const body::LeverId lever = body::lever_at("antibody_drive");
  CHECK_FALSE(screen.shows("→"));
  screen.do_action(stage::MoveLever{lever, 1.0, true});
  screen.frame();
  REQUIRE(static_cast<bool>(screen.state().levers.before));
  const draw::TextRecord* said = find(screen, "→");
  REQUIRE(static_cast<bool>(said != nullptr));
  CHECK(said->text.find("C3 0.67 → 1.") != std::string::npos);
  screen.do_action(stage::EndDrag{});
  screen.frame();
  CHECK_FALSE(static_cast<bool>(screen.state().levers.before));
  CHECK_FALSE(screen.shows("→"));
}

TEST_CASE("a picture drawn bare has no words on it, and every word keeps its place") {
  stage::AppState state = support::opening_state(60);
  std::size_t texts = 0;
  int vertices = 0;
  {
    Screen with(state);
    with.frame();
    texts = with.texts().size();
    vertices = with.vertices();
  }
  state.look.bare = true;
  Screen bare(std::move(state));
  bare.frame();
  CHECK(bare.texts().size() == texts);
  CHECK(bare.vertices() < vertices - 4 * 500);
}
