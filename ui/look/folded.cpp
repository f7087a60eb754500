// Folding.
#include "look/folded.hpp"

namespace drawdown::look {

std::string folded(std::string_view text) {
  // For U+00C0 to U+00FF, which UTF-8 writes as C3 80 to C3 BF; a dot: stays.
  constexpr std::string_view plain = "aaaaaa.ceeeeiiii.nooooo.ouuuuy..aaaaaa.ceeeeiiii.nooooo.ouuuuy.y";
  static_assert(plain.size() == 64);
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c >= 'A' && c <= 'Z') {
      out += static_cast<char>(c - 'A' + 'a');
      continue;
    }
    if (static_cast<unsigned char>(c) == 0xC3 && i + 1 < text.size()) {
      const auto next = static_cast<unsigned char>(text[i + 1]);
      const char letter = next >= 0x80 && next <= 0xBF ? plain[next - 0x80U] : '.';
      if (letter != '.') {
        out += letter;
        ++i;
        continue;
      }
    }
    out += c;
  }
  return out;
}

}  // namespace drawdown::look
