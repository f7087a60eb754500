// What was typed since the last frame, in the order it was typed: characters in UTF-8, pasted text, and the keys that
// change a line of text. One queue, because letters and keys in lists of their own lose their order within a frame.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace drawdown::panels {

struct Typed {
  enum class Kind { text, paste, enter, backspace, erase, left, right, home, end };
  Kind kind = Kind::text;
  std::string text;  // UTF-8; of text and paste
};

// One line of text being edited, with its caret in bytes, always between two characters.
struct EditedLine {
  std::string text;
  std::size_t caret = 0;
};

// What a line that was being edited became: lines that were ended by Enter, or text of several lines that was pasted
// into it, in order; what is left is in the line.
struct Ended {
  bool pasted = false;
  std::string text;
};
std::vector<Ended> edit_line(EditedLine& line, const std::vector<Typed>& typed);

// Bytes from the beginning of the character before, and to the end of the one at, a place in UTF-8.
[[nodiscard]] std::size_t before(std::string_view text, std::size_t at);
[[nodiscard]] std::size_t after(std::string_view text, std::size_t at);
// A character in UTF-8; U+FFFD for what is none.
[[nodiscard]] std::string utf8(char32_t character);

}  // namespace drawdown::panels
