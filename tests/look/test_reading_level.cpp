// The plain depth can be read at a grade of 8 or below. Flesch-Kincaid grade (Kincaid 1975, Naval Technical Training
// Command Research Branch Report 8-75): 0.39 words / sentences + 11.8 syllables / words - 15.59, over each whole text
// body (a single sentence is too short for the formula). Syllables are counted as groups of vowels, a silent e at the
// end not counted: the usual approximation.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>

#include "look/words.hpp"
#include "stage/action.hpp"
#include "stage/narrate.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

struct Counts {
  double sentences = 0, words = 0, syllables = 0;
  // Fernandez Huerta's ease of reading: 60 to 70 is plain, more is easier (from memory: Consigna 214, 1959; in the
  // reading of words per sentence, Law 2011).
  [[nodiscard]] double ease() const { return 206.84 - 60 * syllables / words - 1.02 * words / sentences; }
  [[nodiscard]] double grade() const { return 0.39 * words / sentences + 11.8 * syllables / words - 15.59; }
};

// "C3" is said see-three: a syllable a sign.
bool a_name(const std::string& word) {
  return std::any_of(word.begin(), word.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

double syllables_of(const std::string& word) {
  if (a_name(word)) return static_cast<double>(word.size());
  double count = 0;
  bool vowel_before = false;
  for (const char c : word) {
    const bool vowel = std::string("aeiouy").find(c) != std::string::npos;
    if (vowel && !vowel_before) count += 1;
    vowel_before = vowel;
  }
  if (word.size() > 2 && word.back() == 'e' && word[word.size() - 2] != 'l') count -= 1;
  return std::max(count, 1.0);
}

// Spanish: a group of vowels is one syllable, but two open vowels, or one beside a stressed i or u, are two; the u of
// qu, gue and gui is silent. Letters come as UTF-8.
double spanish_syllables_of(const std::string& word) {
  if (a_name(word)) return static_cast<double>(word.size());
  std::string letters;  // accents taken off; stressed i and u become open vowels, written A
  for (std::size_t i = 0; i < word.size(); ++i) {
    if (static_cast<unsigned char>(word[i]) != 0xC3 || i + 1 == word.size()) {
      letters += word[i];
      continue;
    }
    switch (static_cast<unsigned char>(word[++i])) {
      case 0xA1:
        letters += 'a';
        break;
      case 0xA9:
        letters += 'e';
        break;
      case 0xB3:
        letters += 'o';
        break;
      case 0xAD:
      case 0xBA:
        letters += 'A';
        break;
      case 0xBC:
        letters += 'u';
        break;
      default:
        letters += 'n';
    }
  }
  const auto open = [](char c) { return std::string("aeoA").find(c) != std::string::npos; };
  double count = 0;
  char before = ' ';
  for (std::size_t i = 0; i < letters.size(); ++i) {
    char c = letters[i];
    const bool front = i + 1 < letters.size() && std::string("ei").find(letters[i + 1]) != std::string::npos;
    if (c == 'u' && i > 0 && (letters[i - 1] == 'q' || (letters[i - 1] == 'g' && front))) continue;
    if (c == 'y' && i + 1 == letters.size()) c = 'i';
    const bool vowel = open(c) || c == 'i' || c == 'u';
    const bool vowel_before = open(before) || before == 'i' || before == 'u';
    if (vowel && (!vowel_before || (open(c) && open(before)))) count += 1;
    before = c;
  }
  return std::max(count, 1.0);
}

using Syllables = double (*)(const std::string&);

void add(Counts& counts, const std::string& text, Syllables of = syllables_of) {
  std::string word;
  bool any = false;
  const auto end_word = [&] {
    if (word.empty()) return;
    counts.words += 1;
    counts.syllables += of(word);
    word.clear();
    any = true;
  };
  for (const char c : text) {
    if (std::isalnum(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80) {
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
  CHECK(c.words > 120);
  CHECK_MESSAGE(c.grade() <= 8.0, "grade ", c.grade());
}

TEST_CASE(
    "the sentences under the balance, as they are said, read at grade 8 or below, and in Spanish at 60 or above") {
  const auto en = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  const auto es = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    const auto account = account_of(*run);
    Counts english;
    Counts spanish;
    for (double day = 0; day <= run->last_day(); day += 5.0) {
      add(english, stage::balance_sentence(*run, account, day, en, look::Depth::plain));
      add(spanish, stage::balance_sentence(*run, account, day, es, look::Depth::plain), spanish_syllables_of);
    }
    CHECK_MESSAGE(english.grade() <= 8.0, path, ": grade ", english.grade());
    CHECK_MESSAGE(spanish.ease() >= 60.0, path, ": ease ", spanish.ease());
  }
  Counts hard;
  add(hard, "C3: supranormal fractional catabolism predominates over hepatic biosynthetic compensation.");
  CHECK(hard.grade() > 8.0);
}

TEST_CASE("the glossary reads at grade 8 or below in English and at 60 or above in Spanish") {
  Counts english;
  Counts spanish;
  const auto en = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  const auto es = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  for (const std::string& key : en.keys()) {
    const std::string& text = en.at(key);
    if (key.rfind("glossary.", 0) != 0 || text.find('|') == std::string::npos) continue;
    add(english, text.substr(text.find('|') + 1));
    add(spanish, es.at(key).substr(es.at(key).find('|') + 1), spanish_syllables_of);
  }
  REQUIRE(english.sentences > 30);
  CHECK_MESSAGE(english.grade() <= 8.0, "grade ", english.grade());
  CHECK_MESSAGE(spanish.ease() >= 60.0, "ease ", spanish.ease());
}

TEST_CASE("Spanish syllables are counted as they are spoken") {
  CHECK(spanish_syllables_of("sangre") == 2);
  CHECK(spanish_syllables_of("riñón") == 2);
  CHECK(spanish_syllables_of("hígado") == 3);
  CHECK(spanish_syllables_of("día") == 2);
  CHECK(spanish_syllables_of("que") == 1);
  CHECK(spanish_syllables_of("sigue") == 2);
  CHECK(spanish_syllables_of("cae") == 2);
  CHECK(spanish_syllables_of("muy") == 1);
  CHECK(spanish_syllables_of("inflamación") == 4);
  CHECK(spanish_syllables_of("c3") == 2);
}

TEST_CASE("every story's plain words in Spanish are plain: Fernandez Huerta 60 or above") {
  const auto words = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    Counts c;
    add(c, words.at("story." + story.name + ".message.plain"), spanish_syllables_of);
    for (std::size_t i = 1; i <= story.talk.size(); ++i) {
      add(c, words.at("story." + story.name + ".talk" + std::to_string(i) + ".plain"), spanish_syllables_of);
    }
    CHECK(c.words > 25);
    CHECK_MESSAGE(c.ease() >= 60.0, path, ": ease ", c.ease());
  }
  Counts hard;
  add(hard, "La hipocomplementemia persistente presupone hipercatabolismo o insuficiencia biosintética hepatocelular.",
      spanish_syllables_of);
  CHECK(hard.ease() < 30);
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
      CHECK_MESSAGE(look::named<stage::View>(stage::view_names, step.look).has_value(), path, " ", step.look);
      CHECK(step.ask.empty() == step.reveal.empty());
      asked += step.ask.empty() ? 0 : 1;
    }
    CHECK_MESSAGE(asked >= 1, path);
  }
}
