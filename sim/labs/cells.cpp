// Splitting and reading cells.
#include "labs/cells.hpp"

#include <csv.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>
#include <new>

#include "labs/dates.hpp"

namespace drawdown::labs {

namespace {

// A quoted cell may hold so many line ends; more, and the quote counts as never closed.
constexpr std::size_t most_lines_of_record = 20;
constexpr std::size_t lines_looked_at = 10;

// The end of the line that begins at `from` (its line end not included), and where the next one begins.
struct Span {
  std::size_t end;
  std::size_t next;
};
Span line_at(std::string_view text, std::size_t from) {
  const std::size_t end = text.find_first_of("\r\n", from);
  if (end == std::string_view::npos) return {text.size(), text.size()};
  const bool two = text[end] == '\r' && end + 1 < text.size() && text[end + 1] == '\n';
  return {end, end + (two ? 2 : 1)};
}

bool odd_quotes(std::string_view text) {
  return std::count(text.begin(), text.end(), '"') % 2 == 1;
}

bool blank(std::string_view text) {
  return trimmed(text).empty();
}

// A line of two cells or more, one of them a date (of the first hundred).
bool holds_date(std::string_view line, char delimiter) {
  std::size_t cells = 0;
  bool date = false;
  for (std::size_t from = 0; from <= line.size() && cells < 100; ++cells) {
    const std::size_t end = std::min(line.find(delimiter, from), line.size());
    date = date || !take_apart(trimmed(line.substr(from, end - from))).wrong;
    from = end + 1;
  }
  return date && cells > 1;
}

}  // namespace

struct Splitter::Parser {
  csv_parser csv{};
  std::vector<std::string> cells;
};

Splitter::Splitter(char delimiter) : parser_(new Parser), blanks_(delimiter == ' ') {
  if (csv_init(&parser_->csv, 0) != 0) {
    delete parser_;
    throw std::bad_alloc();
  }
  csv_set_blk_size(&parser_->csv, std::size_t{64} * 1024);  // a long cell grows by so much at a time
  csv_set_delim(&parser_->csv, static_cast<unsigned char>(delimiter));
  // A tab or a blank that separates must not be taken for the air around a cell.
  if (delimiter == '\t' || blanks_) {
    csv_set_space_func(&parser_->csv, [](unsigned char) { return 0; });
  }
}

Splitter::~Splitter() {
  csv_free(&parser_->csv);
  delete parser_;
}

std::vector<std::string> Splitter::cells(std::string_view record) {
  parser_->cells.clear();
  const auto cell = [](void* data, std::size_t length, void* to) {
    auto& cells = static_cast<Parser*>(to)->cells;
    if (cells.size() <= most_cells) cells.emplace_back(static_cast<const char*>(data), length);
  };
  (void)csv_parse(&parser_->csv, record.data(), record.size(), cell, nullptr, parser_);
  (void)csv_fini(&parser_->csv, cell, nullptr, parser_);
  std::vector<std::string> out;
  for (const std::string& text : parser_->cells) {
    const std::string_view t = trimmed(text);
    if (blanks_ && t.empty()) continue;
    out.emplace_back(t);
  }
  return out;
}

std::vector<Line> lines_of(std::string_view text, char delimiter, std::size_t most, std::size_t* looked_at) {
  Splitter splitter(delimiter);
  std::vector<Line> lines;
  std::size_t number = 1;
  const auto odd = [&](std::size_t begin, std::size_t end) {
    if (looked_at != nullptr) *looked_at += end - begin;
    return odd_quotes(text.substr(begin, end - begin));
  };
  for (std::size_t from = 0; from < text.size() && lines.size() < most;) {
    const std::size_t begin = from;
    Span span = line_at(text, from);
    std::size_t used = 1;
    if (odd(begin, span.end)) {
      Span longer = span;
      for (std::size_t k = 1; k < most_lines_of_record && longer.next < text.size(); ++k) {
        const std::size_t next = longer.next;
        longer = line_at(text, next);
        // A line of results is never part of a note: the quote was not closed.
        if (holds_date(text.substr(next, longer.end - next), delimiter)) break;
        // Only a line with an odd number of quotes closes the one that is open.
        if (!odd(next, longer.end)) continue;
        span = longer;
        used = k + 1;
        break;
      }
    }
    Line line{number, std::string(text.substr(begin, span.end - begin)), {}, false};
    line.open_quote = odd_quotes(line.text);
    if (!blank(line.text) && !line.open_quote) line.cells = splitter.cells(line.text);
    lines.push_back(std::move(line));
    number += used;
    from = span.next;
  }
  return lines;
}

char delimiter_of(std::string_view text) {
  // A semicolon or a tab is hardly ever anything else; a comma may be a decimal one.
  std::array<std::size_t, 3> lines_with{};
  constexpr std::array<char, 3> candidates{';', '\t', ','};
  std::size_t looked = 0;
  std::size_t decimal = 0;  // lines whose only commas stand between digits, with blanks elsewhere
  for (std::size_t from = 0; from < text.size() && looked < lines_looked_at;) {
    const Span span = line_at(text, from);
    const std::string_view line = text.substr(from, span.end - from);
    from = span.next;
    if (blank(line)) continue;
    looked += 1;
    for (std::size_t i = 0; i < candidates.size(); ++i) {
      if (line.find(candidates[i]) != std::string_view::npos) lines_with[i] += 1;
    }
    bool commas_are_decimal = trimmed(line).find(' ') != std::string_view::npos;
    for (std::size_t c = line.find(','); c != std::string_view::npos; c = line.find(',', c + 1)) {
      const bool between = c > 0 && c + 1 < line.size() && std::isdigit(static_cast<unsigned char>(line[c - 1])) != 0 &&
                           std::isdigit(static_cast<unsigned char>(line[c + 1])) != 0;
      commas_are_decimal = commas_are_decimal && between;
    }
    if (commas_are_decimal) decimal += 1;
  }
  if (looked == 0) return ',';
  if (2 * lines_with[0] >= looked) return ';';
  if (2 * lines_with[1] >= looked) return '\t';
  if (2 * lines_with[2] >= looked && decimal < looked) return ',';
  return ' ';
}

namespace {

bool same_letters(std::string_view a, std::string_view b) {
  return a.size() == b.size() && std::equal(a.begin(), a.end(), b.begin(), [](char x, char y) {
           return std::tolower(static_cast<unsigned char>(x)) == std::tolower(static_cast<unsigned char>(y));
         });
}

// Takes "less than" or "at most", however it is said, off the front.
void take_less_than(std::string_view& rest, Value& value) {
  for (const std::string_view said : {"<=", "=<", "<", "\u2264", "\u2266", "\uFF1C", "below ", "under ", "less than ",
                                      "menor que ", "menor de ", "menos de ", "inferior a ", "por debajo de "}) {
    if (!same_letters(rest.substr(0, said.size()), said)) continue;
    rest = trimmed(rest.substr(said.size()));
    value.below = true;
    value.or_equal = said == "<=" || said == "=<" || said == "\u2264" || said == "\u2266";
    return;
  }
}

// What a laboratory prints beside a figure to say that it is low or high: "L", "(H)", "*", an arrow. Words only where
// blanks part them from the unit. `mark` is set by those that say which.
std::string_view without_marks(std::string_view text, int& mark) {
  const auto note = [&](std::string_view sign) {
    const std::string plain = plain_name(sign);
    if (sign == "\u2193" || sign == "\u25BC" || (!plain.empty() && (plain[0] == 'l' || plain[0] == 'b'))) mark = -1;
    if (sign == "\u2191" || sign == "\u25B2" || (!plain.empty() && (plain[0] == 'h' || plain[0] == 'a'))) mark = 1;
  };
  constexpr std::array<std::string_view, 6> signs{"*", "!", "\u2193", "\u2191", "\u25BC", "\u25B2"};
  constexpr std::array<std::string_view, 14> marks{"l",    "h",   "ll",  "hh",   "low",  "high", "bajo",
                                                   "alto", "(l)", "(h)", "(ll)", "(hh)", "[l]",  "[h]"};
  for (bool again = true; again;) {
    again = false;
    text = trimmed(text);
    for (const std::string_view sign : signs) {
      if (text.size() >= sign.size() && text.substr(0, sign.size()) == sign) {
        text = trimmed(text.substr(sign.size()));
        note(sign);
        again = true;
      } else if (text.size() > sign.size() && text.substr(text.size() - sign.size()) == sign) {
        text = trimmed(text.substr(0, text.size() - sign.size()));
        note(sign);
        again = true;
      }
    }
    const std::size_t first = std::min(text.find(' '), text.size());
    const std::size_t blank = text.rfind(' ');
    const std::size_t last = blank == std::string_view::npos ? 0 : blank + 1;
    for (const std::string_view mark_word : marks) {
      if (same_letters(text.substr(last), mark_word)) {
        text = trimmed(text.substr(0, last));
        note(mark_word);
        again = true;
        break;
      }
      if (same_letters(text.substr(0, first), mark_word)) {
        text = trimmed(text.substr(first));
        note(mark_word);
        again = true;
        break;
      }
    }
  }
  return text;
}

}  // namespace

NumberCell read_number(std::string_view cell) {
  NumberCell out;
  std::string_view rest = trimmed(cell);
  if (says_nothing(rest)) return out;
  Value value;
  take_less_than(rest, value);
  std::string digits;
  bool point = false;
  std::size_t i = 0;
  if (!rest.empty() && (rest.front() == '-' || rest.front() == '+')) digits += rest[i++];
  for (; i < rest.size(); ++i) {
    const char c = rest[i];
    if (std::isdigit(static_cast<unsigned char>(c)) != 0) {
      digits += c;
    } else if ((c == '.' || c == ',') && !point) {
      digits += '.';
      point = true;
    } else {
      break;
    }
  }
  // "05" is what a decimal comma leaves behind where it splits a value.
  const std::size_t sign = digits.find_first_not_of("+-");
  const bool split =
      sign != std::string::npos && digits.size() > sign + 1 && digits[sign] == '0' && digits[sign + 1] != '.';
  out.unit = std::string(without_marks(rest.substr(i), value.mark));
  const bool digits_in_unit =
      std::any_of(out.unit.begin(), out.unit.end(), [](char c) { return c >= '0' && c <= '9'; });
  const char* begin = digits.c_str() + (digits.rfind('+', 0) == 0 ? 1 : 0);
  const char* end = digits.c_str() + digits.size();
  const auto read = std::from_chars(begin, end, value.value);
  const bool unit_like = out.unit.empty() || std::isalpha(static_cast<unsigned char>(out.unit.front())) != 0 ||
                         out.unit.front() == '%' || static_cast<unsigned char>(out.unit.front()) >= 0x80;
  if (read.ec != std::errc{} || read.ptr != end || split || digits_in_unit || !unit_like || out.unit.size() > 20) {
    out.wrong = true;
    return out;
  }
  out.value = value;
  return out;
}

std::string_view trimmed(std::string_view text) {
  const auto air = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
  while (!text.empty() && air(text.front())) text.remove_prefix(1);
  while (!text.empty() && air(text.back())) text.remove_suffix(1);
  return text;
}

std::string plain_name(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const auto c = static_cast<unsigned char>(text[i]);
    if (std::isalnum(c) != 0) {
      out += static_cast<char>(std::tolower(c));
    } else if (c == 0xC3 && i + 1 < text.size()) {  // Latin letters with an accent, as UTF-8
      const auto d = static_cast<unsigned char>(text[++i]) & 0xDFU;
      constexpr std::string_view letters = "aaaaaaaceeeeiiiidnooooo";
      if (d >= 0x80 && d - 0x80 < letters.size()) {
        out += letters[d - 0x80];
      } else if (d >= 0x99 && d <= 0x9C) {
        out += 'u';
      }
    }
  }
  return out;
}

}  // namespace drawdown::labs
