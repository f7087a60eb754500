// Both languages say everything: the same keys, the same places to fill, and every text of every story.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <set>

#include "look/words.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

look::WordBook book(const std::string& language) {
  return look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
}

std::set<std::string> screen_keys(const look::WordBook& words) {
  std::set<std::string> keys;
  for (const std::string& key : words.keys()) {
    if (key.rfind("story.", 0) != 0) keys.insert(key);
  }
  return keys;
}

// "{0}", "{1}" ... of a text.
std::set<char> places(const std::string& text) {
  std::set<char> out;
  for (std::size_t i = 0; i + 2 < text.size(); ++i) {
    if (text[i] == '{' && text[i + 2] == '}') out.insert(text[i + 1]);
  }
  return out;
}

}  // namespace

TEST_CASE("English and Spanish have the same keys, and each text the same places to fill") {
  const auto english = book("en");
  const auto spanish = book("es");
  for (const std::string& key : screen_keys(english)) CHECK_MESSAGE(spanish.has(key), "Spanish lacks ", key);
  for (const std::string& key : screen_keys(spanish)) CHECK_MESSAGE(english.has(key), "English lacks ", key);
  for (const std::string& key : screen_keys(english)) {
    CHECK_MESSAGE(places(english.at(key)) == places(spanish.at(key)), key);
  }
}

TEST_CASE("every text of a shipped story that is shown has its Spanish, and no Spanish text is left without a story") {
  const auto words = book("es");
  std::set<std::string> wanted;
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const std::string at = "story." + story.name + ".";
    const auto want = [&](const std::string& part, const std::string& text) {
      if (text.empty()) return;
      wanted.insert(at + part);
      CHECK_MESSAGE(words.has(at + part), "Spanish lacks ", at + part);
    };
    want("title", story.title);
    want("message.plain", story.message.plain);
    want("message.clinic", story.message.clinic);
    want("message.mechanism", story.message.mechanism);
    for (std::size_t i = 0; i < story.events.size(); ++i) want("event" + std::to_string(i + 1), story.events[i].label);
    for (std::size_t i = 0; i < story.talk.size(); ++i) {
      const std::string talk = "talk" + std::to_string(i + 1) + ".";
      want(talk + "plain", story.talk[i].say.plain);
      want(talk + "clinic", story.talk[i].say.clinic);
      want(talk + "ask", story.talk[i].ask);
      want(talk + "reveal", story.talk[i].reveal);
    }
  }
  REQUIRE(wanted.size() > 200);
  for (const std::string& key : words.keys()) {
    if (key.rfind("story.", 0) == 0) CHECK_MESSAGE(wanted.count(key) == 1, "no story has ", key);
  }
}

TEST_CASE("Spanish says usted throughout, never tu") {
  const auto familiar = [](const std::string& text) {
    std::string word;
    for (const char c : text + " ") {
      if (std::isalpha(static_cast<unsigned char>(c)) != 0 || static_cast<unsigned char>(c) >= 0x80) {
        word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
        continue;
      }
      for (const char* one :
           {"tu", "t\u00FA", "tus", "te", "ti", "contigo", "tuyo", "tuya", "vosotros", "puedes", "tienes"}) {
        if (word == one) return true;
      }
      word.clear();
    }
    return false;
  };
  const auto words = book("es");
  std::size_t texts = 0;
  for (const std::string& key : words.keys()) {
    for (const look::Depth depth : {look::Depth::plain, look::Depth::clinic, look::Depth::mechanism}) {
      CHECK_MESSAGE(!familiar(words.at(key, depth)), key);
      texts += 1;
    }
  }
  CHECK(texts > 1000);
  CHECK(familiar("Tus n\u00FAmeros."));
  CHECK_FALSE(familiar("Sus n\u00FAmeros, tumor, te\u00F1ido."));
}
