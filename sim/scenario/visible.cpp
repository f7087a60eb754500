// Decoding and replacing.
#include "scenario/visible.hpp"

#include <algorithm>
#include <cstdint>

namespace drawdown::scenario {

namespace {

constexpr std::string_view no_character = "\xEF\xBF\xBD";  // U+FFFD

struct Decoded {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool valid = false;
};

// The character that begins at `at`: as UTF-8 allows it (RFC 3629), no overlong forms, no surrogates.
Decoded decode(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) -> std::uint32_t { return static_cast<unsigned char>(text[i]); };
  const std::uint32_t first = byte(at);
  if (first < 0x80) return {first, 1, true};
  const std::size_t bytes = first >= 0xF0 ? 4 : first >= 0xE0 ? 3 : 2;
  if (first < 0xC2 || first > 0xF4 || at + bytes > text.size()) return {};
  std::uint32_t code = first & (0x7FU >> bytes);
  for (std::size_t i = 1; i < bytes; ++i) {
    if ((byte(at + i) & 0xC0U) != 0x80U) return {};
    code = (code << 6U) | (byte(at + i) & 0x3FU);
  }
  const bool overlong = (bytes == 3 && code < 0x800) || (bytes == 4 && code < 0x10000);
  if (overlong || code > 0x10FFFF || (code >= 0xD800 && code < 0xE000)) return {};
  return {code, bytes, true};
}

bool is_hidden(std::uint32_t c) {
  return (c >= 0x200B && c <= 0x200F) || (c >= 0x2028 && c <= 0x202E) || (c >= 0x2060 && c <= 0x206F) || c == 0x061C ||
         c == 0xFEFF || c == 0x00AD || (c >= 0xE0000 && c <= 0xE007F);
}

void append_hex(std::string& out, const char* begin, std::uint32_t code, int digits) {
  static constexpr const char* hex = "0123456789abcdef";
  out += begin;
  for (int i = digits - 1; i >= 0; --i) out += hex[(code >> (4U * static_cast<unsigned>(i))) & 0xFU];
}

}  // namespace

bool is_visible(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; }) || visible(text) == text;
}

std::string visible(std::string_view text, bool keep_lines) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t at = 0; at < text.size();) {
    const Decoded d = decode(text, at);
    const std::uint32_t c = d.code;
    if (!d.valid || (c & 0xFFFEU) == 0xFFFEU || (c >= 0xFDD0 && c <= 0xFDEF)) {
      out += no_character;
    } else if ((c == '\n' || c == '\t') && keep_lines) {
      out += static_cast<char>(c);
    } else if (c < 0x20 || (c >= 0x7F && c < 0xA0)) {
      append_hex(out, "\\x", c, 2);
    } else if (is_hidden(c)) {
      append_hex(out, "\\u", c, c > 0xFFFF ? 5 : 4);
    } else {
      out.append(text.substr(at, d.bytes));
    }
    at += d.bytes;
  }
  return out;
}

}  // namespace drawdown::scenario
