// Finding the words of the trade in a text, and the figures' file.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "draw/shapes.hpp"
#include "look/terms.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

look::WordBook book(const std::string& language) {
  return look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
}

std::string figures() {
  const std::ifstream in(support::source_folder() + "/assets/shapes.toml");
  std::ostringstream text;
  text << in.rdbuf();
  return text.str();
}

std::string refusal(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE(at != std::string::npos);
  text.replace(at, from.size(), to);
  try {
    (void)draw::Shapes::read(text, "shapes.toml");
  } catch (const std::runtime_error& error) {
    return error.what();
  }
  return "taken";
}

}  // namespace

TEST_CASE("words of the trade are found whole, in any case, the longest first") {
  const look::Terms terms(book("en"));
  const std::string text = "Complexes wake C1; C3 is inside the laboratory's range, C30 and complexity are not words.";
  const auto found = terms.in(text);
  std::vector<std::string> said;
  for (const auto& one : found) said.push_back(text.substr(one.from, one.length));
  CHECK(said == std::vector<std::string>{"Complexes", "C3", "laboratory's range"});
  CHECK(look::Terms(book("es")).keys_in("El depósito y los depósitos gastan C4.") ==
        std::vector<std::string>{"deposit", "c4"});
}

TEST_CASE("every word that has forms has a meaning, and every meaning has forms, in both languages") {
  for (const char* language : {"en", "es"}) {
    const auto words = book(language);
    std::size_t forms = 0;
    for (const std::string& key : words.keys()) {
      const std::string at = "glossary.forms.";
      if (key.rfind(at, 0) != 0) continue;
      forms += 1;
      const auto meaning = look::meaning_of(words, key.substr(at.size()));
      CHECK_MESSAGE(!meaning.text.empty(), key);
      CHECK_MESSAGE(meaning.text.find('<') == std::string::npos, key);
    }
    for (const std::string& key : words.keys()) {
      const std::string at = "glossary.";
      if (key.rfind(at, 0) != 0 || key.rfind("glossary.forms", 0) == 0) continue;
      const std::string name = key.substr(at.size());
      if (name == "title" || name == "open" || name == "close") continue;
      CHECK_MESSAGE(words.has("glossary.forms." + name), key);
    }
    CHECK(forms > 20);
  }
}

TEST_CASE("the figures keep inside their box and are seen from their centre") {
  const auto shapes = draw::Shapes::read(figures(), "shapes.toml");
  for (std::size_t i = 0; i < draw::figure_names.size(); ++i) {
    const auto outline = shapes.figure(static_cast<draw::Figure>(i), {100, 50, 200, 100});
    CHECK(outline.points.size() > 50);
    for (const draw::Point& p : outline.points) {
      CHECK(p.x > 95);
      CHECK(p.x < 305);
      CHECK(p.y > 45);
      CHECK(p.y < 155);
    }
  }
}

TEST_CASE("a figures' file that is wrong is refused with file, line and what is allowed") {
  CHECK(refusal(figures(), "[0.01, 0.42]", "[0.01, 1.42]").find("shapes.toml:7: x and y are numbers from 0 to 1") == 0);
  CHECK(refusal(figures(), "[0.01, 0.42]", "[0.01]").find("shapes.toml:7: a point is [x, y]") == 0);
  CHECK(refusal(figures(), "[kidney]", "[kidneys]").find("the figure 'kidney' is missing") != std::string::npos);
  CHECK(refusal(figures(), "[0.01, 0.42], [0.06, 0.20]", "[0.06, 0.20], [0.01, 0.42]").find("one direction") !=
        std::string::npos);
  CHECK(refusal(figures(), "centre = [0.42, 0.42]", "centre = = 3").find("shapes.toml:5") == 0);
}
