// Every word on the screen, from assets/<language>.toml, by key. A key may have a text for each depth:
// [key] plain = ... clinic = ... mechanism = ...
#pragma once

#include <initializer_list>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "look/names.hpp"

namespace drawdown::look {

enum class Depth { plain, clinic, mechanism };
inline constexpr Names<3> depth_names{"plain", "clinic", "mechanism"};

class WordBook {
 public:
  // Throws std::runtime_error with file and place if the file is missing or not well formed.
  static WordBook load(const std::string& path);
  // The same from a text; `name` is used in messages.
  static WordBook read(std::string_view text, const std::string& name);
  static constexpr std::size_t most_bytes = std::size_t{1} << 20U;

  // The text, or the key itself in angle brackets if there is none (the tests look for those).
  [[nodiscard]] const std::string& at(const std::string& key) const;
  [[nodiscard]] const std::string& at(const std::string& key, Depth depth) const;
  [[nodiscard]] bool has(const std::string& key) const;
  // A text of the story of that file name in this language, if there is one, else as the story's file says it.
  [[nodiscard]] const std::string& told(const std::string& story, const std::string& part,
                                        const std::string& as_written) const;
  // at(key) with {0}, {1} ... replaced.
  [[nodiscard]] std::string fill(const std::string& key, std::initializer_list<std::string> parts) const;
  [[nodiscard]] std::string fill(const std::string& key, Depth depth, std::initializer_list<std::string> parts) const;
  [[nodiscard]] std::vector<std::string> keys() const;

 private:
  std::map<std::string, std::string> texts_;
  mutable std::map<std::string, std::string> missing_;
};

// {0}, {1} ... replaced by the parts.
[[nodiscard]] std::string filled(std::string_view pattern, const std::vector<std::string>& parts);

// 3 significant steps as a laboratory prints them: "0.73", "1.20", "134".
[[nodiscard]] std::string number(double value, int decimals);

}  // namespace drawdown::look
