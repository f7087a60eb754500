// Cells that say something in words, and ranges however they are written.
#include <algorithm>
#include <array>
#include <cctype>

#include "labs/cells.hpp"

namespace drawdown::labs {

namespace {

bool is_digit(char c) {
  return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

template <std::size_t N>
bool is_one_of(const std::string& word, const std::array<std::string_view, N>& list) {
  return std::find(list.begin(), list.end(), word) != list.end();
}

// Brackets that stand round the whole.
std::string_view without_brackets(std::string_view text) {
  for (bool again = true; again;) {
    again = false;
    text = trimmed(text);
    for (const std::string_view pair : {"()", "[]", "{}"}) {
      if (text.size() < 2 || text.front() != pair[0] || text.back() != pair[1]) continue;
      if (text.find(pair[1]) != text.size() - 1) continue;
      text = text.substr(1, text.size() - 2);
      again = true;
    }
  }
  return text;
}

// "Ref: 0.9-1.8", "normal range 0.9-1.8": words in front that only say that it is a range.
std::string_view without_title(std::string_view text) {
  std::size_t at = text.find_first_of("0123456789<>([{");
  if (at != std::string_view::npos && at > 0 && (text[at - 1] == '.' || text[at - 1] == ',')) at -= 1;  // ".9"
  if (at == std::string_view::npos || at == 0) return text;
  const std::string said = plain_name(text.substr(0, at));
  constexpr std::array<std::string_view, 16> titles{
      "between",  "entre",    "ref",   "reference",         "range",      "normal", "normalrange", "referencerange",
      "refrange", "interval", "rango", "rangodereferencia", "referencia", "vn",     "vr",          "valoresnormales"};
  return is_one_of(said, titles) ? trimmed(text.substr(at)) : text;
}

}  // namespace

bool says_nothing(std::string_view cell) {
  const std::string_view text = trimmed(cell);
  return text.empty() || text == "-" || text == "--" || plain_name(text) == "na";
}

bool says_no_result(std::string_view cell) {
  if (std::any_of(cell.begin(), cell.end(), is_digit)) return false;
  const std::string said = plain_name(cell);
  constexpr std::array<std::string_view, 3> whole{"qns", "tnp", "np"};  // "nd" may be "not detected", which is a result
  if (is_one_of(said, whole)) return true;
  // Parts of words, so that all their endings and both spellings are met.
  constexpr std::array<std::string_view, 30> parts{
      "pending",     "pendiente",    "haemoly",    "hemoly",       "hemoliz",      "lipaemi",
      "lipemi",      "clotted",      "coagulad",   "insufficient", "insuficiente", "notdone",
      "notmeasured", "notperformed", "nottested",  "notreported",  "notavailable", "unavailable",
      "noresult",    "nosample",     "norealizad", "nomedid",      "nodisponible", "sinresultado",
      "sinmuestra",  "cancel",       "tofollow",   "inprogress",   "encurso",      "unsuitable"};
  return std::any_of(parts.begin(), parts.end(),
                     [&](std::string_view part) { return said.find(part) != std::string::npos; });
}

MarkCell read_mark(std::string_view cell) {
  const std::string_view sign = without_brackets(cell);
  const std::string said = plain_name(sign);
  constexpr std::array<std::string_view, 3> normal{"n", "normal", "ok"};
  constexpr std::array<std::string_view, 9> low{"l", "ll", "lo", "low", "b", "bajo", "baja", "below", "under"};
  constexpr std::array<std::string_view, 8> high{"h", "hh", "hi", "high", "alto", "alta", "above", "over"};
  constexpr std::array<std::string_view, 7> either_side{"a", "aa", "abn", "abnormal", "anormal", "yes", "si"};
  if (says_nothing(sign) || said == "no") return {};
  if (is_one_of(said, normal)) return {marked_normal, false};
  if (sign == "\u2193" || sign == "\u25BC" || is_one_of(said, low)) return {-1, false};
  if (sign == "\u2191" || sign == "\u25B2" || is_one_of(said, high)) return {1, false};
  if (sign == "*" || sign == "**" || sign == "!" || is_one_of(said, either_side)) return {marked_outside, false};
  return {0, true};
}

std::optional<RangeCell> read_range(std::string_view cell) {
  std::string_view text = without_brackets(without_title(without_brackets(cell)));
  // "[0.9 – 1.8] g/L": the unit stands behind the brackets.
  std::string unit;
  for (const std::string_view pair : {"()", "[]", "{}"}) {
    const std::size_t end = text.find(pair[1]);
    if (text.empty() || text.front() != pair[0] || end == std::string_view::npos) continue;
    unit = std::string(without_brackets(text.substr(end + 1)));
    text = trimmed(text.substr(1, end - 1));
    break;
  }
  const std::size_t open = text.rfind('(');
  if (unit.empty() && !text.empty() && text.back() == ')' && open != std::string_view::npos && open > 0) {
    unit = std::string(without_brackets(text.substr(open)));  // "0.90-1.80 (g/L)"
    text = trimmed(text.substr(0, open));
  }
  if (text.empty()) return std::nullopt;
  for (const std::string_view one : {"<", ">", "\u2264", "\u2265"}) {
    if (text.substr(0, one.size()) != one) continue;
    const std::size_t digits = text.find_first_of("0123456789");
    const bool only = digits != std::string_view::npos && !read_number(text.substr(digits)).wrong;
    return only ? std::optional<RangeCell>(RangeCell{0.0, 0.0, {}, true}) : std::nullopt;
  }
  for (const std::string_view between :
       {"\u2013", "\u2014", "\u2212", "-", "~", "\u2026", "..", " to ", " a ", " and ", " y "}) {
    const std::size_t at = text.find(between, 1);
    if (at == std::string_view::npos) continue;
    const NumberCell low = read_number(text.substr(0, at));
    NumberCell high = read_number(text.substr(at + between.size()));
    high.unit = std::string(without_brackets(high.unit));
    if (low.wrong || high.wrong || !low.value || !high.value || low.value->below || high.value->below) break;
    if (low.value->value < 0 || high.value->value <= low.value->value) break;
    if (!unit.empty() && !high.unit.empty() && unit != high.unit) break;
    if (!unit.empty()) high.unit = unit;
    if (!low.unit.empty() && low.unit != high.unit) break;
    return RangeCell{low.value->value, high.value->value, high.unit, false};
  }
  return std::nullopt;
}

}  // namespace drawdown::labs
