// The languages of the program: a file of words each, assets/<code>.toml, where the code is two or three small letters
// (ISO 639). A language is added by adding its file.
#pragma once

#include <string>
#include <vector>

#include "look/terms.hpp"
#include "look/words.hpp"

namespace drawdown::look {

// A language as it is chosen: its code, and what it calls itself.
struct LanguageName {
  std::string code;
  std::string name;
};

class Library {
 public:
  // All languages of a folder. Throws std::runtime_error if one cannot be read or none is there.
  explicit Library(const std::string& folder);

  // In order of code.
  [[nodiscard]] const std::vector<LanguageName>& names() const { return names_; }
  // Of the first language if there is none of that code.
  [[nodiscard]] const WordBook& words(const std::string& code) const { return words_[index(code)]; }
  [[nodiscard]] const Terms& terms(const std::string& code) const { return terms_[index(code)]; }

 private:
  [[nodiscard]] std::size_t index(const std::string& code) const;
  std::vector<LanguageName> names_;
  std::vector<WordBook> words_;
  std::vector<Terms> terms_;
};

// Codes of the languages of a folder, in order; empty if it cannot be listed.
[[nodiscard]] std::vector<std::string> languages_in(const std::string& folder);

}  // namespace drawdown::look
