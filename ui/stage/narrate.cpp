// From an account to words.
#include "stage/narrate.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace drawdown::stage {

namespace {

constexpr double most_a_day = 100.0;       // % of usual
constexpr double volume_as_usual = 0.005;  // of usual

// Those that are said together: one protein, or both.
using Alike = std::vector<const Reading*>;

// Their figures: one if both have the same.
template <class Figure>
std::string figures(const Alike& alike, const look::WordBook& words, Figure figure) {
  const std::string first = figure(*alike.front());
  const std::string last = figure(*alike.back());
  return first == last ? first : words.fill("balance.pair", {first, last});
}

// What stands first: state, and of a level that moves its place against usual.
std::string state_key(const Reading& r) {
  if (r.verdict.state == readout::LevelState::usual) {
    return std::abs(r.account.against_usual - 1.0) <= readout::least_debt ? "usual" : "near";
  }
  return (r.verdict.slowly ? "slowly_" : "") +
         std::string(readout::level_state_names.at(static_cast<std::size_t>(r.verdict.state)));
}
std::string place_key(const Reading& r) {
  const double off = r.account.against_usual - 1.0;
  if (std::abs(off) <= readout::near_usual) return "near_usual";
  return off < 0.0 ? "below_usual" : "above_usual";
}
// While plasma is exchanged, or flows back, a day would move it by more than there is: then by the hour.
bool by_the_hour(const Reading& r) {
  return r.moves() && std::abs(r.account.slope) >= most_a_day;
}
bool volume_differs(const Reading& r) {
  return std::abs(r.account.volume - 1.0) >= volume_as_usual;
}

std::string lead(const Alike& alike, const std::string& name, const look::WordBook& words, look::Depth depth) {
  const auto number = [&](auto value, int decimals) {
    return figures(alike, words, [&](const Reading& r) { return look::number(value(r), decimals); });
  };
  const bool hour = by_the_hour(*alike.front());
  const std::string pace = number([&](const Reading& r) { return std::abs(r.account.slope) / (hour ? 24.0 : 1.0); }, 1);
  return words.fill("balance." + state_key(*alike.front()), depth,
                    {name, words.at("balance." + place_key(*alike.front())),
                     words.fill(hour ? "balance.an_hour" : "balance.a_day", {pace}),
                     number([](const Reading& r) { return 100.0 * r.account.against_usual; }, 0),
                     number([](const Reading& r) { return r.account.tap; }, 2),
                     number([](const Reading& r) { return r.account.drain; }, 2)});
}

// The i-th cause of a list, with what it owes at the deepest depth.
template <class Of>
std::string named(const Alike& alike, Of of, bool lifts, bool slope, const look::WordBook& words, look::Depth depth) {
  std::string name = cause_text(of(*alike.front()).cause, lifts, words);
  if (depth != look::Depth::mechanism) return name;
  const std::string owed = figures(alike, words, [&](const Reading& r) {
    const Owed& one = of(r);
    return look::number(slope ? one.slope : one.debt, 3);
  });
  return words.fill(slope ? "balance.owed_a_day" : "balance.owed", {name, owed});
}

std::string moved_by(const Alike& alike, const look::WordBook& words, look::Depth depth) {
  const Reading& r = *alike.front();
  if (!r.moves()) return "";
  const bool lifts =
      r.turn == Turn::lifted_more || r.turn == Turn::lifted_less || r.turn == Turn::again || r.turn == Turn::eases;
  const auto mover = [](const Reading& x) -> const Owed& { return x.mover; };
  const std::string cause = named(alike, mover, lifts, true, words, depth);
  return " " + words.fill("turn." + look::name_of(turn_names, r.turn), depth, {cause});
}

// What is said of each protein beside that: lists of causes, and what usual is against.
enum class Part { down, up, born };

// Whether the sentence before has said that something pulls, or that something lifts.
bool also(const Reading& r, bool up) {
  if (up) return r.turn == Turn::lifted_more || r.turn == Turn::lifted_less;
  return r.turn == Turn::pulled_more || r.turn == Turn::pulled_less || r.turn == Turn::refills;
}
// The list less what it named.
std::vector<Owed> listed(const Reading& r, bool up) {
  std::vector<Owed> all = up ? r.up : r.down;
  if (also(r, up)) {
    all.erase(std::remove_if(all.begin(), all.end(), [&](const Owed& one) { return one.cause == r.mover.cause; }),
              all.end());
  }
  return all;
}

bool same(const Reading& a, const Reading& b, Part part) {
  if (part == Part::born) {
    return a.born.genes == b.born.genes && a.born.liver == b.born.liver && a.born.supply == b.born.supply;
  }
  const bool up = part == Part::up;
  const std::vector<Owed> one = listed(a, up);
  const std::vector<Owed> other = listed(b, up);
  return also(a, up) == also(b, up) && std::equal(one.begin(), one.end(), other.begin(), other.end(),
                                                  [](const Owed& x, const Owed& y) { return x.cause == y.cause; });
}

std::string told(const Alike& alike, Part part, const look::WordBook& words, look::Depth depth) {
  const Reading& r = *alike.front();
  if (part == Part::born) {
    if (!r.born.any()) return "";
    return words.fill("balance.born", {born_text(r.born, words), figures(alike, words, [](const Reading& x) {
                                         return look::number(100.0 * x.born.share, 0);
                                       })});
  }
  const bool up = part == Part::up;
  std::vector<std::string> items;
  for (const Owed& one : listed(r, up)) {
    const auto of = [&](const Reading& x) -> const Owed& {
      const std::vector<Owed>& all = up ? x.up : x.down;
      return *std::find_if(all.begin(), all.end(), [&](const Owed& y) { return y.cause == one.cause; });
    };
    items.push_back(named(alike, of, up, false, words, depth));
  }
  if (items.empty()) return "";
  return words.fill(std::string(up ? "balance.held_up" : "balance.pulled_down") + (also(r, up) ? "_also" : ""),
                    {in_a_row(items, words)});
}

// A sentence after a name and a colon. Its first letter is one of a to z in every language so far; others stay.
std::string after_colon(std::string sentence) {
  if (!sentence.empty() && sentence[0] >= 'A' && sentence[0] <= 'Z') sentence[0] = static_cast<char>(sentence[0] + 32);
  return sentence;
}

std::string all_told(const Alike& alike, const std::string& name, const look::WordBook& words, look::Depth depth) {
  return lead(alike, name, words, depth) + moved_by(alike, words, depth);
}

}  // namespace

