// The sentences.
#include "stage/own_words.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iomanip>
#include <sstream>

#include "scenario/visible.hpp"
#include "stage/narrate.hpp"

namespace drawdown::stage {

namespace {

// Of what a file says, this many characters of a cell and this many of its columns are quoted.
constexpr std::size_t most_quoted = 80;
constexpr std::size_t most_columns_named = 20;

using labs::Protein;
using look::WordBook;

Which which(Protein p) {
  return p == Protein::c3 ? Which::c3 : Which::c4;
}

std::string signed_text(double percent, int decimals = 0) {
  const std::string text = look::number(percent, decimals);
  return percent > 0 ? "+" + text : text;
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
  // A figure is not rounded away: digits are added until it is what was reported, to a part in five hundred.
  const auto shown_by = [](const std::string& figure) { return std::strtod(figure.c_str(), nullptr); };
  for (int decimals = grams ? 2 : 1; decimals <= (grams ? 4 : 2); ++decimals) {
    if (std::abs(shown_by(text) - shown) <= 0.002 * shown) break;
    text = look::number(shown, decimals);
  }
  return (value->below ? "<" : "") + text;
}

const std::string& position_word(const labs::Placed& placed, const WordBook& words) {
  switch (placed.position) {
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

std::vector<std::string> reading_sentences(const labs::Reading& reading, const WordBook& words) {
  std::vector<std::string> out;
  out.push_back(words.fill("labs.read", {std::to_string(reading.rows.size()), std::to_string(reading.rejected.size()),
                                         std::to_string(reading.blank_lines)}));
  out.push_back(words.fill(reading.unit_sure ? "labs.unit_stated" : "labs.unit_guessed", {unit_text(reading.unit)}));
  if (reading.order_open) out.push_back(words.at("labs.order_open"));
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
  return out;
}

std::string slip_sentence(const labs::Slip& slip, const labs::Reading& reading, const WordBook& words) {
  const Protein p = slip.c4 ? Protein::c4 : Protein::c3;
  const bool more = slip.factor > 1.0;
  const auto text = [&](double grams) {
    const double shown = reading.unit == scenario::Unit::g_per_l ? grams : grams * readout::mg_per_dl;
    std::ostringstream out;
    out << std::setprecision(3) << shown;
    return out.str();
  };
  const std::string key = more ? "labs.slip_more" : "labs.slip_less";
  return words.fill(slip.from_common ? key + "_common" : key,
                    {std::to_string(slip.line), protein_name(p), text(slip.written), unit_text(reading.unit),
                     look::number(more ? slip.factor : 1.0 / slip.factor, 0), text(slip.written / slip.factor)});
}

std::string rejected_sentence(const labs::Rejected& rejected, const WordBook& words) {
  const std::string key =
      "labs.reason." + std::string(labs::reason_names.at(static_cast<std::size_t>(rejected.reason)));
  const std::string why = words.fill(key, {scenario::shortened(rejected.detail, most_quoted)});
  if (rejected.whole) return words.fill("labs.rejected", {std::to_string(rejected.line), why});
  return words.fill("labs.rejected_cell",
                    {std::to_string(rejected.line), scenario::shortened(rejected.column, most_quoted), why});
}

std::string change_sentence(const labs::Change& change, Protein p, const std::vector<labs::Row>& rows,
                            scenario::Unit unit, const WordBook& words) {
  const labs::Row& from = rows.at(change.from);
  const labs::Row& to = rows.at(change.to);
  std::string text = words.fill(
      change.beyond ? "labs.beyond" : "labs.within",
      {protein_name(p), value_text(labs::value_of(from, p), p, unit), value_text(labs::value_of(to, p), p, unit),
       change.at_least ? words.fill("labs.at_least", {signed_text(change.percent)}) : signed_text(change.percent),
       labs::iso_date(from.day), labs::iso_date(to.day), look::number(change.log_normal.down, 0),
       signed_text(change.log_normal.up)});
  if (change.beyond != change.beyond_symmetric) {
    text += " " + words.fill("labs.symmetric", {look::number(change.symmetric, 0)});
  }
  return text;
}

std::vector<std::string> protein_sentences(const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                                           scenario::Unit unit, const WordBook& words) {
  std::vector<std::string> out;
  const std::string name = protein_name(p);
  const auto level = [&](double v) { return level_text(v, which(p), unit); };
  const labs::Usual& usual = judged.usual;
  if (usual.level) {
    out.push_back(
        words.fill(usual.quiet_is_known ? "labs.usual" : "labs.usual_all",
                   {name, level(*usual.level), level(usual.low), level(usual.high), std::to_string(usual.values)}));
  } else {
    out.push_back(
        words.fill(usual.hidden ? "labs.usual_hidden" : "labs.usual_few", {name, std::to_string(usual.values)}));
  }
  if (const auto& last = judged.latest_from_usual) {
    out.push_back(words.fill(
        last->beyond ? "labs.from_usual_beyond" : "labs.from_usual_within",
        {name, last->at_least ? words.fill("labs.at_least", {signed_text(last->percent)}) : signed_text(last->percent),
         look::number(last->log_normal.down, 0), signed_text(last->log_normal.up),
         labs::iso_date(rows.at(last->to).day)}));
  }
  if (judged.trend) {
    const labs::Trend& t = *judged.trend;
    const char* key = t.falling() ? "labs.trend_falling" : t.rising() ? "labs.trend_rising" : "labs.trend_flat";
    const double shown = t.falling() ? -t.percent_a_month : t.percent_a_month;
    const double low = t.falling() ? -t.high : t.low;
    const double high = t.falling() ? -t.low : t.high;
    const std::string by = look::number(shown, 1);
    const bool least = t.at_least && (t.falling() || t.rising());
    out.push_back(words.fill(
        key, {name, least ? words.fill("labs.at_least", {by}) : by, look::number(low, 1), look::number(high, 1)}));
  } else {
    out.push_back(words.fill("labs.trend_none", {name}));
  }
  if (!judged.twice.empty()) {
    const labs::Twice& newest = judged.twice.back();
    const auto value = [&](std::size_t row) { return value_text(labs::value_of(rows.at(row), p), p, unit); };
    out.push_back(words.fill(
        "labs.twice", {name, labs::iso_date(rows.at(newest.first).day), value(newest.first), value(newest.second)}));
  }
  const bool low = judged.individuality < 0.6;
  out.push_back(words.fill(low ? "labs.individuality_low" : "labs.individuality_high",
                           {name, look::number(judged.individuality, 2)}));
  return out;
}

std::vector<std::string> left_out_sentences(const labs::Reading& reading, const WordBook& words) {
  std::vector<std::string> out;
  if (reading.unread() > 0) out.push_back(words.fill("labs.unread", {std::to_string(reading.unread())}));
  if (!reading.slips.empty()) out.push_back(words.fill("labs.asked", {std::to_string(reading.slips.size())}));
  return out;
}

std::vector<std::string> pattern_sentences(const labs::Reading& reading, const labs::Judgement& judged,
                                           const WordBook& words) {
  std::vector<std::string> out;
  const std::string key =
      "labs.pattern." + std::string(labs::pattern_names.at(static_cast<std::size_t>(judged.pattern)));
  const std::string day = judged.pattern_of ? labs::iso_date(reading.rows.at(*judged.pattern_of).day) : std::string();
  out.push_back(words.fill(key, {day}));
  // A newer sample of one of the two alone.
  for (std::size_t i = reading.rows.size(); i-- > judged.pattern_of.value_or(0) + 1;) {
    const labs::Row& row = reading.rows[i];
    if (!judged.pattern_of || (!row.c3 && !row.c4)) continue;
    const Protein p = row.c3 ? Protein::c3 : Protein::c4;
    const labs::Placed& placed = (p == Protein::c3 ? judged.c3 : judged.c4).placed.at(i);
    out.push_back(words.fill("labs.pattern.alone",
                             {labs::iso_date(row.day), protein_name(p),
                              value_text(labs::value_of(row, p), p, reading.unit), position_word(placed, words)}));
    break;
  }
  return out;
}

std::string range_sentence(const labs::Reading& reading, const scenario::Laboratory& general, Protein p,
                           const WordBook& words) {
  const bool is_c3 = p == Protein::c3;
  const auto& rows = reading.rows;
  const auto own = std::find_if(rows.rbegin(), rows.rend(),
                                [&](const labs::Row& r) { return (is_c3 ? r.c3_range : r.c4_range).has_value(); });
  const scenario::Interval range = own != rows.rend() ? *(is_c3 ? own->c3_range : own->c4_range)
                                   : is_c3            ? general.c3
                                                      : general.c4;
  return words.fill(own != rows.rend() ? "sheet.range_own" : "sheet.range_general",
                    {protein_name(p), level_text(range.low, which(p), reading.unit),
                     level_text(range.high, which(p), reading.unit), unit_text(reading.unit)});
}

std::vector<FitSentence> fit_sentences(const labs::Fit& fit, const WordBook& words) {
  if (fit.status == labs::FitStatus::too_few) return {{words.at("own.fit_few"), true, false}};
  if (fit.status != labs::FitStatus::done) return {{words.at("own.fit_failed"), true, false}};
  std::vector<FitSentence> all;
  const char* verdict = fit.cannot_tell()                             ? "own.fit_cannot"
                        : fit.use_is_needed() && fit.less_is_needed() ? "own.fit_both"
                        : fit.use_is_needed()                         ? "own.fit_use"
                                                                      : "own.fit_less";
  all.push_back({words.at(verdict), true, false});
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
  if (fit.c4d_would_help > 0.05) {
    all.push_back({words.fill("own.fit_c4d", {look::number(100 * fit.c4d_would_help, 0)})});
  }
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
