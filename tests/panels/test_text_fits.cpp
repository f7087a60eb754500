// No word is cut off and none lies on another, at the sizes and text scales people use. Every text the panels draw is
// remembered with its box and the part of the screen it may use.
#include <doctest/doctest.h>

#include <cctype>

#include <algorithm>

#include "support/screen.hpp"

using namespace drawdown;
using support::Screen;

namespace {

struct Size {
  float w, h;
  int percent;
};

void check_screen(Screen& screen, const std::string& where) {
  const auto& texts = screen.texts();
  REQUIRE(texts.size() > 5);
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const draw::TextRecord& t = texts[i];
    if (t.box.bottom() <= t.clip.y || t.box.y >= t.clip.bottom()) continue;  // scrolled out of sight
    CHECK_MESSAGE(t.text[0] != '<', where, ": no words for ", t.text);
    const bool in_x = t.box.x >= t.clip.x - 1 && t.box.right() <= t.clip.right() + 1;
    CHECK_MESSAGE(in_x, where, ": cut at the side: ", t.text);
    const bool figure =
        std::isdigit(static_cast<unsigned char>(t.text[0])) != 0 || t.text[0] == '+' || t.text[0] == '-';
    CHECK_MESSAGE(!(figure && t.text.find("…") != std::string::npos), where, ": a figure is cut: ", t.text);
    const bool in_window = t.box.y >= -1 && t.box.bottom() <= screen.height() + 1;
    CHECK_MESSAGE(in_window, where, ": outside the window: ", t.text);
    for (std::size_t j = i + 1; j < texts.size(); ++j) {
      const draw::TextRecord& u = texts[j];
      // Only what of them can be seen: lists scroll under their frames.
      const auto seen_top = [](const draw::TextRecord& r) { return std::max(r.box.y, r.clip.y); };
      const auto seen_bottom = [](const draw::TextRecord& r) { return std::min(r.box.bottom(), r.clip.bottom()); };
      const float x = std::min(t.box.right(), u.box.right()) - std::max(t.box.x, u.box.x);
      const float y = std::min(seen_bottom(t), seen_bottom(u)) - std::max(seen_top(t), seen_top(u));
      // Line boxes carry some air above and below the letters.
      const float air = 0.22F * std::min(t.box.h, u.box.h);
      CHECK_MESSAGE(!(x > 2 && y > air), where, ": '", t.text, "' lies on '", u.text, "'");
    }
  }
}

}  // namespace

TEST_CASE("in every view no text is cut at the side or lies on another, from 1100x700 to 4K, 80 to 200 %") {
  for (const Size& size : {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1100, 700, 200}, Size{1600, 900, 80},
                           Size{1600, 900, 100}, Size{1600, 900, 160}, Size{1600, 900, 200}, Size{3840, 2160, 100}}) {
    stage::AppState state = support::opening_state(120);
    state.look.text_percent = size.percent;
    Screen screen(state, size.w, size.h);
    for (const auto view :
         {stage::View::balance, stage::View::words, stage::View::course, stage::View::levers, stage::View::compare,
          stage::View::study, stage::View::cascade, stage::View::tissues, stage::View::lab}) {
      for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
        screen.do_action(stage::SetView{view});
        screen.do_action(stage::SetDepth{depth});
        screen.frame();
        check_screen(screen, std::to_string(static_cast<int>(size.w)) + " text " + std::to_string(size.percent) +
                                 " view " + std::to_string(static_cast<int>(view)) + " depth " +
                                 std::to_string(static_cast<int>(depth)));
      }
    }
  }
}