std::string in_a_row(const std::vector<std::string>& items, const look::WordBook& words) {
  std::string text;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) text += words.at(i + 1 == items.size() ? "balance.and" : "balance.comma");
    text += items[i];
  }
  return text;
}

std::string cause_text(Cause cause, bool lifts, const look::WordBook& words) {
  return words.at(std::string(lifts ? "lifts." : "pulls.") + readout::why_names.at(static_cast<std::size_t>(cause)));
}

std::string born_text(const readout::Born& born, const look::WordBook& words) {
  std::vector<std::string> items;
  if (born.genes) items.push_back(words.at("balance.usual_genes"));
  if (born.liver) items.push_back(words.at("balance.usual_liver"));
  if (born.supply) items.push_back(words.at("balance.usual_supply"));
  return in_a_row(items, words);
}

std::string share_text(double share, int decimals, const look::WordBook& words) {
  if (share >= 1.0) return words.fill("numbers.times", {look::number(share, std::max(1, decimals))});
  return words.fill("numbers.percent", {look::number(100.0 * share, decimals)});
}

int decimals_to_differ(double a, double b, int least) {
  int decimals = least;
  while (decimals < 5 && look::number(a, decimals) == look::number(b, decimals)) decimals += 1;
  return decimals;
}

std::string balance_sentence(const Run& run, const readout::Account& account, double day, const look::WordBook& words,
                             look::Depth depth) {
  const Reading c3 = read_balance(run, account, day, Which::c3);
  const Reading c4 = read_balance(run, account, day, Which::c4);
  const bool together = state_key(c3) == state_key(c4) && c3.turn == c4.turn && by_the_hour(c3) == by_the_hour(c4) &&
                        (!c3.moves() || (place_key(c3) == place_key(c4) && c3.mover.cause == c4.mover.cause));
  std::string text;
  std::string own_c3;
  std::string own_c4;
  if (together) {
    text = all_told({&c3, &c4}, words.at("balance.both"), words, depth);
  } else {
    own_c3 = all_told({&c3}, "C3", words, depth);
    own_c4 = all_told({&c4}, "C4", words, depth);
  }
  const auto add = [](std::string& to, const std::string& name, const std::string& sentence) {
    if (sentence.empty()) return;
    to += to.empty() ? name + ": " + after_colon(sentence) : " " + sentence;
  };
  for (const Part part : {Part::down, Part::up}) {
    if (together && same(c3, c4, part)) {
      const std::string sentence = told({&c3, &c4}, part, words, depth);
      if (!sentence.empty()) text += " " + sentence;
    } else {
      add(own_c3, "C3", told({&c3}, part, words, depth));
      add(own_c4, "C4", told({&c4}, part, words, depth));
    }
  }
  const bool born_alike = same(c3, c4, Part::born);
  std::string born;
  if (born_alike) {
    add(born, words.at("balance.both"), told({&c3, &c4}, Part::born, words, depth));
  } else {
    add(own_c3, "C3", told({&c3}, Part::born, words, depth));
    add(own_c4, "C4", told({&c4}, Part::born, words, depth));
  }
  for (const std::string& own : {own_c3, own_c4, born}) {
    if (!own.empty()) text += (text.empty() ? "" : " ") + own;
  }
  if (depth != look::Depth::plain && volume_differs(c3)) {
    text += " " + words.fill("balance.volume", {look::number(c3.account.volume, 2)});
  }
  if (c3.below_range && c4.below_range) text += " " + words.at("balance.both_below");
  if (c3.below_range && !c4.below_range) text += " " + words.at("balance.c3_below");
  if (!c3.below_range && c4.below_range) text += " " + words.at("balance.c4_below");
  return text;
}

std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth) {
  return balance_sentence(run, account_of(run), day, words, depth);
}

std::string level_text(double grams_per_litre, Which which, scenario::Unit unit) {
  if (unit == scenario::Unit::g_per_l) return look::number(grams_per_litre, 2);
  const double mg = grams_per_litre * readout::mg_per_dl;
  return look::number(mg, which == Which::c4 && mg < 10.0 ? 1 : 0);
}

std::string level_text_beside(double level, const scenario::Interval& range, Which which, scenario::Unit unit) {
  std::string text = level_text(level, which, unit);
  const double to = unit == scenario::Unit::g_per_l ? 1.0 : readout::mg_per_dl;
  for (const double limit : {range.low, range.high}) {
    if (std::abs(level - limit) < 1e-9 || text != level_text(limit, which, unit)) continue;
    text =
        look::number(level * to, decimals_to_differ(level * to, limit * to, unit == scenario::Unit::g_per_l ? 3 : 1));
  }
  return text;
}

const char* unit_text(scenario::Unit unit) {
  return unit == scenario::Unit::g_per_l ? "g/L" : "mg/dL";
}

}  // namespace drawdown::stage
