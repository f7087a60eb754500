// From the account's tokens to what is said.
#include "stage/reading.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace drawdown::stage {

namespace {

bool acute_phase_falls(const Run& run, double day) {
  const std::size_t at = run.body().model->known().acute_phase;
  const auto signal = [&](double of) { return run.state(of)[at]; };
  return signal(std::max(0.0, day - 1.0)) - signal(day) > 1e-3;
}

Turn turn_of(const Run& run, double day, const Reading& r) {
  if (r.verdict.state == readout::LevelState::falling) {
    if (!(r.mover.debt > 0.0)) return Turn::pulled_more;
    if (r.mover.cause != Cause::made) return Turn::lifted_less;
    return acute_phase_falls(run, day) ? Turn::eases : Turn::again;
  }
  if (r.verdict.state != readout::LevelState::filling) return Turn::none;
  if (!(r.mover.debt < 0.0)) return Turn::lifted_more;
  if (r.mover.cause == Cause::taken_out) return Turn::refills;
  return r.mover.cause == Cause::made ? Turn::recovers : Turn::pulled_less;
}

}  // namespace

bool without_complexes(const Run& run, double day) {
  const readout::Flows now = run.flows(day).c3;
  const double tissue = std::accumulate(now.spent.begin() + body::first_tissue_place, now.spent.end(), 0.0);
  return tissue > 0.01 * now.used() && now.classical < 0.05 * tissue;
}

bool Reading::names(Cause cause) const {
  const auto among = [&](const std::vector<Owed>& owed) {
    return std::any_of(owed.begin(), owed.end(), [&](const Owed& one) { return one.cause == cause; });
  };
  return among(down) || among(up) || (moves() && mover.cause == cause);
}

Reading read_balance(const Run& run, const readout::Account& account, double day, Which which) {
  const std::size_t p = which == Which::c3 ? c3_in_account : c4_in_account;
  const scenario::Interval& range = which == Which::c3 ? run.story().laboratory.c3 : run.story().laboratory.c4;
  const readout::Tokens& tokens = account.tokens();
  Reading r;
  r.account = account.at(p, 24.0 * day);
  r.verdict = readout::verdict_of(tokens, r.account, range.low);
  r.born = account.born(p);
  r.below_range = r.account.level < range.low;
  r.above_range = r.account.level > range.high;
  const bool surfaces = which == Which::c3 && without_complexes(run, day);
  const auto as_said = [&](Cause cause) { return surfaces && cause == Cause::complexes ? Cause::surfaces : cause; };
  r.verdict.why = as_said(r.verdict.why);
  std::array<Owed, readout::why_names.size()> all{};
  for (std::size_t i = 0; i < all.size(); ++i) all.at(i).cause = static_cast<Cause>(i);
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    Owed& owed = all.at(static_cast<std::size_t>(as_said(readout::why_of(tokens, t))));
    owed.debt += r.account.debts[t];
    owed.slope += r.account.debt_slopes[t];
  }
  std::vector<Owed> large;
  for (const Owed& one : all) {
    if (r.account.usual > 0.0 && std::abs(one.debt) >= readout::least_debt * r.account.usual) large.push_back(one);
  }
  std::stable_sort(large.begin(), large.end(),
                   [](const Owed& a, const Owed& b) { return std::abs(a.debt) > std::abs(b.debt); });
  for (const Owed& one : large) (one.debt < 0.0 ? r.down : r.up).push_back(one);
  r.all.assign(all.begin(), all.end());
  const Cause mover = readout::why_of(tokens, readout::cause_of_trend(tokens, r.account));
  r.mover = all.at(static_cast<std::size_t>(as_said(mover)));
  r.turn = turn_of(run, day, r);
  return r;
}

Reading read_balance(const Run& run, double day, Which which) {
  return read_balance(run, account_of(run), day, which);
}

}  // namespace drawdown::stage
