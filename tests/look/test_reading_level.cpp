// The plain depth can be read at a grade of 8 or below. Flesch-Kincaid grade (Kincaid 1975, Naval Technical Training
// Command Research Branch Report 8-75): 0.39 words / sentences + 11.8 syllables / words - 15.59, over each whole text
// body (a single sentence is too short for the formula). Syllables are counted as groups of vowels, a silent e at the
// end not counted: the usual approximation.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>

#include "look/words.hpp"
#include "stage/action.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

struct Counts {
  double sentences = 0, words = 0, syllables = 0;
  [[nodiscard]] double grade() const { return 0.39 * words / sentences + 11.8 * syllables / words - 15.59; }
};

double syllables_of(std::string word) {
  double count = 0;
  bool vowel_before = false;
  for (const char c : word) {
    const bool vowel = std::string("aeiouy").find(c) != std::string::npos;
    if (vowel && !vowel_before) count += 1;
    vowel_before = vowel;
    if (std::isdigit(static_cast<unsigned char>(c)) != 0) count += 1;  // "C3" is said see-three
  }
  if (word.size() > 2 && word.back() == 'e' && word[word.size() - 2] != 'l') count -= 1;
  return std::max(count, 1.0);
}

void add(Counts& counts, const std::string& text) {
  std::string word;
  bool any = false;
  const auto end_word = [&] {
    if (word.empty()) return;
    counts.words += 1;
    counts.syllables += syllables_of(word);
    word.clear();
    any = true;
  };
  for (const char c : text) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
      continue;
    }
    end_word();
    if ((c == '.' || c == '!' || c == '?' || c == ':') && any) {
      counts.sentences += 1;
      any = false;
    }
  }
  end_word();
  if (any) counts.sentences += 1;
}

}  // namespace

TEST_CASE("the formula gives the known grade of a known text") {
  // "The cat sat on the mat." 6 words, 1 sentence, 6 syllables: 0.39 * 6 + 11.8 * 1 - 15.59 = -1.45.
  Counts c;
  add(c, "The cat sat on the mat.");
  CHECK(c.words == 6);
  CHECK(c.syllables == 6);
  CHECK(c.grade() == doctest::Approx(-1.45));
  Counts hard;
  add(hard, "Extracellular complement consumption necessitates compensatory hepatic biosynthesis.");
  CHECK(hard.grade() > 20);
}

TEST_CASE("every story's plain words, taken together, read at grade 8 or below") {
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    Counts c;
    add(c, story.message.plain);
    for (const auto& step : story.talk) add(c, step.say.plain);
    CHECK_MESSAGE(c.grade() <= 8.0, path, ": grade ", c.grade());
  }
}

TEST_CASE("the screen's plain words, taken together, read at grade 8 or below") {
  const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  Counts c;
  for (const std::string& key : words.keys()) {
    const bool plain = key.size() > 6 && key.compare(key.size() - 6, 6, ".plain") == 0;
    if (plain && words.at(key).size() > 40) add(c, words.at(key));
  }
  CHECK(c.words > 150);
  CHECK_MESSAGE(c.grade() <= 8.0, "grade ", c.grade());
}

TEST_CASE("every story has a talk of four to seven steps in plain and in clinic words, with known views") {
  REQUIRE(support::shipped_stories().size() >= 19);
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    CHECK_MESSAGE(story.talk.size() >= 4, path);
    CHECK_MESSAGE(story.talk.size() <= 7, path);
    int asked = 0;
    for (const auto& step : story.talk) {
      CHECK_FALSE(step.say.plain.empty());
      CHECK_FALSE(step.say.clinic.empty());
      CHECK_MESSAGE(stage::view_named(step.look).has_value(), path, " ", step.look);
      CHECK(step.ask.empty() == step.reveal.empty());
      asked += step.ask.empty() ? 0 : 1;
    }
    CHECK_MESSAGE(asked >= 1, path);
  }
}
