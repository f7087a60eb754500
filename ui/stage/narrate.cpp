// From flows to words.
#include "stage/narrate.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <vector>

namespace drawdown::stage {

namespace {

constexpr double most_a_day = 100.0;  // %

std::string percent(double fraction) {
  return look::number(100.0 * fraction, 0);
}

// Where more is spent than in the quiet state, as a share of the pool a day: complexes in tissue, red cells, without
// complexes (C3 by the alternative pathway, C4 in the fluid), ordinary turnover.
Claim place_of_use(const readout::Flows& now, const readout::Flows& usual, Which which) {
  const auto share = [](const readout::Flows& f, double grams) { return f.pool > 0.0 ? grams / f.pool : 0.0; };
  const auto at = [](const readout::Flows& f, readout::Place p) { return f.spent[static_cast<std::size_t>(p)]; };
  const auto in_tissue = [](const readout::Flows& f) {
    return std::accumulate(f.spent.begin() + body::first_tissue_place, f.spent.end(), 0.0);
  };
  const auto more = [&](auto of) { return share(now, of(now)) - share(usual, of(usual)); };
  const double tissue = more(in_tissue);
  const double red_cells = more([&](const readout::Flows& f) { return at(f, readout::Place::red_cells); });
  const double fluid = more([&](const readout::Flows& f) { return at(f, readout::Place::fluid); });
  const double wear = more([](const readout::Flows& f) { return f.ordinary; });
  // C3 spent in tissue without the classical pathway having begun it is no work of complexes.
  const double classical = more([](const readout::Flows& f) { return f.classical; });
  const bool by_complexes = which == Which::c4 || classical > 0.05 * tissue;
  const double most = std::max({tissue, red_cells, fluid, wear});
  if (most == wear) return Claim::wear;
  if (most == red_cells) return Claim::red_cells;
  if (most == tissue && by_complexes) return Claim::complexes;
  return which == Which::c3 ? Claim::alternative : Claim::fluid;
}

// What moves the level: of the terms that push the way it goes the largest, and each that weighs half as much.
std::vector<Claim> drivers(const readout::Flows& f, double usual_made, Trend trend) {
  const double used_over_made = f.used() - f.made;
  if (trend == Trend::steady) {
    if (std::abs(used_over_made) <= 0.03 * usual_made) return {Claim::even};
    return {used_over_made > 0.0 ? Claim::used_more : Claim::made_more};
  }
  const bool falls = trend == Trend::falling;
  std::vector<std::pair<double, Claim>> pushes;
  if (falls) {
    pushes = {
        {f.taken_out(), Claim::taken_out}, {used_over_made, Claim::used_more}, {-f.net_back(), Claim::into_tissue}};
  } else {
    pushes = {{f.given(), Claim::given}, {-used_over_made, Claim::made_more}, {f.net_back(), Claim::out_of_tissue}};
  }
  std::stable_sort(pushes.begin(), pushes.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<Claim> said;
  for (const auto& [grams, claim] : pushes) {
    if (grams > 0.0 && grams >= 0.5 * pushes.front().first) said.push_back(claim);
  }
  return said;
}

void add_causes(Reading& r, const readout::Flows& now, const readout::Flows& usual, Which which) {
  const double faster = r.speed - 1.0;
  const double more = r.made - 1.0;
  const auto say_use = [&] {
    if (faster > least_cause) r.claims.push_back(place_of_use(now, usual, which));
    if (faster < -least_cause) r.claims.push_back(Claim::slower);
  };
  const auto say_made = [&] {
    if (more > least_cause) r.claims.push_back(Claim::more_made);
    if (more < -least_cause) r.claims.push_back(Claim::less_made);
  };
  const bool up = r.trend == Trend::rising || r.standing == Standing::above;
  // What pushes the way it went; the second of the two only if it weighs half as much as the first.
  const double use_push = up ? std::max(0.0, -faster) : std::max(0.0, faster);
  const double made_push = up ? std::max(0.0, more) : std::max(0.0, -more);
  if (use_push > least_cause && use_push >= 0.5 * made_push) say_use();
  if (made_push > least_cause && made_push >= 0.5 * use_push) say_made();
  const bool use_said = use_push > least_cause && use_push >= 0.5 * made_push;
  const bool made_said = made_push > least_cause && made_push >= 0.5 * use_push;
  // A level that climbs although more is used than usual, or falls although more is made, says so; and nothing that
  // stands out beside it in the table goes unsaid.
  if (!use_said && ((r.trend == Trend::rising && faster > least_cause) || std::abs(faster) > near_usual)) say_use();
  if (!made_said && ((r.trend == Trend::falling && more > least_cause) || std::abs(more) > near_usual)) say_made();
  const bool towards = r.trend == Trend::rising ? r.against_usual < 1.0 : r.against_usual > 1.0;
  const bool nothing = use_push <= least_cause && made_push <= least_cause;
  if (r.trend != Trend::steady && towards && nothing) r.claims.push_back(Claim::towards_usual);
}

// One sentence for one protein, or for both with their figures side by side. `beside`: the other one is told as away
// from its usual level, so one that is near it says by how much, and nobody thinks that it did not move.
std::string sentence(const std::vector<Reading>& readings, const std::string& name, const look::WordBook& words,
                     look::Depth depth, bool beside = false) {
  const auto figures = [&](auto figure) {
    const std::string first = figure(readings.front());
    const std::string last = figure(readings.back());
    return first == last ? first : words.fill("balance.pair", {first, last});
  };
  const int decimals = depth == look::Depth::mechanism ? 2 : 1;
  // While plasma is exchanged, or flows back, a day would lose or gain several times what there is: then by the hour.
  const bool by_hour = std::any_of(readings.begin(), readings.end(),
                                   [](const Reading& x) { return std::abs(x.percent_a_day) >= most_a_day; });
  const std::string pace = words.fill(
      by_hour ? "balance.an_hour" : "balance.a_day",
      {figures([&](const Reading& x) { return look::number(std::abs(x.percent_a_day) / (by_hour ? 24.0 : 1.0), 1); })});
  const auto fill = [&](const std::string& key) {
    return words.fill(key, depth,
                      {name, figures([&](const Reading& x) { return look::number(x.speed, decimals); }),
                       figures([&](const Reading& x) { return look::number(x.made, decimals); }),
                       figures([](const Reading& x) { return percent(x.against_usual); }), pace,
                       figures([](const Reading& x) { return percent(1.0 / std::max(x.speed, 1e-6)); })});
  };
  const bool near =
      beside && readings.front().standing == Standing::usual && percent(readings.front().against_usual) != percent(1.0);
  std::string text =
      fill(near ? "balance.usual_beside" : "balance." + look::name_of(standing_names, readings.front().standing));
  for (const Claim claim : readings.front().claims) text += " " + fill("says." + look::name_of(claim_names, claim));
  return text;
}

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

bool Reading::says(Claim claim) const {
  return std::find(claims.begin(), claims.end(), claim) != claims.end();
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
  // What is as good as gone neither falls nor rises.
  r.percent_a_day = now.pool > 1e-6 * usual.pool ? 100.0 * now.slope / now.pool : 0.0;
  r.below_range = r.level < range.low;
  r.above_range = r.level > range.high;
  if (r.percent_a_day < -0.5) r.trend = Trend::falling;
  if (r.percent_a_day > 0.5) r.trend = Trend::rising;
  if (r.trend == Trend::falling) {
    r.standing = Standing::falling;
  } else if (r.trend == Trend::rising) {
    r.standing = Standing::rising;
  } else if (r.against_usual < 1.0 - near_usual) {
    r.standing = Standing::below;
  } else if (r.against_usual > 1.0 + near_usual) {
    r.standing = Standing::above;
  } else {
    r.standing = r.speed > 1.0 + near_usual && r.made > 1.0 + near_usual ? Standing::masked : Standing::usual;
  }
  if (r.standing == Standing::masked) {
    r.claims = {place_of_use(now, usual, which)};
    return r;
  }
  r.claims = drivers(now, usual.made, r.trend);
  const bool exchange = r.says(Claim::taken_out) || r.says(Claim::given);
  if (r.standing != Standing::usual && !exchange) add_causes(r, now, usual, which);
  if (r.standing == Standing::below && r.speed > 1.0 + near_usual) r.claims.push_back(Claim::lasts_shorter);
  return r;
}

std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth) {
  const Reading c3 = read_balance(run, day, Which::c3);
  const Reading c4 = read_balance(run, day, Which::c4);
  std::string text;
  // Alike in standing and in all that is said: one sentence for the pair.
  if (c3.standing == c4.standing && c3.claims == c4.claims) {
    text = sentence({c3, c4}, words.at("balance.both"), words, depth);
  } else {
    const auto away = [](const Reading& r) { return r.standing != Standing::usual && r.standing != Standing::masked; };
    text = sentence({c3}, "C3", words, depth, away(c4)) + " " + sentence({c4}, "C4", words, depth, away(c3));
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
