// Typing through the real event path, without a window: SFML's events, several to a frame, become what stands in the
// line and what is read from it, byte for byte. Letters used to arrive in another order than they were typed, and what
// was not ASCII was lost: values were altered without a word.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "support/screen.hpp"
#include "window/events.hpp"

using namespace drawdown;
using panels::Typed;

namespace {

std::string utf8_of(const std::u32string& text) {
  std::string all;
  for (const char32_t c : text) all += panels::utf8(c);
  return all;
}

// Hands on the keyboard of a shell: events in, frames out.
class Hands {
 public:
  Hands() : screen_(own_view()), events_([this] { return clipboard; }) {
    // As in the window: Dear ImGui looks for keys where SFML puts them.
    window::Events::map_keys(ImGui::GetIO());
    while (screen_.focused() != "own.entry") {
      strike(sf::Keyboard::Tab);
      frame();
    }
  }
  void strike(sf::Keyboard::Key key, bool control = false) {
    sf::Event event{};
    event.type = sf::Event::KeyPressed;
    event.key.code = key;
    event.key.control = control;
    events_.event(event);
    event.type = sf::Event::KeyReleased;
    event.key.control = false;
    events_.event(event);
  }
  // One character as the system sends it: the key where there is one for it, then the text.
  void type(char32_t c) {
    if (c >= 'a' && c <= 'z') strike(static_cast<sf::Keyboard::Key>(sf::Keyboard::A + static_cast<int>(c - 'a')));
    if (c == ' ') strike(sf::Keyboard::Space);
    sf::Event event{};
    event.type = sf::Event::TextEntered;
    event.text.unicode = c;
    events_.event(event);
  }
  // So many characters to a frame; 0 = all in one.
  void type(const std::u32string& text, std::size_t to_a_frame) {
    std::size_t in_frame = 0;
    for (const char32_t c : text) {
      type(c);
      if (++in_frame == to_a_frame) {
        frame();
        in_frame = 0;
      }
    }
    frame();
  }
  void frame() {
    events_.fill(ImGui::GetIO());
    screen_.type_at_once(events_.take_typed());
  }
  [[nodiscard]] const stage::AppState& state() const { return screen_.state(); }
  void do_action(const stage::Action& action) { screen_.do_action(action); }
  void clear() { screen_.do_action(stage::TypeResult{""}); }
  std::string clipboard;

 private:
  static stage::AppState own_view() {
    stage::AppState s = support::opening_state();
    s.page.view = stage::View::own;
    return s;
  }
  support::Screen screen_;
  window::Events events_;
};

std::vector<std::u32string> recorded() {
  std::vector<std::u32string> all{U"2024-03-05, 0,85, 12 mg/dL",
                                  U"05/03/2024; 0.85; 0.12",
                                  U"  two  spaces  ",
                                  U"ÁÉÍÓÚ ñ ü ç ß",
                                  U"αβγ Δ C3β",
                                  U"<0.05",
                                  U"\"quoted, cell\"",
                                  U"1.2e-3",
                                  U"+-*/=?!",
                                  U"aaa bbb aba bab",
                                  U"emoji \U0001F9EA and \U0001F480",
                                  U"漢字 かな",
                                  U"ÄÖ-äö",
                                  U"12:30",
                                  U"C3;C4\t",
                                  U"UPPER lower",
                                  U"e e e",
                                  U"µmol/l",
                                  U"0.84 0.48",
                                  U"x\u0301 combining",
                                  U"“curly” – dash",
                                  U"1 234,5"};
  std::mt19937 random(20261126);
  const std::u32string alphabet =
      U"0123456789.,;:/-+<> abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZáéíóúñüÁÉÑßøåβγµ\"'()%=?!_漢\U0001F9EA";
  std::uniform_int_distribution<std::size_t> pick(0, alphabet.size() - 1);
  std::uniform_int_distribution<std::size_t> length(1, 40);
  while (all.size() < 300) {
    std::u32string text;
    for (std::size_t n = length(random); n > 0; --n) text.push_back(alphabet[pick(random)]);
    all.push_back(text);
  }
  for (std::u32string& text : all) text.erase(std::remove(text.begin(), text.end(), U'\t'), text.end());
  return all;
}

}  // namespace

