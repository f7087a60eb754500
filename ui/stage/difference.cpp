// What two runs differ in, in words.
#include <algorithm>

#include "stage/narrate.hpp"

namespace drawdown::stage {

namespace {

struct Summary {
  double lowest = 1e9;
  double days_below = 0.0;
};

Summary summary(const Run& run, Which which) {
  Summary s;
  const double limit = which == Which::c3 ? run.story().laboratory.c3.low : run.story().laboratory.c4.low;
  // Whole days: the story's last moment begins no further one.
  for (double day = 0.0; day < run.last_day(); day += 1.0) {
    const double level = which == Which::c3 ? run.c3(day) : run.c4(day);
    s.lowest = std::min(s.lowest, level);
    if (level < limit) s.days_below += 1.0;
  }
  return s;
}

}  // namespace

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
