// The sentences.
#include "stage/own_words.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "stage/narrate.hpp"

namespace drawdown::stage {

namespace {

constexpr std::size_t most_ranges_told = 3;

using labs::Protein;
using look::WordBook;

Which which(Protein p) {
  return p == Protein::c3 ? Which::c3 : Which::c4;
}

}  // namespace

const char* protein_name(Protein p) {
  return p == Protein::c3 ? "C3" : "C4";
}

std::string value_text(const std::optional<labs::Value>& value, Protein p, scenario::Unit unit) {
  if (!value) return {};
  const bool grams = unit == scenario::Unit::g_per_l;
  const double shown = grams ? value->value : value->value * readout::mg_per_dl;
  std::string text = level_text(value->value, which(p), unit);
  // A figure is not rounded away: digits are added until it is what was reported.
  const auto shown_by = [](const std::string& figure) { return std::strtod(figure.c_str(), nullptr); };
  for (int decimals = grams ? 2 : 1; decimals <= (grams ? 6 : 4); ++decimals) {
    if (std::abs(shown_by(text) - shown) <= 1e-6 * shown) break;
    text = look::number(shown, decimals);
  }
  return (value->or_equal ? "\u2264" : value->below ? "<" : "") + text;
}

const std::string& position_word(labs::Position position, const WordBook& words) {
  switch (position) {
    case labs::Position::below:
      return words.at("labs.position_below");
    case labs::Position::inside:
      return words.at("labs.position_inside");
    case labs::Position::above:
      return words.at("labs.position_above");
    case labs::Position::unknown:
      break;
  }
  return words.at("labs.position_unknown");
}

bool ranges_are_mixed(const labs::OfProtein& judged) {
  return judged.ranges.general > 0 && (!judged.ranges.own.empty() || judged.ranges.marked > 0);
}

std::string position_text(const labs::OfProtein& judged, std::size_t row, const WordBook& words) {
  const labs::Placed& placed = judged.placed.at(row);
  const std::string& word = position_word(placed.position, words);
  return placed.common && ranges_are_mixed(judged) ? words.fill("labs.position_common", {word}) : word;
}

std::vector<std::string> pattern_sentences(const labs::Reading& reading, const labs::Judgement& judged,
                                           const WordBook& words) {
  std::vector<std::string> out;
  const std::string key =
      "labs.pattern." + std::string(labs::pattern_names.at(static_cast<std::size_t>(judged.pattern)));
  const std::string day = judged.pattern_of ? labs::iso_date(reading.rows.at(*judged.pattern_of).day) : std::string();
  out.push_back(
      words.fill(key, {day, position_word(judged.pattern_c3, words), position_word(judged.pattern_c4, words)}));
  // A newer sample of one of the two alone.
  const bool c3 = judged.c3.newest && (!judged.c4.newest || *judged.c3.newest > *judged.c4.newest);
  const labs::OfProtein& of = c3 ? judged.c3 : judged.c4;
  if (!of.newest || (judged.pattern_of && *of.newest <= *judged.pattern_of)) return out;
  const labs::Row& row = reading.rows.at(*of.newest);
  const Protein p = c3 ? Protein::c3 : Protein::c4;
  out.push_back(words.fill("labs.pattern.alone", {labs::iso_date(row.day), protein_name(p),
                                                  value_text(labs::value_of(row, p), p, reading.unit),
                                                  position_word(of.placed.at(*of.newest).position, words)}));
  return out;
}

std::vector<std::string> range_sentences(const labs::Ranges& ranges, const scenario::Laboratory& general, Protein p,
                                         scenario::Unit unit, const WordBook& words) {
  std::vector<std::string> out;
  const auto say = [&](const char* key, const scenario::Interval& range, std::size_t samples) {
    const auto limit = [&](double v) { return value_text(labs::Value{v, false}, p, unit); };
    out.push_back(words.fill(
        key, {protein_name(p), limit(range.low), limit(range.high), unit_text(unit), std::to_string(samples)}));
  };
  if (ranges.own.empty() && ranges.marked + ranges.general == 0) return out;  // nothing was held against any
  const std::size_t told = std::min(most_ranges_told, ranges.own.size());
  std::size_t untold = ranges.more;
  for (std::size_t i = 0; i < ranges.own.size(); ++i) {
    if (i < told) {
      say("sheet.range_own", ranges.own[i].first, ranges.own[i].second);
    } else {
      untold += ranges.own[i].second;
    }
  }
  if (untold > 0) out.push_back(words.fill("sheet.range_more", {protein_name(p), std::to_string(untold)}));
  if (ranges.marked > 0) {
    out.push_back(words.fill("sheet.range_marked", {protein_name(p), std::to_string(ranges.marked)}));
  }
  const scenario::Interval& common = p == Protein::c3 ? general.c3 : general.c4;
  if (ranges.own.empty() && ranges.marked == 0) {
    say("sheet.range_general", common, ranges.general);
  } else if (ranges.general > 0) {
    say("sheet.range_rest", common, ranges.general);
  }
  return out;
}

std::vector<FitSentence> fit_sentences(const labs::Fit& fit, const WordBook& words) {
  if (fit.status == labs::FitStatus::too_few) return {{words.at("own.fit_few"), true, false}};
  if (fit.status != labs::FitStatus::done) return {{words.at("own.fit_failed"), true, false}};
  std::vector<FitSentence> all;
  all.push_back({words.at("own.fit_one"), true, false});
  const auto n = [](double v) { return look::number(v, 2); };
  all.push_back({words.fill("own.fit_made", {n(fit.made.value), n(fit.made.low), n(fit.made.high), n(fit.used.value),
                                             n(fit.used.low), n(fit.used.high)})});
  const auto say = [&](const char* key, const labs::Estimate& e, int decimals) {
    const auto figure = [&](double v) { return look::number(v, decimals); };
    std::string text = words.fill(key, {figure(e.value), figure(e.low), figure(e.high)});
    if (!e.told()) text += " " + words.fill("own.fit_untold", {figure(e.prior_low), figure(e.prior_high)});
    all.push_back({std::move(text)});
  };
  say("own.fit_load", fit.load, 1);
  say("own.fit_liver", fit.liver, 2);
  say("own.fit_acute", fit.acute, 2);
  for (const labs::Outlook& outlook : fit.outlooks) {
    if (outlook.c3.days.empty()) continue;
    all.push_back({words.fill(
        "own.ahead_levels", {words.at("own.ahead_" + outlook.name), n(outlook.c3.low.back()), n(outlook.c3.high.back()),
                             n(outlook.c4.low.back()), n(outlook.c4.high.back())})});
  }
  all.push_back({words.at("own.ahead_note"), true, false});
  all.push_back({words.at("own.fit_prior"), false, true});
  return all;
}

}  // namespace drawdown::stage
