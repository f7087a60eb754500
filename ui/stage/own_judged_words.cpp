// What was judged of each protein, in words: the verdict, the figures behind it, what is not known; and whether the two
// go with the person's flares.
#include <algorithm>
#include <cmath>

#include "stage/narrate.hpp"
#include "stage/own_words.hpp"

namespace drawdown::stage {

namespace {

constexpr std::size_t most_days_told = 10;
constexpr std::size_t most_apart_told = 3;

using labs::Protein;
using labs::Standing;
using look::WordBook;

std::string signed_text(double percent, int decimals = 0) {
  // What is left of a level is never rounded to nothing.
  while (decimals < 4 && percent > -100.0 && look::number(percent, decimals) == look::number(-100.0, decimals)) {
    decimals += 1;
  }
  const std::string text = look::number(percent, decimals);
  return percent > 0 && text.find_first_not_of("0.") != std::string::npos ? "+" + text : text;
}
// The noise a change is held against: both limits, or the one that is used.
std::string limits_text(const labs::Change& change, const WordBook& words) {
  const std::string down = look::number(change.log_normal.down, 0);
  if (change.falls_only) return words.fill("labs.limit_of_falls", {down});
  return words.fill("labs.limits", {down, signed_text(change.log_normal.up)});
}

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

std::string month_text(int day, const WordBook& words) {
  const std::string iso = labs::iso_date(day);  // 2024-03-09
  return words.fill("labs.month_of_year", {words.at("labs.month." + iso.substr(5, 2)), iso.substr(0, 4)});
}
std::string at_least_text(bool at_least, double percent, const WordBook& words) {
  const std::string text = signed_text(percent);
  return at_least ? words.fill("labs.at_least", {text}) : text;
}

// The newest value lies under its range.
bool is_low(const labs::OfProtein& of) {
  return of.newest && of.placed.at(*of.newest).position == labs::Position::below;
}

}  // namespace

std::string change_sentence(const labs::Change& change, Protein p, const std::vector<labs::Row>& rows,
                            scenario::Unit unit, const WordBook& words) {
  const labs::Row& from = rows.at(change.from);
  const labs::Row& to = rows.at(change.to);
  return words.fill(
      change.beyond     ? "labs.beyond"
      : !change.asked   ? "labs.not_asked"
      : change.at_least ? "labs.not_known"
                        : "labs.within",
      {protein_name(p), value_text(labs::value_of(from, p), p, unit), value_text(labs::value_of(to, p), p, unit),
       change.at_least ? words.fill("labs.at_least", {signed_text(change.percent)}) : signed_text(change.percent),
       labs::iso_date(from.day), labs::iso_date(to.day), limits_text(change, words)});
}

bool a_pair_is_beyond(const labs::Judgement& judged) {
  const auto any = [](const labs::OfProtein& of) {
    return std::any_of(of.changes.begin(), of.changes.end(), [](const labs::Change& c) { return c.beyond; });
  };
  return any(judged.c3) || any(judged.c4);
}

std::string verdict_sentence(const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                             const WordBook& words) {
  const labs::LevelChange& level = judged.level;
  const std::string name = protein_name(p);
  const auto month = [&](std::size_t row) { return month_text(rows.at(row).day, words); };
  const bool last_found = level.standing == Standing::fell || level.standing == Standing::rose;
  const bool last_fell = level.standing == Standing::fell;
  std::string text;
  // A step tells since when; a last value that goes the other way is newer than it.
  if (level.step && (!last_found || (level.step->way == labs::Way::fell) == last_fell)) {
    const bool fell = level.step->way == labs::Way::fell;
    text = words.fill(fell ? "labs.verdict.fell_since" : "labs.verdict.rose_since", {name, month(level.step->row)});
  } else if (last_found) {
    text = words.fill(last_fell ? "labs.verdict.fell" : "labs.verdict.rose", {name, month(*level.last)});
  } else {
    switch (level.standing) {
      case Standing::none:
        return words.fill("labs.verdict.none", {name});
      case Standing::too_few:
        text = words.fill("labs.verdict.too_few", {name});
        break;
      case Standing::new_laboratory:
        text = words.fill("labs.verdict.new_laboratory", {name});
        break;
      case Standing::hidden:
        text = words.fill("labs.verdict.hidden", {name});
        break;
      case Standing::disputed:
        text = words.fill("labs.verdict.disputed", {name});
        break;
      case Standing::open:
        text = words.fill("labs.verdict.open", {name});
        break;
      default:
        text = words.fill(judged.low_but_usual ? "labs.verdict.low_but_usual" : "labs.verdict.within", {name});
    }
    if (!level.earlier.empty()) {
      const labs::Apart& one = level.earlier.back();
      const bool marked = rows.at(one.row).flare == true;
      const std::string when = marked ? words.fill("labs.verdict.in_flare", {month(one.row)}) : month(one.row);
      text +=
          " " + words.fill(one.way == labs::Way::fell ? "labs.verdict.was_lower" : "labs.verdict.was_higher", {when});
    }
  }
  if (is_low(judged) && !judged.low_but_usual) text += " " + words.at("labs.verdict.low_now");
  return text;
}

namespace {

using Said = std::vector<OwnSentence>;

void say_figures(Said& out, const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                 scenario::Unit unit, const WordBook& words) {
  const labs::LevelChange& level = judged.level;
  const std::string name = protein_name(p);
  const auto figure = [&](std::string text, bool found = false) {
    out.push_back({OwnSentence::Kind::figure, std::move(text), found});
  };
  const auto worked_out = [&](double v) { return estimate_text(v, p, unit); };
  const auto value = [&](std::size_t row) { return value_text(labs::value_of(rows.at(row), p), p, unit); };
  const auto date = [&](std::size_t row) { return labs::iso_date(rows.at(row).day); };
  if (level.usual) {
    const labs::OwnUsual& usual = *level.usual;
    figure(words.fill("labs.usual", {name, worked_out(usual.level), worked_out(usual.low), worked_out(usual.high),
                                     std::to_string(usual.values)}));
    if (level.standing != Standing::disputed) {
      const bool found = level.standing == Standing::fell || level.standing == Standing::rose;
      const bool open = level.last_at_least && !found;  // somewhere under a limit
      figure(words.fill(open ? "labs.last_open" : "labs.last",
                        {name, value(*level.last), date(*level.last),
                         at_least_text(level.last_at_least, level.last_percent, words)}),
             found);
    }
  } else if (level.visits > 0) {
    figure(words.fill("labs.usual_few", {name, std::to_string(level.visits)}));
  }
  if (level.step) {
    figure(words.fill("labs.step",
                      {name, date(level.step->row), at_least_text(level.step->at_least, level.step->percent, words)}),
           true);
  }
  const std::size_t untold = level.earlier.size() - std::min(most_apart_told, level.earlier.size());
  for (std::size_t i = untold; i < level.earlier.size(); ++i) {
    const labs::Apart& one = level.earlier[i];
    figure(words.fill(rows.at(one.row).flare == true ? "labs.apart_flare" : "labs.apart",
                      {name, date(one.row), value(one.row), at_least_text(one.at_least, one.percent, words)}),
           true);
  }
  if (untold > 0) figure(words.fill("labs.apart_more", {name, std::to_string(untold)}));
}

void say_unknown(Said& out, const labs::OfProtein& judged, Protein p, const WordBook& words) {
  const labs::LevelChange& level = judged.level;
  const labs::Series& series = level.series;
  const std::string name = protein_name(p);
  const auto unknown = [&](std::string text) { out.push_back({OwnSentence::Kind::unknown, std::move(text), false}); };
  std::string left;
  const auto leaves = [&](const char* key, std::size_t count) {
    if (count == 0) return;
    left += (left.empty() ? "" : ", ") + words.fill(key, {std::to_string(count)});
  };
  leaves("labs.left.flares", series.flares);
  leaves("labs.left.treated", series.treated);
  leaves("labs.left.unmarked", series.unmarked);
  leaves("labs.left.disputed", series.disputed);
  if (!left.empty()) unknown(words.fill("labs.left.out", {name, left}));
  if (level.usual && !series.quiet_is_known && series.flares == 0) unknown(words.fill("labs.all_count", {name}));
  if (level.usual && series.all_treated) unknown(words.fill("labs.all_treated", {name}));
  if (series.laboratories > 1) {
    unknown(words.fill("labs.laboratories", {name, std::to_string(series.laboratories)}));
  }
  if (level.below_detection > 0) {
    unknown(words.fill("labs.below_detection", {name, std::to_string(level.below_detection)}));
  }
}

}  // namespace

std::vector<OwnSentence> protein_sentences(const labs::OfProtein& judged, Protein p, const std::vector<labs::Row>& rows,
                                           scenario::Unit unit, const WordBook& words) {
  Said out{{OwnSentence::Kind::verdict, verdict_sentence(judged, p, rows, words), judged.level.found()}};
  say_figures(out, judged, p, rows, unit, words);
  for (std::string& said : twice_sentences(judged, p, rows, unit, words)) {
    out.push_back({OwnSentence::Kind::figure, std::move(said), false});
  }
  say_unknown(out, judged, p, words);
  const bool low = judged.individuality < 0.6;
  out.push_back({OwnSentence::Kind::general,
                 words.fill(low ? "labs.individuality_low" : "labs.individuality_high",
                            {protein_name(p), look::number(judged.individuality, 2)}),
                 false});
  return out;
}

std::vector<std::string> marker_sentences(const labs::Marker& marker, const WordBook& words) {
  using labs::MarkerAnswer;
  if (marker.answer == MarkerAnswer::unmarked) return {words.at("labs.marker.unmarked")};
  std::vector<std::string> out{words.at(marker.answer == MarkerAnswer::goes       ? "labs.marker.goes"
                                        : marker.answer == MarkerAnswer::does_not ? "labs.marker.does_not"
                                                                                  : "labs.marker.too_few")};
  if (marker.answer == MarkerAnswer::too_few) {
    if (marker.quiet_wanted > 0) {
      out[0] += " " + words.fill("labs.marker.quiet_wanted", {std::to_string(marker.quiet_wanted)});
    }
    if (marker.more) {
      out[0] += " " + words.fill(*marker.more == 1 ? "labs.marker.one_more" : "labs.marker.more",
                                 {std::to_string(*marker.more)});
    } else if (marker.quiet_wanted == 0) {
      out[0] += " " + words.fill("labs.marker.many_more", {std::to_string(labs::most_more)});
    }
  }
  for (const Protein p : {Protein::c3, Protein::c4}) {
    const labs::MarkerOf& of = p == Protein::c3 ? marker.c3 : marker.c4;
    if (of.flares == 0 || of.quiet == 0) continue;
    std::string said = words.fill("labs.marker.clearly_low", {protein_name(p), std::to_string(of.clearly_low),
                                                              std::to_string(of.flares), std::to_string(of.quiet)});
    if (of.followed > 0) {
      said += " " + words.fill("labs.marker.came_back", {std::to_string(of.came_back), std::to_string(of.followed)});
    }
    out.push_back(std::move(said));
  }
  // Never told as certain, and of a single flare not at all.
  std::string prior = words.at("labs.marker.prior");
  if (std::max(marker.c3.flares, marker.c4.flares) > 1 && marker.quiet_wanted == 0) {
    const double chance = std::clamp(100.0 * marker.probability, 1.0, 99.0);
    prior = words.fill("labs.marker.chance", {look::number(chance, 0)}) + " " + prior;
  }
  out.push_back(std::move(prior));
  return out;
}

std::vector<std::string> diagnosis_sentences(const labs::Reading& reading, const labs::Judgement& judged,
                                             const WordBook& words) {
  std::vector<std::string> out;
  for (std::size_t i = 0; i < reading.rows.size() && out.size() < most_apart_told; ++i) {
    const labs::Row& row = reading.rows[i];
    if (!row.at_diagnosis) continue;
    std::string values;
    for (const Protein p : {Protein::c3, Protein::c4}) {
      const std::string value = value_text(labs::value_of(row, p), p, reading.unit);
      if (value.empty()) continue;
      const labs::OfProtein& of = p == Protein::c3 ? judged.c3 : judged.c4;
      values += std::string(values.empty() ? "" : ", ") + protein_name(p) + " " + value + " (" +
                position_text(of, i, words) + ")";
    }
    if (!values.empty()) out.push_back(words.fill("labs.marker.diagnosis", {labs::iso_date(row.day), values}));
  }
  return out;
}

}  // namespace drawdown::stage