TEST_CASE(
    "300 strings (22 written down, the rest random) arrive as typed, one, two, seven and all characters to a frame, "
    "and no shortcut fires") {
  Hands hands;
  const stage::AppState before = hands.state();
  std::size_t reversed_differs = 0;
  for (const std::u32string& text : recorded()) {
    const std::string wanted = utf8_of(text);
    for (const std::size_t to_a_frame : {1U, 2U, 7U, 0U}) {
      hands.type(text, to_a_frame);
      REQUIRE(hands.state().own.typed == wanted);
      hands.clear();
    }
    // The comparison sees a queue that is turned round.
    std::u32string reversed(text.rbegin(), text.rend());
    if (reversed == text) continue;
    hands.type(reversed, 0);
    CHECK(hands.state().own.typed != wanted);
    reversed_differs += 1;
    hands.clear();
  }
  CHECK(reversed_differs > 250);
  const stage::AppState& after = hands.state();
  CHECK(after.page.view == before.page.view);
  CHECK(after.page.overlay == before.page.overlay);
  CHECK(after.page.depth == before.page.depth);
  CHECK(after.look.language == before.look.language);
  CHECK(after.look.text_percent == before.look.text_percent);
  CHECK(after.page.unit == before.page.unit);
  CHECK(after.time.playing == before.time.playing);
  CHECK(after.runs.kept.size() == before.runs.kept.size());
}

TEST_CASE(
    "a line, Enter and the beginning of the next within one frame: the line is read, the rest stays to be typed on") {
  Hands hands;
  for (const char32_t c : U"date,C3,C4") {
    if (c != 0) hands.type(c);
  }
  hands.strike(sf::Keyboard::Enter);
  for (const char32_t c : U"2024-03-05,0.84,0.12") {
    if (c != 0) hands.type(c);
  }
  hands.strike(sf::Keyboard::Enter);
  for (const char32_t c : U"2024-04") {
    if (c != 0) hands.type(c);
  }
  hands.frame();
  CHECK(hands.state().own.text == "date,C3,C4\n2024-03-05,0.84,0.12\n");
  REQUIRE(hands.state().own.reading.rows.size() == 1);
  CHECK(hands.state().own.reading.rows[0].c3->value == doctest::Approx(0.84));
  CHECK(hands.state().own.typed == "2024-04");
}

TEST_CASE("caret, Backspace, Delete, Home, End and pasted text act in their place among the letters of one frame") {
  Hands hands;
  hands.type(U"0.4", 0);
  hands.strike(sf::Keyboard::Left);
  hands.type(U'8');  // 0.84, the caret before the 4
  hands.strike(sf::Keyboard::Home);
  hands.type(U'β');
  hands.strike(sf::Keyboard::Delete);  // the 0 goes
  hands.strike(sf::Keyboard::End);
  hands.type(U'é');
  hands.strike(sf::Keyboard::Backspace);
  hands.clipboard = "ñ, 12";
  hands.strike(sf::Keyboard::V, true);
  hands.type(U'!');
  hands.frame();
  CHECK(hands.state().own.typed == "β.84ñ, 12!");
}

TEST_CASE("a table pasted into the line is read as it stands, and what was typed before is not lost") {
  Hands hands;
  hands.clipboard = "date,C3,C4\n2024-01-02,1.01,0.21\n2024-02-02,0.98,0.20\n";
  hands.strike(sf::Keyboard::V, true);
  hands.frame();
  CHECK(hands.state().own.text == hands.clipboard);
  CHECK(hands.state().own.reading.rows.size() == 2);
  CHECK(hands.state().own.typed.empty());
}
