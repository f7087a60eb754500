// A file of words: whatever the bytes, it is read or refused with file and place; what is read can be looked up, filled
// and searched for words of the trade.
#include <cstdlib>
#include <stdexcept>

#include "fuzz/fuzz.hpp"
#include "look/terms.hpp"
#include "look/words.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  try {
    const look::WordBook words = look::WordBook::read(text, "words");
    const look::Terms terms(words);
    for (const std::string& key : words.keys()) {
      if (!words.has(key)) std::abort();
      const std::string filled = words.fill(key, {"one", "{1}", "three"});
      for (const look::Terms::Found& found : terms.in(filled)) {
        if (found.length == 0 || found.from + found.length > filled.size()) std::abort();
        (void)look::meaning_of(words, found.key);
      }
    }
    if (words.at("no.such.key") != "<no.such.key>" && !words.has("no.such.key")) std::abort();
  } catch (const std::runtime_error& error) {
    if (std::string(error.what()).rfind("words:", 0) != 0) std::abort();
  }
  return 0;
}
