// From flows to words.
#include "stage/narrate.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace drawdown::stage {

namespace {

const char* standing_key(Standing standing) {
  switch (standing) {
    case Standing::falling:
      return "falling";
    case Standing::rising:
      return "rising";
    case Standing::usual:
      return "usual";
    case Standing::masked:
      return "masked";
    case Standing::low_used_faster:
      return "low_used_faster";
    case Standing::low_made_less:
      return "low_made_less";
    case Standing::high:
      break;
  }
  return "high";
}

// "1.7 times" as a number.
std::string times(double ratio) {
  return look::number(ratio, 1);
}

std::string percent(double fraction) {
  return look::number(100.0 * fraction, 0);
}

// Why a level falls or rises, from the sizes of the two sides.
std::string cause(const Reading& r, const look::WordBook& words, look::Depth depth) {
  const bool faster = r.speed > 1.15;
  const bool less = r.made < 0.9;
  const bool more = r.made > 1.1;
  if (r.trend == Trend::falling) {
    if (faster && less) return words.at("because.faster_and_less", depth);
    if (faster) return words.at("because.faster", depth);
    if (less) return words.at("because.less", depth);
    return {};
  }
  if (r.trend == Trend::rising) {
    if (more && !faster) return words.at("because.made_more", depth);
    if (faster) return words.at("because.still_faster", depth);
    return words.at("because.recovering", depth);
  }
  return {};
}

// One sentence for one protein, or for both with their figures side by side.
std::string sentence(const std::vector<Reading>& readings, const std::string& name, const look::WordBook& words,
                     look::Depth depth) {
  const Reading& r = readings.front();
  const std::string key = std::string("balance.") + standing_key(r.standing);
  const auto figures = [&](auto figure) {
    std::string text = figure(r);
    if (readings.size() > 1 && figure(readings.back()) != text) {
      text = words.fill("balance.pair", {text, figure(readings.back())});
    }
    return text;
  };
  std::string text = words.fill(key, depth,
                                {name, figures([](const Reading& x) { return times(x.speed); }),
                                 figures([](const Reading& x) { return times(x.made); }),
                                 figures([](const Reading& x) { return percent(x.against_usual); }),
                                 figures([](const Reading& x) { return look::number(std::abs(x.percent_a_day), 1); }),
                                 figures([](const Reading& x) { return percent(1.0 / std::max(x.speed, 1e-6)); })});
  const std::string why = cause(r, words, depth);
  if (!why.empty()) text += " " + why;
  return text;
}

struct Summary {
  double lowest = 1e9;
  double days_below = 0.0;
};

Summary summary(const Run& run, Which which) {
  Summary s;
  const double limit = which == Which::c3 ? run.story().laboratory.c3.low : run.story().laboratory.c4.low;
  for (double day = 0.0; day <= run.last_day(); day += 1.0) {
    const double level = which == Which::c3 ? run.c3(day) : run.c4(day);
    s.lowest = std::min(s.lowest, level);
    if (level < limit) s.days_below += 1.0;
  }
  return s;
}

}  // namespace

Reading read_balance(const Run& run, double day, Which which) {
  const readout::FlowPair pair = run.flows(day);
  const readout::Flows& now = which == Which::c3 ? pair.c3 : pair.c4;
  const readout::Flows& usual = which == Which::c3 ? run.usual_flows().c3 : run.usual_flows().c4;
  const scenario::Interval& range = which == Which::c3 ? run.story().laboratory.c3 : run.story().laboratory.c4;
  Reading r;
  r.level = which == Which::c3 ? run.c3(day) : run.c4(day);
  r.against_usual = r.level / std::max(1e-9, which == Which::c3 ? run.usual_c3() : run.usual_c4());
  r.made = now.made / std::max(1e-12, usual.made);
  r.speed = now.share_used() / std::max(1e-12, usual.share_used());
  r.percent_a_day = now.pool > 0.0 ? 100.0 * now.slope / now.pool : 0.0;
  r.below_range = r.level < range.low;
  r.above_range = r.level > range.high;
  if (r.percent_a_day < -0.5) r.trend = Trend::falling;
  if (r.percent_a_day > 0.5) r.trend = Trend::rising;
  const bool faster = r.speed > 1.15;
  if (r.trend == Trend::falling) {
    r.standing = Standing::falling;
  } else if (r.trend == Trend::rising) {
    r.standing = Standing::rising;
  } else if (r.against_usual < 0.9) {
    r.standing = faster ? Standing::low_used_faster : Standing::low_made_less;
  } else if (r.against_usual > 1.1) {
    r.standing = Standing::high;
  } else {
    r.standing = faster ? Standing::masked : Standing::usual;
  }
  return r;
}

std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth) {
  const Reading c3 = read_balance(run, day, Which::c3);
  const Reading c4 = read_balance(run, day, Which::c4);
  std::string text;
  // Alike in standing and in cause: one sentence for the pair.
  if (c3.standing == c4.standing && cause(c3, words, depth) == cause(c4, words, depth)) {
    text = sentence({c3, c4}, words.at("balance.both"), words, depth);
  } else {
    text = sentence({c3}, "C3", words, depth) + " " + sentence({c4}, "C4", words, depth);
  }
  if (c3.below_range && c4.below_range) text += " " + words.at("balance.both_below");
  if (c3.below_range && !c4.below_range) text += " " + words.at("balance.c3_below");
  if (!c3.below_range && c4.below_range) text += " " + words.at("balance.c4_below");
  return text;
}

std::string level_text(double grams_per_litre, Which which, scenario::Unit unit) {
  if (unit == scenario::Unit::g_per_l) return look::number(grams_per_litre, 2);
  const double mg = grams_per_litre * readout::mg_per_dl;
  return look::number(mg, which == Which::c4 && mg < 10.0 ? 1 : 0);
}

const char* unit_text(scenario::Unit unit) {
  return unit == scenario::Unit::g_per_l ? "g/L" : "mg/dL";
}

std::string difference_in_words(const KeptRun& kept, const Run& now, const look::WordBook& words, scenario::Unit unit) {
  std::string text;
  for (const Which which : {Which::c3, Which::c4}) {
    const Summary before = summary(*kept.run, which);
    const Summary after = summary(now, which);
    const std::string name = which == Which::c3 ? "C3" : "C4";
    const double change = after.lowest - before.lowest;
    if (!text.empty()) text += " ";
    const std::string from = level_text(before.lowest, which, unit);
    const std::string to = level_text(after.lowest, which, unit);
    if (from == to) {
      text += words.fill("compare.same_low", {name, to});
    } else {
      text += words.fill(change < 0 ? "compare.lower" : "compare.higher", {name, to, from, unit_text(unit)});
    }
    if (before.days_below != after.days_below) {
      text += " " +
              words.fill("compare.days_below", {look::number(after.days_below, 0), look::number(before.days_below, 0)});
    }
  }
  return text;
}

}  // namespace drawdown::stage
