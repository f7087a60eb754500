// The characters, one by one.
#include "scenario/visible.hpp"

#include <algorithm>
#include <array>
#include <cstdint>
#include <cstdio>
#include <cstring>

namespace drawdown::scenario {

namespace {

constexpr const char* replacement = "\xEF\xBF\xBD";  // U+FFFD
constexpr const char* line_end = "\xE2\x86\xB5";     // U+21B5, which the screen's font has

bool follows(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// The character at the front: how many bytes, and its number; valid = false: one byte that is no UTF-8.
struct Character {
  std::size_t bytes = 1;
  std::uint32_t code = 0;
  bool valid = false;
};

std::size_t length_by(unsigned char first) {
  return first < 0x80                    ? 1
         : first >= 0xC2 && first < 0xE0 ? 2
         : first >= 0xE0 && first < 0xF0 ? 3
         : first >= 0xF0 && first < 0xF5 ? 4
                                         : 0;
}

Character first_of(std::string_view text) {
  const auto first = static_cast<unsigned char>(text.front());
  const std::size_t n = length_by(first);
  if (n == 1) return {1, first, true};
  if (n == 0 || n > text.size()) return {};
  std::uint32_t code = first & (0xFFU >> (n + 1));
  for (std::size_t i = 1; i < n; ++i) {
    if (!follows(text[i])) return {};
    code = (code << 6U) | (static_cast<unsigned char>(text[i]) & 0x3FU);
  }
  const bool overlong = (n == 3 && code < 0x800) || (n == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (overlong || surrogate || code > 0x10FFFF) return {};
  return {n, code, true};
}

// Never characters: the last two of every plane, and thirty-two more (Unicode, 23.7).
bool is_none(std::uint32_t code) {
  return (code & 0xFFFEU) == 0xFFFE || (code >= 0xFDD0 && code <= 0xFDEF);
}

struct Range {
  std::uint32_t low, high;
};
// Controls, and what Unicode calls ignorable when displayed: fillers, joiners, marks and overrides of direction,
// variation selectors, tags.
constexpr std::array<Range, 20> hidden{{{0x00, 0x1F},     {0x7F, 0x9F},       {0xAD, 0xAD},       {0x34F, 0x34F},
                                        {0x61C, 0x61C},   {0x115F, 0x1160},   {0x17B4, 0x17B5},   {0x180B, 0x180F},
                                        {0x200B, 0x200F}, {0x2028, 0x202E},   {0x2060, 0x206F},   {0x2800, 0x2800},
                                        {0x3164, 0x3164}, {0xFE00, 0xFE0F},   {0xFEFF, 0xFEFF},   {0xFFA0, 0xFFA0},
                                        {0xFFF0, 0xFFFB}, {0x1BCA0, 0x1BCA3}, {0x1D173, 0x1D17A}, {0xE0000, 0xE0FFF}}};

bool is_hidden(std::uint32_t code) {
  if (code >= 0x20 && code < 0x7F) return false;
  return std::any_of(hidden.begin(), hidden.end(), [&](const Range& r) { return code >= r.low && code <= r.high; });
}

// Bytes that continue no character, eight at a time: a text of megabytes may be counted in every frame.
std::size_t count_of(std::string_view text) {
  constexpr std::uint64_t ones = 0x0101010101010101U;
  std::size_t following = 0;
  std::size_t i = 0;
  for (; i + 8 <= text.size(); i += 8) {
    std::uint64_t eight = 0;
    std::memcpy(&eight, text.data() + i, 8);
    following += static_cast<std::size_t>((((eight >> 7U) & ~(eight >> 6U) & ones) * ones) >> 56U);
  }
  for (; i < text.size(); ++i) following += follows(text[i]) ? 1U : 0U;
  return text.size() - following;
}

bool is_kept(std::uint32_t code, Keep keep) {
  return keep == Keep::lines && (code == '\n' || code == '\t');
}

std::string as_number(std::uint32_t code) {
  if (code == '\t') return "\\t";
  char buffer[16];
  (void)std::snprintf(buffer, sizeof buffer, code < 0x80 ? "\\x%02x" : code < 0x10000 ? "\\u%04x" : "\\U%08x", code);
  return buffer;
}

}  // namespace

bool is_visible(std::string_view text, Keep keep) {
  for (std::size_t i = 0; i < text.size();) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (c >= 0x20 && c < 0x7F) {
      i += 1;
      continue;
    }
    const Character one = first_of(text.substr(i));
    if (!one.valid || is_none(one.code) || (is_hidden(one.code) && !is_kept(one.code, keep))) return false;
    i += one.bytes;
  }
  return true;
}

std::string visible(std::string_view text, Keep keep) {
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size();) {
    const Character one = first_of(text.substr(i));
    const std::size_t next = i + one.bytes;
    if (!one.valid || is_none(one.code)) {
      out += replacement;
    } else if (one.code == '\r' && next < text.size() && text[next] == '\n') {
      // The line end that follows says it.
    } else if (is_kept(one.code, keep) || !is_hidden(one.code)) {
      out += text.substr(i, one.bytes);
    } else if (one.code == '\n') {
      out += line_end;
    } else {
      out += as_number(one.code);
    }
    i = next;
  }
  return out;
}

std::size_t bytes_of(std::string_view text, std::size_t characters) {
  std::size_t i = 0;
  for (std::size_t n = 0; n < characters && i < text.size(); ++n) i += first_of(text.substr(i)).bytes;
  return i;
}

std::string shortened(std::string_view text, std::size_t most, Keep keep) {
  const std::size_t end = bytes_of(text, most);
  if (end == text.size()) return visible(text, keep);
  return visible(text.substr(0, end), keep) + "…(+" + std::to_string(count_of(text.substr(end))) + ")";
}

std::size_t unfinished(std::string_view text) {
  for (std::size_t back = 1; back <= std::min<std::size_t>(3, text.size()); ++back) {
    const char c = text[text.size() - back];
    if (follows(c)) continue;
    return length_by(static_cast<unsigned char>(c)) > back ? back : 0;
  }
  return 0;
}

}  // namespace drawdown::scenario
