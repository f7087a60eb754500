// The sentences.
#include "stage/own_words.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "stage/narrate.hpp"

namespace drawdown::stage {

namespace {

constexpr std::size_t most_ranges_told = 3;
constexpr std::size_t most_days_told = 10;

using labs::Protein;
using look::WordBook;

Which which(Protein p) {
  return p == Protein::c3 ? Which::c3 : Which::c4;
}

std::string signed_text(double percent, int decimals = 0) {
  // What is left of a level is never rounded to nothing.
  while (decimals < 4 && percent > -100.0 && look::number(percent, decimals) == look::number(-100.0, decimals)) {
    decimals += 1;
  }
  const std::string text = look::number(percent, decimals);
  return percent > 0 ? "+" + text : text;
}
// The noise a change is held against: both limits, or the one that is used.
std::string limits_text(const labs::Change& change, const WordBook& words) {
  const std::string down = look::number(change.log_normal.down, 0);
  if (change.falls_only) return words.fill("labs.limit_of_falls", {down});
  return words.fill("labs.limits", {down, signed_text(change.log_normal.up)});
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

namespace {
// " (16:30)", where the sample has a time.
std::string clock_text(const labs::Row& row) {
  if (!row.minute) return {};
  const std::string minutes = std::to_string(*row.minute % 60);
  return " (" + std::to_string(*row.minute / 60) + (minutes.size() < 2 ? ":0" : ":") + minutes + ")";
}
// A figure that was worked out: two digits that tell at least.
std::string estimate_text(double grams, Protein p, scenario::Unit unit) {
  const double shown = unit == scenario::Unit::g_per_l ? grams : grams * readout::mg_per_dl;
  const int usual = unit == scenario::Unit::g_per_l ? 2 : shown < 10.0 && p == Protein::c4 ? 1 : 0;
  const int needed = shown > 0.0 ? 1 - static_cast<int>(std::floor(std::log10(shown))) : usual;
  return look::number(shown, std::clamp(needed, usual, 5));
}
}  // namespace

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

std::string change_sentence(const labs::Change& change, Protein p, const std::vector<labs::Row>& rows,
                            scenario::Unit unit, const WordBook& words) {
  const labs::Row& from = rows.at(change.from);
  const labs::Row& to = rows.at(change.to);
  std::string text = words.fill(
      change.beyond     ? "labs.beyond"
      : !change.asked   ? "labs.not_asked"
      : change.at_least ? "labs.not_known"
                        : "labs.within",
      {protein_name(p), value_text(labs::value_of(from, p), p, unit), value_text(labs::value_of(to, p), p, unit),
       change.at_least ? words.fill("labs.at_least", {signed_text(change.percent)}) : signed_text(change.percent),
       labs::iso_date(from.day), labs::iso_date(to.day), limits_text(change, words)});
  if (!change.at_least && change.beyond != change.beyond_symmetric) {
    text += " " + words.fill("labs.symmetric", {look::number(change.symmetric, 0)});
  }
  return text;
}

namespace {
// Each day with results that differ, the newest days first, with all of them.
std::vector<std::string> twice_sentences(const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                                         scenario::Unit unit, const WordBook& words) {
  std::vector<std::string> out;
  for (std::size_t k = judged.twice.size(); k-- > 0 && out.size() < most_days_told;) {
    const int day = rows.at(judged.twice[k].second).day;
    bool beyond = judged.twice[k].beyond;
    while (k > 0 && rows.at(judged.twice[k - 1].second).day == day) beyond = judged.twice[--k].beyond || beyond;
    std::string values;
    std::size_t first = judged.twice[k].first;
    while (first > 0 && rows[first - 1].day == day) first -= 1;
    for (std::size_t i = first, told = 0; i < rows.size() && rows[i].day == day && told < most_days_told; ++i) {
      const auto& one = labs::value_of(rows[i], p);
      if (!one) continue;
      values += (values.empty() ? "" : ", ") + value_text(one, p, unit) + clock_text(rows[i]);
      told += 1;
    }
    out.push_back(
        words.fill(beyond ? "labs.twice_beyond" : "labs.twice", {protein_name(p), labs::iso_date(day), values}));
  }
  return out;
}
}  // namespace

std::vector<std::string> protein_sentences(const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                                           scenario::Unit unit, const WordBook& words) {
  std::vector<std::string> out;
  const std::string name = protein_name(p);
  const auto level = [&](double v) { return estimate_text(v, p, unit); };
  const auto value = [&](std::size_t row) { return value_text(labs::value_of(rows.at(row), p), p, unit); };
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
        last->beyond     ? "labs.from_usual_beyond"
        : !last->asked   ? "labs.from_usual_not_asked"
        : last->at_least ? "labs.from_usual_not_known"
                         : "labs.from_usual_within",
        {name, last->at_least ? words.fill("labs.at_least", {signed_text(last->percent)}) : signed_text(last->percent),
         limits_text(*last, words), std::string(), labs::iso_date(rows.at(last->to).day)}));
  }
  if (judged.trend) {
    const labs::Trend& t = *judged.trend;
    const bool least = t.at_least && (t.falling() || t.rising());
    // Of a bound the other side is open: it has no interval.
    const std::string way = t.falling() ? "labs.trend_falling" : t.rising() ? "labs.trend_rising" : "labs.trend_flat";
    const std::string key = least ? way + "_least" : way;
    const double shown = t.falling() ? -t.percent_a_month : t.percent_a_month;
    const double low = t.falling() ? -t.high : t.low;
    const double high = t.falling() ? -t.low : t.high;
    const std::string by = look::number(shown, 1);
    out.push_back(words.fill(key, {name, by, look::number(low, 1), look::number(high, 1)}));
    if (judged.turned) {
      out.back() += " " + words.fill(t.falling() ? "labs.trend_turned_up" : "labs.trend_turned_down",
                                     {name, value(judged.turned->from),
                                      labs::iso_date(rows.at(judged.turned->from).day), value(judged.turned->to)});
    }
  } else {
    out.push_back(words.fill(judged.trend_hidden ? "labs.trend_hidden" : "labs.trend_none", {name}));
  }
  if (judged.overall) {
    const labs::Change& c = *judged.overall;
    out.push_back(words.fill(
        "labs.overall", {name, value(c.from), value(c.to), signed_text(c.percent), labs::iso_date(rows.at(c.from).day),
                         labs::iso_date(rows.at(c.to).day), limits_text(c, words)}));
  }
  // A newest value that nothing was compared with.
  if (const auto newest = judged.newest; newest && labs::value_of(rows.at(*newest), p)->below) {
    const bool told = !judged.changes.empty() && judged.changes.back().to == *newest;
    if (!told && *newest > 0) {
      out.push_back(words.fill("labs.newest_limit", {name, value(*newest), labs::iso_date(rows.at(*newest).day)}));
    }
  }
  for (std::string& said : twice_sentences(judged, p, rows, unit, words)) out.push_back(std::move(said));
  const bool low = judged.individuality < 0.6;
  out.push_back(words.fill(low ? "labs.individuality_low" : "labs.individuality_high",
                           {name, look::number(judged.individuality, 2)}));
  return out;
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
