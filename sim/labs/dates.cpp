// Reading dates. The calendar is the C library's.
#include "labs/dates.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdio>
#include <ctime>
#include <vector>

#include "labs/cells.hpp"

namespace drawdown::labs {

namespace {

constexpr int first_year = 1950;
constexpr int last_year = 2100;
constexpr std::size_t longest_date = 100;   // characters, with a time of day
constexpr std::size_t most_date_cells = 5;  // 15 de enero de 2024
constexpr std::time_t day_seconds = 86400;

// Three letters are enough in both languages (ene, abr, ago and dic differ from English).
constexpr std::array<std::array<std::string_view, 2>, 12> months{{{"jan", "ene"},
                                                                  {"feb", "feb"},
                                                                  {"mar", "mar"},
                                                                  {"apr", "abr"},
                                                                  {"may", "may"},
                                                                  {"jun", "jun"},
                                                                  {"jul", "jul"},
                                                                  {"aug", "ago"},
                                                                  {"sep", "set"},
                                                                  {"oct", "oct"},
                                                                  {"nov", "nov"},
                                                                  {"dec", "dic"}}};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_letter(char c) {
  return std::isalpha(static_cast<unsigned char>(c)) != 0;
}

int month_named(std::string_view word) {
  std::string low;
  for (const char c : word.substr(0, 3)) low += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  for (std::size_t m = 0; m < months.size(); ++m) {
    for (const std::string_view name : months[m]) {
      if (low == name) return static_cast<int>(m) + 1;
    }
  }
  return 0;
}

struct Piece {
  std::string_view text;
  bool number = false;
  char after = '\0';  // the first sign between it and the next
};

bool same_word(std::string_view word, std::string_view small) {
  return word.size() == small.size() && std::equal(word.begin(), word.end(), small.begin(), [](char a, char b) {
           return std::tolower(static_cast<unsigned char>(a)) == b;
         });
}
// "15th", "15 de enero de 2024", "the 15th of January": words that say nothing of the day.
bool idle_word(std::string_view word, bool behind_number) {
  for (const std::string_view idle : {"de", "del", "of", "the", "el"}) {
    if (same_word(word, idle)) return true;
  }
  if (!behind_number) return false;
  for (const std::string_view ordinal : {"st", "nd", "rd", "th"}) {
    if (same_word(word, ordinal)) return true;
  }
  return false;
}

// Numbers and words, and what stands between them; idle words left out.
std::vector<Piece> pieces_of(std::string_view cell) {
  std::vector<Piece> pieces;
  std::size_t i = 0;
  while (i < cell.size()) {
    const bool number = is_digit(cell[i]);
    if (!number && !is_letter(cell[i])) {
      if (i == 0) return {};
      if (!pieces.empty() && pieces.back().after == '\0') pieces.back().after = cell[i];
      i += 1;
      continue;
    }
    std::size_t end = i;
    while (end < cell.size() && (number ? is_digit(cell[end]) : is_letter(cell[end]))) end += 1;
    const bool touches = i > 0 && is_digit(cell[i - 1]);
    if (!number && pieces.size() < 3 && idle_word(cell.substr(i, end - i), touches)) {
      i = end;
      continue;
    }
    pieces.push_back({cell.substr(i, end - i), number, '\0'});
    i = end;
  }
  return pieces;
}

int value_of(std::string_view digits) {
  int value = 0;
  for (const char c : digits.substr(0, 6)) value = 10 * value + (c - '0');
  return value;
}

// What the pieces behind a date say: a minute of the day, nothing, or no time of day at all. Seconds, their parts and a
// shift from another zone stand behind the minutes and are left aside: the day and the time are those written.
struct Time {
  bool wrong = false;
  std::optional<int> minute;
};
Time time_of(const std::vector<Piece>& p) {
  std::vector<int> numbers;
  int noon = -1;
  for (std::size_t i = 3; i < p.size(); ++i) {
    if (p[i].number) {
      numbers.push_back(value_of(p[i].text));
      continue;
    }
    const char first = static_cast<char>(std::toupper(static_cast<unsigned char>(p[i].text[0])));
    const bool half = p[i].text.size() == 2 && std::toupper(static_cast<unsigned char>(p[i].text[1])) == 'M' &&
                      (first == 'A' || first == 'P');
    const bool dotted = p[i].text.size() == 1 && (first == 'A' || first == 'P' || first == 'M');
    if (half || (dotted && first != 'M')) noon = first == 'P' ? 12 : 0;
    const bool sign = p[i].text.size() == 1 && (first == 'T' || first == 'Z' || first == 'H');
    const bool zone = !numbers.empty() && (same_word(p[i].text, "utc") || same_word(p[i].text, "gmt"));
    if (!half && !sign && !dotted && !zone) return {true, {}};
  }
  if (numbers.empty()) return {};
  const int minutes = numbers.size() > 1 ? numbers[1] : 0;
  if (numbers[0] > 23 || minutes > 59) return {true, {}};
  const int hour = noon < 0 ? numbers[0] : numbers[0] % 12 + noon;
  return {false, 60 * hour + minutes};
}

}  // namespace

std::optional<int> days_of(int year, int month, int day) {
  std::tm wanted{};
  wanted.tm_year = year - 1900;
  wanted.tm_mon = month - 1;
  wanted.tm_mday = day;
  std::tm made = wanted;
  const std::time_t seconds = ::timegm(&made);
  const bool exists = made.tm_year == wanted.tm_year && made.tm_mon == wanted.tm_mon && made.tm_mday == wanted.tm_mday;
  if (!exists) return std::nullopt;
  return static_cast<int>((seconds - (seconds < 0 ? day_seconds - 1 : 0)) / day_seconds);
}

std::string iso_date(int days) {
  const std::time_t seconds = static_cast<std::time_t>(days) * day_seconds;
  std::tm date{};
  (void)::gmtime_r(&seconds, &date);
  std::array<char, 16> text{};
  const std::size_t length = std::strftime(text.data(), text.size(), "%Y-%m-%d", &date);
  return {text.data(), length};
}

DateCell take_apart(std::string_view cell) {
  DateCell date;
  const auto wrong = [&](Reason why) {
    date.wrong = why;
    return date;
  };
  if (cell.empty()) return wrong(Reason::no_date);
  if (cell.size() > longest_date) return wrong(Reason::bad_date);
  const std::vector<Piece> p = pieces_of(cell);
  if (p.size() < 3) return wrong(Reason::bad_date);
  // After the date only a time of day: "T10:30:00" or " 10:30".
  if (p.size() > 3 && (p[2].after == '.' || p[2].after == '/' || p[2].after == '-')) return wrong(Reason::bad_date);
  const Time time = time_of(p);
  if (time.wrong) return wrong(Reason::bad_date);
  if (p[0].number && p[1].number && p[2].number) {
    const char between = p[0].after;
    const bool known = between == '-' || between == '/' || between == '.' || between == ' ';
    if (!known || p[1].after != between) return wrong(Reason::bad_date);
    if (p[0].text.size() == 4) {
      date = {value_of(p[2].text), value_of(p[1].text), value_of(p[0].text), true, time.minute, {}};
      return date;
    }
    if (p[2].text.size() == 2 && p[0].text.size() <= 2) return wrong(Reason::two_digit_year);
    if (p[2].text.size() != 4 || p[0].text.size() > 2 || p[1].text.size() > 2) return wrong(Reason::bad_date);
    date = {value_of(p[0].text), value_of(p[1].text), value_of(p[2].text), between == '.', time.minute, {}};
    return date;
  }
  // 9 Mar 2024, Mar 9 2024, 2024 Mar 9: a name says which is the month, four digits which is the year.
  const std::size_t named = p[0].number ? 1 : 0;
  if (p[named].number || !p[1 - named].number || !p[2].number) return wrong(Reason::bad_date);
  const bool year_first = named == 1 && p[0].text.size() == 4;
  const std::string_view day = year_first ? p[2].text : p[1 - named].text;
  const std::string_view year = year_first ? p[0].text : p[2].text;
  const int month = month_named(p[named].text);
  if (month == 0 || day.size() > 2) return wrong(Reason::bad_date);
  if (year.size() == 2) return wrong(Reason::two_digit_year);
  if (year.size() != 4) return wrong(Reason::bad_date);
  date = {value_of(day), month, value_of(year), true, time.minute, {}};
  return date;
}

std::vector<std::string> with_whole_date(std::vector<std::string> cells, std::size_t date_at,
                                         std::optional<std::size_t> time_at, std::size_t columns, bool blanks) {
  if (date_at >= cells.size() || cells[date_at].empty()) return cells;
  const auto first = cells.begin() + static_cast<std::ptrdiff_t>(date_at);
  if (take_apart(cells[date_at]).wrong) {
    std::string joined = cells[date_at];
    for (std::size_t k = 1; k < most_date_cells && date_at + k < cells.size(); ++k) {
      joined += (blanks ? " " : ", ") + cells[date_at + k];
      const DateCell whole = take_apart(joined);
      if (whole.wrong || (!blanks && !whole.plain)) continue;
      cells[date_at] = joined;
      cells.erase(first + 1, first + 1 + static_cast<std::ptrdiff_t>(k));
      break;
    }
  }
  if (!blanks || take_apart(cells[date_at]).wrong) return cells;
  const std::size_t next = date_at + 1;
  const auto is_clock = [](const std::string& cell) {
    return cell.find(':') != std::string::npos && !take_apart("2000-01-01 " + cell).wrong;
  };
  const auto is_half = [](const std::string& cell) {
    return cell.size() == 2 && (same_word(cell, "am") || same_word(cell, "pm"));
  };
  if (next < cells.size() && is_clock(cells[next])) {
    if (next + 1 < cells.size() && is_half(cells[next + 1])) {
      cells[next] += " " + cells[next + 1];
      cells.erase(first + 2);
    }
    if (!time_at) {
      cells[date_at] += " " + cells[next];
      cells.erase(first + 1);
    }
  } else if (time_at == next && next < cells.size() && cells.size() < columns && !says_nothing(cells[next])) {
    cells.insert(first + 1, std::string());
  }
  return cells;
}

DateRead read_date(const DateCell& cell, DateOrder order) {
  if (cell.wrong) return {0, cell.wrong};
  const bool day_first = cell.plain || order == DateOrder::day_first;
  const int day = day_first ? cell.first : cell.second;
  const int month = day_first ? cell.second : cell.first;
  if (cell.year < first_year || cell.year > last_year) return {0, Reason::date_out_of_range};
  const auto days = days_of(cell.year, month, day);
  if (month < 1 || month > 12 || !days) {
    // Would it be a day the other way round?
    const bool other = !cell.plain && days_of(cell.year, day, month).has_value() && day >= 1 && day <= 12;
    return {0, other ? Reason::date_against_the_others : Reason::bad_date};
  }
  return {*days, std::nullopt};
}

}  // namespace drawdown::labs
