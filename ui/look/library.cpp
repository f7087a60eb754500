// Looking for languages.
#include "look/library.hpp"

#include <algorithm>
#include <filesystem>
#include <stdexcept>

namespace drawdown::look {

std::vector<std::string> languages_in(const std::string& folder) {
  std::vector<std::string> codes;
  std::error_code code;
  for (std::filesystem::directory_iterator it(folder, code), end; !code && it != end; it.increment(code)) {
    const std::string stem = it->path().stem().string();
    const auto small = [](char c) { return c >= 'a' && c <= 'z'; };
    const bool named = (stem.size() == 2 || stem.size() == 3) && std::all_of(stem.begin(), stem.end(), small);
    if (named && it->path().extension() == ".toml") codes.push_back(stem);
  }
  std::sort(codes.begin(), codes.end());
  return codes;
}

Library::Library(const std::string& folder) {
  for (const std::string& code : languages_in(folder)) {
    words_.push_back(WordBook::load((std::filesystem::path(folder) / (code + ".toml")).string()));
    names_.push_back({code, words_.back().at("language.name")});
  }
  if (words_.empty()) throw std::runtime_error(folder + ": no words in any language (en.toml)");
  for (const WordBook& words : words_) terms_.emplace_back(words);
}

std::size_t Library::index(const std::string& code) const {
  for (std::size_t i = 0; i < names_.size(); ++i) {
    if (names_[i].code == code) return i;
  }
  return 0;
}

}  // namespace drawdown::look
