// Measuring and parsing.
#include "scenario/toml_text.hpp"

#include <algorithm>

namespace drawdown::scenario {

namespace {

std::string placed(const std::string& name, std::size_t line, std::size_t column, const std::string& message) {
  std::string text = name;
  if (line > 0) text += ":" + std::to_string(line) + ":" + std::to_string(column);
  return text + ": " + message;
}

// Walks the text as TOML's own grammar of comments and strings has it, and counts.
class Measure {
 public:
  Measure(std::string_view text, const std::string& name, const TomlBounds& bounds)
      : text_(text), name_(name), bounds_(bounds) {}

  void run() {
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '#') {
        while (at_ < text_.size() && text_[at_] != '\n') ++at_;
        continue;
      }
      if (c == '"' || c == '\'') {
        skip_string(c);
        continue;
      }
      count(c);
      ++at_;
    }
  }

 private:
  void count(char c) {
    switch (c) {
      case '\n':
        line_ += 1;
        line_start_ = at_ + 1;
        dots_ = 0;
        break;
      case '[':
      case '{':
        open_ += 1;
        dots_ = 0;
        part();
        break;
      case ']':
      case '}':
        open_ -= open_ > 0 ? 1U : 0U;
        break;
      case ',':
      case '=':
        dots_ = 0;
        part();
        break;
      case '.':
        dots_ += 1;
        break;
      default:
        break;
    }
    if (open_ + dots_ > bounds_.depth) {
      fail("nested deeper than " + std::to_string(bounds_.depth) + "; that is the most allowed");
    }
  }
  void part() {
    if (++parts_ > bounds_.parts) {
      fail("more than " + std::to_string(bounds_.parts) + " keys and list entries; that is the most allowed");
    }
  }
  // Past the end of a string that begins here. An unclosed one ends with its line, or with the text.
  void skip_string(char quote) {
    const bool is_long = text_.substr(at_, 3) == std::string(3, quote);
    at_ += is_long ? 3U : 1U;
    while (at_ < text_.size()) {
      const char c = text_[at_];
      if (c == '\n') {
        if (!is_long) return;
        line_ += 1;
        line_start_ = at_ + 1;
      }
      if (c == '\\' && quote == '"') {
        at_ += at_ + 1 < text_.size() && text_[at_ + 1] != '\n' ? 2U : 1U;
        continue;
      }
      if (c == quote && (!is_long || text_.substr(at_, 3) == std::string(3, quote))) {
        at_ += is_long ? 3U : 1U;
        return;
      }
      ++at_;
    }
  }
  [[noreturn]] void fail(const std::string& message) const {
    throw TomlError(name_, line_, at_ - line_start_ + 1, message);
  }

  std::string_view text_;
  const std::string& name_;
  const TomlBounds& bounds_;
  std::size_t at_ = 0;
  std::size_t line_ = 1;
  std::size_t line_start_ = 0;
  std::size_t open_ = 0;
  std::size_t dots_ = 0;
  std::size_t parts_ = 0;
};

}  // namespace

TomlError::TomlError(const std::string& name, std::size_t line, std::size_t column, const std::string& message)
    : std::runtime_error(placed(name, line, column, message)), line_(line), column_(column), message_(message) {}

toml::table parse_toml(std::string_view text, const std::string& name, const TomlBounds& bounds) {
  if (text.size() > bounds.bytes) {
    throw TomlError(name, 0, 0, "larger than " + std::to_string(bounds.bytes / 1024) + " KiB");
  }
  Measure(text, name, bounds).run();
  try {
    return toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    throw TomlError(name, error.source().begin.line, error.source().begin.column, std::string(error.description()));
  }
}

}  // namespace drawdown::scenario
