// How a text was read: what is asked, what was left out and why, what was made of it.
#include <algorithm>
#include <cmath>

#include "scenario/visible.hpp"
#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::stage {

using labs::Protein;
using look::WordBook;

namespace {

// Of what a file says, this many characters of a cell and this many of its columns are quoted.
constexpr std::size_t most_quoted = 80;
constexpr std::size_t most_columns_named = 20;
constexpr std::size_t most_converted_told = 100;

// Three digits that tell, never as a power of ten.
std::string plain_figure(double value) {
  const int before = value > 0.0 ? static_cast<int>(std::floor(std::log10(value))) + 1 : 1;
  std::string text = look::number(value, std::max(0, 3 - before));
  if (text.find('.') == std::string::npos) return text;
  while (text.back() == '0') text.pop_back();
  if (text.back() == '.') text.pop_back();
  return text;
}
template <typename Said>
const char* sign_of(const Said& said) {
  return said.or_equal ? "\u2264" : said.below ? "<" : "";
}
std::string in_unit(double grams, scenario::Unit unit) {
  return plain_figure(unit == scenario::Unit::g_per_l ? grams : grams * readout::mg_per_dl);
}
// Two digits of how many times more or less.
std::string times_text(double times) {
  const double by = times < 1.0 ? 1.0 / times : times;
  const double step = by < 10.0 ? 1.0 : std::pow(10.0, std::floor(std::log10(by)) - 1.0);
  return look::number(step * std::round(by / step), 0);
}
Protein protein_of(const labs::Slip& slip) {
  return slip.c4 ? Protein::c4 : Protein::c3;
}

}  // namespace

std::vector<std::string> converted_sentences(const labs::Reading& reading, const WordBook& words) {
  std::vector<std::string> out;
  const std::size_t told = std::min(most_converted_told, reading.converted.size());
  for (std::size_t i = 0; i < told; ++i) {
    const labs::Slip& slip = reading.converted[i];
    out.push_back(words.fill(
        "labs.converted",
        {std::to_string(slip.line), protein_name(protein_of(slip)), sign_of(slip) + in_unit(slip.written, slip.unit),
         unit_text(slip.unit), sign_of(slip) + in_unit(*slip.meant, reading.unit), unit_text(reading.unit)}));
  }
  if (const std::size_t more = reading.converted.size() - told; more > 0) {
    out.push_back(more == 1 ? words.at("labs.converted_one_more")
                            : words.fill("labs.converted_more", {std::to_string(more)}));
  }
  return out;
}

std::vector<std::string> reading_sentences(const labs::Reading& reading, const WordBook& words) {
  std::vector<std::string> out;
  out.push_back(words.fill("labs.read", {std::to_string(reading.rows.size()), std::to_string(reading.unread()),
                                         std::to_string(reading.blank_lines), std::to_string(reading.slips.size())}));
  if (reading.rows.empty()) out.push_back(words.at("labs.nothing_read"));
  if (!reading.rows.empty())
    out.push_back(words.fill(reading.unit_sure ? "labs.unit_stated" : "labs.unit_guessed", {unit_text(reading.unit)}));
  if (reading.order_open) out.push_back(order_question(reading, words));
  if (!reading.ignored_columns.empty()) {
    std::string list;
    const std::size_t named = std::min(most_columns_named, reading.ignored_columns.size());
    for (std::size_t i = 0; i < named; ++i) {
      list += (list.empty() ? "" : ", ") + scenario::shortened(reading.ignored_columns[i], most_quoted);
    }
    if (named < reading.ignored_columns.size())
      list += ", …(+" + std::to_string(reading.ignored_columns.size() - named) + ")";
    out.push_back(words.fill("labs.ignored", {list}));
  }
  for (const std::string& said : converted_sentences(reading, words)) out.push_back(said);
  return out;
}

std::string slip_sentence(const labs::Slip& slip, const labs::Reading& reading, const WordBook& words) {
  const std::string key = slip.below ? "labs.slip_limit" : slip.times > 1.0 ? "labs.slip_more" : "labs.slip_less";
  const std::string said =
      words.fill(slip.from_common && !slip.below ? key + "_common" : key,
                 {std::to_string(slip.line), protein_name(protein_of(slip)),
                  sign_of(slip) + in_unit(slip.written, slip.unit), unit_text(slip.unit), times_text(slip.times)});
  if (!slip.meant) return said + " " + words.at("labs.slip_unexplained");
  const std::string meant = sign_of(slip) + in_unit(*slip.meant, reading.unit);
  if (!slip.other) return said + " " + words.fill("labs.slip_meant", {meant, unit_text(reading.unit)});
  const labs::Slip::Half& half = *slip.other;
  return said + " " +
         words.fill(
             "labs.slip_meant_both",
             {protein_name(slip.c4 ? Protein::c3 : Protein::c4), sign_of(half) + in_unit(half.written, slip.unit),
              unit_text(slip.unit), meant, sign_of(half) + in_unit(half.meant, reading.unit), unit_text(reading.unit)});
}

std::vector<std::string> slip_sentences(const labs::Reading& reading, const WordBook& words, std::size_t most) {
  std::vector<std::string> out;
  for (const labs::Slip& slip : reading.slips) {
    if (out.size() == most) break;
    if (!slip.told) out.push_back(slip_sentence(slip, reading, words));
  }
  return out;
}

std::string rejected_sentence(const labs::Rejected& rejected, const WordBook& words) {
  const std::string key =
      "labs.reason." + std::string(labs::reason_names.at(static_cast<std::size_t>(rejected.reason)));
  const std::string why = words.fill(key, {scenario::shortened(rejected.detail, most_quoted)});
  // What says itself that there is no result was read.
  const bool none = rejected.reason == labs::Reason::no_value || rejected.reason == labs::Reason::no_result;
  if (rejected.whole) {
    return words.fill(none ? "labs.none" : "labs.rejected", {std::to_string(rejected.line), why});
  }
  return words.fill(none ? "labs.none_cell" : "labs.rejected_cell",
                    {std::to_string(rejected.line), scenario::shortened(rejected.column, most_quoted), why});
}

std::vector<std::string> left_out_sentences(const labs::Reading& reading, const WordBook& words) {
  std::vector<std::string> out;
  if (reading.unread() > 0) out.push_back(words.fill("labs.unread", {std::to_string(reading.unread())}));
  if (!reading.slips.empty()) out.push_back(words.fill("labs.asked", {std::to_string(reading.slips.size())}));
  if (const std::size_t none = reading.without_result(); none > 0) {
    out.push_back(words.fill("labs.no_results", {std::to_string(none)}));
  }
  if (const auto& after = reading.after_today; !after.empty()) {
    out.push_back(words.fill(
        after.size() == 1 ? "labs.after_today" : "labs.after_today_more",
        {labs::iso_date(after.front().day), std::to_string(after.front().line), std::to_string(after.size())}));
  }
  return out;
}

const std::string& order_question(const labs::Reading& reading, const WordBook& words) {
  return words.at(reading.order_mixed ? "labs.order_mixed" : "labs.order_open");
}

}  // namespace drawdown::stage