TEST_CASE("in Spanish no text is cut at the side or lies on another either, talk included") {
  for (const Size& size : {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1600, 900, 100}, Size{1600, 900, 160}}) {
    stage::AppState state = support::opening_state(120);
    state.look.text_percent = size.percent;
    state.look.language = "es";
    Screen screen(state, size.w, size.h);
    const auto check_all = [&](const std::string& what) {
      for (const auto view : {stage::View::balance, stage::View::course, stage::View::levers, stage::View::compare,
                              stage::View::study, stage::View::cascade, stage::View::tissues, stage::View::lab}) {
        for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
          screen.do_action(stage::SetView{view});
          screen.do_action(stage::SetDepth{depth});
          screen.frame();
          check_screen(screen, "Spanish, " + what + " at " + std::to_string(static_cast<int>(size.w)) + " text " +
                                   std::to_string(size.percent) + " view " + std::to_string(static_cast<int>(view)));
        }
      }
    };
    check_all("screen");
    screen.do_action(stage::StartTalk{});
    check_all("talk");
  }
}

namespace {
void check_study(const std::vector<stage::StudyPage>& pages) {
  for (const Size& size : {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1600, 900, 100}, Size{1600, 900, 160}}) {
    stage::AppState state =
        command::state_for(support::source_folder() + "/scenarios/07-two-people-one-number.toml", 20);
    state.look.text_percent = size.percent;
    Screen screen(state, size.w, size.h);
    for (const stage::StudyPage page : pages) {
      screen.do_action(stage::SetView{stage::View::study});
      screen.do_action(stage::SetStudyPage{page});
      screen.frame();
      check_screen(screen, "study page " + std::to_string(static_cast<int>(page)) + " at " +
                               std::to_string(static_cast<int>(size.w)) + " text " + std::to_string(size.percent));
    }
  }
}
}  // namespace

TEST_CASE("tracer study and the ranking of levers fit: no text cut at the side or lying on another") {
  check_study({stage::StudyPage::tracer, stage::StudyPage::levers});
}

TEST_CASE("the ledger of truth fits: no text cut at the side or lying on another") {
  check_study({stage::StudyPage::truth});
}

TEST_CASE("two runs compared side by side fit, and no figure of theirs is cut") {
  for (const Size& size : {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1600, 900, 100}, Size{1600, 900, 160},
                           Size{3840, 2160, 100}}) {
    for (const double liver : {0.4, 0.6, 1.4}) {
      stage::AppState state = support::opening_state(60);
      state.look.text_percent = size.percent;
      Screen screen(state, size.w, size.h);
      screen.do_action(stage::KeepRun{});
      screen.do_action(stage::NameKept{0, "as it was told, with a long name"});
      screen.do_action(stage::MoveLever{body::lever_at("hepatic_output"), liver, false});
      screen.do_action(stage::SetView{stage::View::compare});
      for (const auto depth : {look::Depth::plain, look::Depth::clinic}) {
        screen.do_action(stage::SetDepth{depth});
        screen.frame(2);
        check_screen(screen, "compare at " + std::to_string(static_cast<int>(size.w)) + " text " +
                                 std::to_string(size.percent) + " liver " + std::to_string(liver));
      }
    }
  }
}

TEST_CASE("at ordinary text size no label of the balance is shortened with an ellipsis") {
  for (const Size& size : {Size{1600, 900, 100}, Size{1100, 700, 100}, Size{3840, 2160, 100}}) {
    stage::AppState state = support::opening_state(120);
    Screen screen(state, size.w, size.h);
    for (const auto depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
      screen.do_action(stage::SetDepth{depth});
      screen.frame();
      for (const auto& t : screen.texts()) CHECK_MESSAGE(t.text.find("…") == std::string::npos, size.w, " ", t.text);
    }
  }
}

TEST_CASE("the pages that cover the screen do not run over its edge: cautions, stories, keys, glossary, files, tools") {
  for (const Size& size :
       {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1100, 700, 200}, Size{1024, 768, 100}, Size{1600, 900, 100}}) {
    stage::AppState state = support::opening_state(120);
    state.look.text_percent = size.percent;
    for (const auto overlay : {stage::Overlay::cautions, stage::Overlay::keys, stage::Overlay::stories,
                               stage::Overlay::glossary, stage::Overlay::files, stage::Overlay::tools}) {
      state.page.overlay = overlay;
      Screen screen(state, size.w, size.h);
      bool clipped = false;
      for (const auto& t : screen.texts()) clipped = clipped || t.box.right() > size.w + 1;
      CHECK_FALSE(clipped);
    }
  }
}

