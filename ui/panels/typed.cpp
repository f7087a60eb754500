// Editing a line.
#include "panels/typed.hpp"

#include <algorithm>

namespace drawdown::panels {

namespace {

bool continues(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

void put(EditedLine& line, const std::string& text) {
  line.text.insert(line.caret, text);
  line.caret += text.size();
}

}  // namespace

std::size_t before(std::string_view text, std::size_t at) {
  if (at == 0) return 0;
  --at;
  while (at > 0 && continues(text[at])) --at;
  return at;
}

std::size_t after(std::string_view text, std::size_t at) {
  if (at >= text.size()) return text.size();
  ++at;
  while (at < text.size() && continues(text[at])) ++at;
  return at;
}

std::string utf8(char32_t c) {
  const auto byte = [](char32_t bits) { return static_cast<char>(static_cast<unsigned char>(bits)); };
  if (c > 0x10FFFF || (c >= 0xD800 && c < 0xE000)) c = 0xFFFD;
  if (c < 0x80) return {byte(c)};
  if (c < 0x800) return {byte(0xC0U | (c >> 6U)), byte(0x80U | (c & 0x3FU))};
  if (c < 0x10000) return {byte(0xE0U | (c >> 12U)), byte(0x80U | ((c >> 6U) & 0x3FU)), byte(0x80U | (c & 0x3FU))};
  return {byte(0xF0U | (c >> 18U)), byte(0x80U | ((c >> 12U) & 0x3FU)), byte(0x80U | ((c >> 6U) & 0x3FU)),
          byte(0x80U | (c & 0x3FU))};
}

std::vector<Ended> edit_line(EditedLine& line, const std::vector<Typed>& typed) {
  std::vector<Ended> ended;
  line.caret = std::min(line.caret, line.text.size());
  const auto end = [&](bool pasted) {
    ended.push_back({pasted, line.text});
    line = {};
  };
  for (const Typed& t : typed) {
    switch (t.kind) {
      case Typed::Kind::text:
        put(line, t.text);
        break;
      case Typed::Kind::paste:
        put(line, t.text);
        if (line.text.find_first_of("\r\n") != std::string::npos) end(true);
        break;
      case Typed::Kind::enter:
        end(false);
        break;
      case Typed::Kind::backspace: {
        const std::size_t from = before(line.text, line.caret);
        line.text.erase(from, line.caret - from);
        line.caret = from;
        break;
      }
      case Typed::Kind::erase:
        line.text.erase(line.caret, after(line.text, line.caret) - line.caret);
        break;
      case Typed::Kind::left:
        line.caret = before(line.text, line.caret);
        break;
      case Typed::Kind::right:
        line.caret = after(line.text, line.caret);
        break;
      case Typed::Kind::home:
        line.caret = 0;
        break;
      case Typed::Kind::end:
        line.caret = line.text.size();
        break;
    }
  }
  return ended;
}

}  // namespace drawdown::panels
