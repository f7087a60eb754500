// What two runs differ in, in words: what was changed, the level on the day with its parts, and the whole story.
#include <algorithm>
#include <array>
#include <cmath>

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

constexpr std::size_t causes = readout::why_names.size();
using Changed = std::array<bool, causes>;

// Which causes a lever can be blamed for: what it acts on first. What else differs follows from that.
void blame(const body::Lever& lever, Changed& to) {
  const auto add = [&](std::initializer_list<Cause> some) {
    for (const Cause cause : some) to.at(static_cast<std::size_t>(cause)) = true;
  };
  const auto uses = [&] {
    add({Cause::complexes, Cause::surfaces, Cause::red_cells, Cause::fluid, Cause::loop, Cause::c1_free});
  };
  switch (lever.group) {
    case body::LeverGroup::complexes:
      uses();
      if (lever.name == "vascular_leak") add({Cause::leak});
      break;
    case body::LeverGroup::production:
      add({Cause::made});
      if (lever.name == "pregnancy") add({Cause::volume});
      break;
    case body::LeverGroup::inherited:
      uses();
      add({Cause::made});
      break;
    case body::LeverGroup::treatment:
      if (lever.name == "plasma_exchange" || lever.name == "exchange_plasma") {
        add({Cause::taken_out, Cause::given});
      } else {
        uses();
        add({Cause::made});
      }
      break;
    case body::LeverGroup::person:
      add({Cause::made, Cause::wear, Cause::volume});
      break;
    case body::LeverGroup::laboratory:
      break;
  }
}

// The levers that have differed on any day up to this one.
std::vector<std::size_t> changed_levers(const Run& a, const Run& b, double day) {
  std::vector<double> moments{0.0, day};
  for (const Run* run : {&a, &b}) {
    for (const solve::Segment& segment : scenario::Timeline(run->story()).segments()) {
      for (const double hour : {segment.start, 0.5 * (segment.start + segment.end)}) {
        if (hour <= 24.0 * day) moments.push_back(hour / 24.0);
      }
    }
  }
  std::vector<std::size_t> changed;
  const std::size_t levers = std::min(a.story().levers.size(), b.story().levers.size());
  for (std::size_t i = 0; i < levers; ++i) {
    const bool differs = a.story().levers[i] != b.story().levers[i] ||
                         std::any_of(moments.begin(), moments.end(),
                                     [&](double at) { return std::abs(a.lever(i, at) - b.lever(i, at)) > 1e-12; });
    if (differs) changed.push_back(i);
  }
  return changed;
}

// What each cause owes, whatever its size.
std::array<double, causes> owed(const Reading& r) {
  std::array<double, causes> all{};
  for (const Owed& one : r.all) all.at(static_cast<std::size_t>(one.cause)) += one.debt;
  return all;
}

struct Told {
  const look::WordBook& words;
  scenario::Unit unit;
  Which which;
  [[nodiscard]] std::string level(double grams) const { return level_text(grams, which, unit); }
  [[nodiscard]] std::string part(const std::string& name, double change) const {
    return words.fill("compare.part", {name, (change < 0.0 ? "-" : "+") + level(std::abs(change)), unit_text(unit)});
  }
};

// Usual and debts of one protein, of which the causes that were changed come first.
std::string parts(const Reading& before, const Reading& after, const Changed& changed, const Told& told) {
  const double least = readout::least_debt * std::max(before.account.usual, after.account.usual);
  std::string text;
  const double usual = after.account.usual - before.account.usual;
  if (std::abs(usual) >= least && least > 0.0) {
    text += " " + told.words.fill("compare.usual", {told.level(after.account.usual), told.level(before.account.usual),
                                                    unit_text(told.unit), look::number(100.0 * after.born.share, 0),
                                                    look::number(100.0 * before.born.share, 0)});
  }
  const auto was = owed(before);
  const auto is = owed(after);
  std::vector<std::pair<double, std::size_t>> sizes;
  for (std::size_t i = 0; i < causes; ++i) {
    if (least > 0.0 && std::abs(is.at(i) - was.at(i)) >= least) sizes.emplace_back(is.at(i) - was.at(i), i);
  }
  std::stable_sort(sizes.begin(), sizes.end(),
                   [](const auto& a, const auto& b) { return std::abs(a.first) > std::abs(b.first); });
  for (const bool blamed : {true, false}) {
    std::vector<std::string> items;
    for (const auto& [change, i] : sizes) {
      if (changed.at(i) != blamed) continue;
      items.push_back(told.part(cause_text(static_cast<Cause>(i), change > 0.0, told.words), change));
    }
    if (items.empty()) continue;
    text += " " + told.words.fill(blamed ? "compare.through" : "compare.follows", {in_a_row(items, told.words)});
  }
  return text;
}

}  // namespace

std::string difference_in_words(const KeptRun& kept, const Run& now, const readout::Account& account, double day,
                                const look::WordBook& words, scenario::Unit unit) {
  day = std::min({day, kept.run->last_day(), now.last_day()});
  const auto kept_account = kept.account ? kept.account : account_with(kept.run);
  const std::vector<std::size_t> levers = changed_levers(*kept.run, now, day);
  Changed changed{};
  std::vector<std::string> names;
  for (const std::size_t i : levers) {
    const body::Lever& row = now.story().lever_rows()[i];
    blame(row, changed);
    names.push_back(words.at("lever." + row.name));
  }
  constexpr std::size_t most_names = 4;
  if (names.size() > most_names) {
    const std::size_t more = names.size() - most_names + 1;
    names.resize(most_names - 1);
    names.push_back(words.fill("compare.more", {std::to_string(more)}));
  }
  std::string text =
      names.empty() ? words.at("compare.unchanged") : words.fill("compare.changed", {in_a_row(names, words)});
  for (const Which which : {Which::c3, Which::c4}) {
    const std::string name = which == Which::c3 ? "C3" : "C4";
    const Told told{words, unit, which};
    const Reading before = read_balance(*kept.run, *kept_account, day, which);
    const Reading after = read_balance(now, account, day, which);
    const std::string is = told.level(after.account.level);
    const std::string was = told.level(before.account.level);
    const std::string on = look::number(std::floor(day), 0);
    text += " " + (is == was ? words.fill("compare.same_day", {name, on, is, unit_text(unit)})
                             : words.fill("compare.on_day", {name, on, is, was, unit_text(unit)}));
    if (!levers.empty()) text += parts(before, after, changed, told);
    const Summary whole_before = summary(*kept.run, which);
    const Summary whole_after = summary(now, which);
    const std::string from = told.level(whole_before.lowest);
    const std::string to = told.level(whole_after.lowest);
    text += " " + (from == to ? words.fill("compare.same_low", {name, to})
                              : words.fill("compare.lowest", {name, to, from, unit_text(unit)}));
    if (whole_before.days_below != whole_after.days_below) {
      text += " " + words.fill("compare.days_below",
                               {look::number(whole_after.days_below, 0), look::number(whole_before.days_below, 0)});
    }
  }
  return text;
}

std::string difference_in_words(const KeptRun& kept, const Run& now, const look::WordBook& words, scenario::Unit unit) {
  return difference_in_words(kept, now, account_of(now), now.last_day(), words, unit);
}

}  // namespace drawdown::stage