TEST_CASE("own numbers fit: empty, every page, asked about, in both languages") {
  for (const Size& size :
       {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1100, 700, 200}, Size{1600, 900, 100}, Size{1600, 900, 160}}) {
    for (const bool spanish : {false, true}) {
      stage::AppState state = support::opening_state(120);
      state.look.text_percent = size.percent;
      state.look.language = spanish ? "es" : "en";
      state.page.view = stage::View::own;
      state.files.example = support::source_folder() + "/assets/example-results.csv";
      Screen screen(state, size.w, size.h);
      const std::string where = "own numbers at " + std::to_string(static_cast<int>(size.w)) + " text " +
                                std::to_string(size.percent) + (spanish ? " Spanish" : "");
      check_screen(screen, where + " empty");
      screen.do_action(stage::PasteResults{"date,C3,C4\n3/4/2024,1.1,0.2\n5/6/2024,oops,0.2\n"});
      screen.frame();
      check_screen(screen, where + " asked");
      screen.do_action(stage::OpenResults{state.files.example});
      const auto check_pages = [&](const std::string& what) {
        for (std::size_t page = 0; page < stage::own_page_names.size(); ++page) {
          screen.do_action(stage::SetOwnPage{static_cast<stage::OwnPage>(page)});
          screen.frame();
          check_screen(screen, where + what + " page " + std::to_string(page));
        }
      };
      check_pages("");
      // With a question open above them the pages are lower.
      screen.do_action(stage::ForgetResults{});
      screen.do_action(
          stage::PasteResults{"date,C3 (g/L),C4 (g/L),C3 "
                              "range\n2023-01-10,1.12,0.21,0.8-1.7\n2023-03-10,1.08,0.005,\n2023-05-10,1.1,21,\n"});
      REQUIRE(screen.state().own.reading.slips.size() == 2);
      check_pages(" with a question,");
    }
  }
}

TEST_CASE("the first minute, part after part, shows without overlap") {
  for (const Size& size :
       {Size{1100, 700, 100}, Size{1100, 700, 160}, Size{1600, 900, 100}, Size{1600, 900, 160}, Size{1600, 900, 200}}) {
    for (const bool spanish : {false, true}) {
      stage::AppState state = support::opening_state(120);
      state.look.text_percent = size.percent;
      state.look.language = spanish ? "es" : "en";
      Screen screen(state, size.w, size.h);
      const std::string where = "first minute at " + std::to_string(static_cast<int>(size.w)) + " text " +
                                std::to_string(size.percent) + (spanish ? " Spanish" : "");
      screen.do_action(stage::StartFirstMinute{});
      screen.frame();
      const bool low = size.h < 42 * screen.em();
      CHECK_MESSAGE(screen.shows("d/s") == !low, where, ": the way through the days shows only where it has a row");
      const auto go_on = [&](const char* lever, double value) {
        screen.frame();
        check_screen(screen, where);
        screen.do_action(stage::MoveLever{body::lever_at(lever), value, false});
        screen.frame();
        check_screen(screen, where);
        for (int i = 0; i < 2000 && screen.state().time.playing; ++i) screen.do_action(stage::Tick{0.05});
      };
      go_on("antibody_drive", 8);
      go_on("hepatic_output", 1.5);
      CHECK(screen.state().first.step == stage::FirstMinute::done);
      screen.frame();
      check_screen(screen, where);
    }
  }
}

