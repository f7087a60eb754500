// What a frame may cost, whatever was opened: counted in characters measured and drawn and in vertices, not in time
// (bench_hostile shows the milliseconds).
#include <doctest/doctest.h>

#include "support/hostile.hpp"
#include "support/hostile_screens.hpp"
#include "support/screen.hpp"

using namespace drawdown;

namespace {

constexpr std::size_t most_measured = 200000;  // characters
constexpr std::size_t most_drawn = 12000;      // characters; four vertices each
constexpr int most_vertices = 128000;          // of the two draw lists: their indices have 16 bits

}  // namespace

TEST_CASE(
    "no file, however large, costs a frame more than 200 000 characters measured, 12 000 drawn, 128 000 vertices") {
  const auto screens = support::hostile_screens();
  CHECK(screens.size() == 22);
  for (const auto& [width, height, percent] :
       {std::tuple(1600.0F, 900.0F, 100), std::tuple(1100.0F, 700.0F, 160), std::tuple(2560.0F, 1440.0F, 80)}) {
    for (const auto& [name, state] : screens) {
      CAPTURE(name);
      CAPTURE(width);
      stage::AppState sized = state;
      sized.look.text_percent = percent;
      const support::Screen screen(std::move(sized), width, height);
      const draw::Work& work = screen.work();
      CHECK(work.measured < most_measured);
      CHECK(work.drawn < most_drawn);
      CHECK(work.refused == 0);  // all that should be there is there
      CHECK(screen.vertices() < most_vertices);
    }
  }
}

TEST_CASE("a draw list that is full refuses shapes before words, and never overflows") {
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  ImGui::GetIO().DisplaySize = {800, 600};
  const draw::FontSet fonts = draw::load_fonts(*ImGui::GetIO().Fonts, 15);
  ImGui::NewFrame();
  {
    draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), fonts);
    const look::Colour ink{0, 0, 0, 1};
    for (int i = 0; i < 30000; ++i) canvas.fill({1, 1, 9, 9}, ink, 0);
    const std::size_t refused = canvas.work().refused;
    CHECK(refused > 10000);
    (void)canvas.text({0, 0}, "still told", draw::Type::body, ink);
    CHECK(canvas.work().refused == refused);
    for (int i = 0; i < 2000; ++i) (void)canvas.text({0, 0}, std::string(100, 'x'), draw::Type::body, ink);
    CHECK(canvas.work().refused > refused);
  }
  CHECK(ImGui::GetBackgroundDrawList()->VtxBuffer.Size < 65536);
  ImGui::Render();
  ImGui::NewFrame();
  {
    draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), fonts);
    std::vector<draw::Point> zigzag;
    for (int i = 0; i < 1000; ++i) zigzag.push_back({static_cast<float>(i), i % 2 == 0 ? 0.0F : 500.0F});
    canvas.line(zigzag, {0, 0, 0, 1}, 2, 8);
    CHECK(canvas.work().refused == 0);
    CHECK(ImGui::GetBackgroundDrawList()->VtxBuffer.Size > 1000);
    CHECK(ImGui::GetBackgroundDrawList()->VtxBuffer.Size < 20000);
  }
  ImGui::Render();
  ImGui::DestroyContext();
}

TEST_CASE("a paragraph breaks a word wider than its line and ends lines where they end, and nothing of it is lost") {
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  const draw::FontSet fonts = draw::load_fonts(*ImGui::GetIO().Fonts, 15);
  ImGui::GetIO().DisplaySize = {800, 600};
  ImGui::NewFrame();
  draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), fonts);
  const auto joined = [&](const std::string& words, float width) {
    std::string all;
    for (const std::string& line : canvas.wrapped(words, draw::Type::body, width)) {
      CHECK(canvas.width(line, draw::Type::body) <= width + 0.1F);
      all += line;
    }
    return all;
  };
  const std::string word(700, 'm');
  CHECK(joined(word, 200) == word);
  CHECK(joined("a " + word + " b", 200) == "a" + word + " b");
  CHECK(canvas.wrapped("one\ntwo\n\nthree", draw::Type::body, 500) ==
        std::vector<std::string>{"one", "two", "", "three"});
  CHECK(canvas.wrapped(word, draw::Type::body, 0).size() == 700);
  // Too long for any screen: its beginning, and how much is left out.
  const std::string long_one = joined(std::string(300000, 'm'), 500);
  CHECK(long_one.find("m…(+297500)") == 2499);
  CHECK(canvas.work().measured < 60000);
  // One line: as many characters as fit, found without trying each.
  const std::size_t before = canvas.work().measured;
  const draw::Box end = canvas.fitted({0, 0, 300, 20}, std::string(300000, 'm'), draw::Type::body, {0, 0, 0, 1});
  CHECK(end.w <= 300.1F);
  CHECK(end.w > 270);
  CHECK(canvas.fitted_end({0, 0, 300, 20}, std::string(300000, 'm') + "end", draw::Type::body, {0, 0, 0, 1}).w <=
        300.1F);
  CHECK(canvas.texts().back().text.substr(canvas.texts().back().text.size() - 3) == "end");
  CHECK(canvas.work().measured - before < 20000);
  ImGui::EndFrame();
  ImGui::DestroyContext();
}

TEST_CASE("the chooser walks a folder of 100 000 names by Tab, arrows and letters, and draws those in sight") {
  stage::AppState state = support::opening_state();
  state.page.overlay = stage::Overlay::files;
  for (int i = 0; i < 100000; ++i)
    state.files.folder.entries.push_back({(i == 77777 ? "z" : "n") + std::to_string(i), false});
  support::Screen screen(state);
  const auto seen = [&] {
    std::size_t n = 0;
    for (const auto& t : screen.texts())
      n += t.text.size() > 1 && (t.text[0] == 'n' || t.text[0] == 'z') && std::isdigit(t.text[1]) != 0 ? 1U : 0U;
    return n;
  };
  CHECK(seen() > 10);
  CHECK(seen() < 60);
  screen.key(ImGuiKey_End);
  screen.frame(2);
  CHECK(screen.focused() == "file.100000");
  CHECK(screen.shows("n99999"));
  screen.type("z");
  screen.frame(2);
  CHECK(screen.focused() == "file.77778");
  CHECK(screen.shows("z77777"));
  screen.key(ImGuiKey_Tab);
  screen.frame(2);
  CHECK(screen.focused() == "file.77779");
  for (int i = 0; i < 40; ++i) screen.key(ImGuiKey_Tab);
  screen.frame(2);
  CHECK(screen.focused() == "file.77819");
  CHECK(screen.shows("n77818"));
}
