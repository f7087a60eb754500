// The words of the trade in a text: where they stand, and what they mean. Their forms ("complex", "complexes") are
// listed under [glossary.forms] of each language, their meaning beside it.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "look/words.hpp"

namespace drawdown::look {

class Terms {
 public:
  explicit Terms(const WordBook& words);

  struct Found {
    std::size_t from = 0;  // bytes
    std::size_t length = 0;
    std::string key;  // of the glossary
  };
  // Whole words, capital or small, the longest form where several begin at one place; in order.
  [[nodiscard]] std::vector<Found> in(std::string_view text) const;
  // The terms of a text, each once, in order.
  [[nodiscard]] std::vector<std::string> keys_in(std::string_view text) const;

 private:
  struct Form {
    std::string text;  // small letters
    std::string key;
  };
  // By their first byte, so that a long text is walked once; of each the longest first.
  std::array<std::vector<Form>, 256> forms_;
};

struct Meaning {
  std::string name;
  std::string text;
};
// What the glossary says of a term.
[[nodiscard]] Meaning meaning_of(const WordBook& words, const std::string& key);

}  // namespace drawdown::look