TEST_CASE("every story shows without overlap on its opening day and in the middle") {
  for (const std::string& path : support::shipped_stories()) {
    for (const double wanted : {-1.0, 100.0}) {
      const double day = std::min(wanted, scenario::read_file(path).days);
      Screen screen(command::state_for(path, day));
      check_screen(screen, path + " day " + std::to_string(day));
    }
  }
}

namespace {

std::string without_blanks(const std::string& text) {
  std::string all;
  for (const char c : text) {
    if (c != ' ' && c != '\n') all += c;
  }
  return all;
}

// All that stands in the talk's box, in the order it is read, without blanks.
std::string in_talk_box(const Screen& screen, float top) {
  std::vector<draw::TextRecord> there;
  for (const draw::TextRecord& t : screen.texts()) {
    // Only what can be seen whole.
    if (t.box.y > top && t.box.bottom() <= t.clip.bottom() + 1 && t.box.bottom() <= screen.height()) there.push_back(t);
  }
  std::sort(there.begin(), there.end(), [](const draw::TextRecord& a, const draw::TextRecord& b) {
    return std::abs(a.box.y - b.box.y) > 2 ? a.box.y < b.box.y : a.box.x < b.box.x;
  });
  std::string all;
  for (const draw::TextRecord& t : there) all += without_blanks(t.text);
  return all;
}

}  // namespace

TEST_CASE(
    "in every step of every talk what is said, asked and revealed stands whole, and the picture asked about too") {
  std::size_t seen = 0;
  for (const Size& size : {Size{1600, 900, 100}, Size{1600, 900, 160}, Size{1100, 700, 100}, Size{1100, 700, 160}}) {
    for (const std::string& path : support::shipped_stories()) {
      const stage::AppState opened = command::state_for(path, 10);
      for (const bool spanish : {false, true}) {
        stage::AppState state = opened;
        state.look.text_percent = size.percent;
        state.look.language = spanish ? "es" : "en";
        Screen screen(state, size.w, size.h);
        screen.do_action(stage::StartTalk{});
        screen.frame();
        for (std::size_t i = 0; i < screen.state().document.now.story.talk.size(); ++i) {
          const scenario::TalkStep& step = screen.state().document.now.story.talk[i];
          for (const bool revealed : {false, true}) {
            if (revealed && step.reveal.empty()) continue;
            if (revealed) screen.do_action(stage::Reveal{});
            screen.frame();
            const std::string where = path + " step " + std::to_string(i + 1) + " at " +
                                      std::to_string(static_cast<int>(size.w)) + " text " +
                                      std::to_string(size.percent) + (spanish ? " es" : " en");
            check_screen(screen, where);
            const auto next = screen.find(spanish ? "Siguiente" : "Next");
            REQUIRE_MESSAGE(next.has_value(), where);
            const std::string there = in_talk_box(screen, next->box.y - 1);
            if (!spanish) {
              CHECK_MESSAGE(there.find(without_blanks(step.say.plain)) != std::string::npos, where, ": cut: ", there);
              CHECK_MESSAGE(there.find(without_blanks(step.ask)) != std::string::npos, where, ": no question: ", there);
              if (revealed)
                CHECK_MESSAGE(there.find(without_blanks(step.reveal)) != std::string::npos, where,
                              ": no answer: ", there);
            }
            // Above it both proteins stand in the view, in at least a quarter of the window.
            std::size_t proteins = 0;
            for (const draw::TextRecord& t : screen.texts()) {
              if (t.box.bottom() < next->box.y && t.box.y > 0.1F * size.h &&
                  (t.text.find("C3") != std::string::npos || t.text.find("C4") != std::string::npos))
                proteins += 1;
            }
            CHECK_MESSAGE(proteins >= 1, where, ": no protein in the picture");
            CHECK_MESSAGE(next->box.y > 0.36F * size.h, where, ": no room for the picture: ", next->box.y);
            seen += 1;
          }
          screen.do_action(stage::StepTalk{1});
        }
      }
    }
  }
  CHECK(seen > 4 * 2 * 77);
}
