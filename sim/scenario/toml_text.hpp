// The one door for TOML: what comes from outside is measured before it is parsed, because a parser that follows a text
// of ten thousand nested keys ends in a crash. For stories, words, figures and the remembered session.
#pragma once

#include <toml++/toml.h>

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>

namespace drawdown::scenario {

struct TomlBounds {
  std::size_t bytes = std::size_t{256} * 1024;
  std::size_t depth = 16;     // brackets, braces and the dots of a key, together
  std::size_t parts = 20000;  // keys, list entries and tables
};

// what() is "name:line:column: message".
class TomlError : public std::runtime_error {
 public:
  TomlError(const std::string& name, std::size_t line, std::size_t column, const std::string& message);
  [[nodiscard]] std::size_t line() const { return line_; }      // from 1; 0 = of the text as a whole
  [[nodiscard]] std::size_t column() const { return column_; }  // from 1
  [[nodiscard]] const std::string& message() const { return message_; }

 private:
  std::size_t line_;
  std::size_t column_;
  std::string message_;
};

// Throws TomlError if the text is outside the bounds or is not TOML.
[[nodiscard]] toml::table parse_toml(std::string_view text, const std::string& name, const TomlBounds& bounds = {});

}  // namespace drawdown::scenario
