// One state and one reason.
#include "readout/verdict.hpp"

#include <cmath>

namespace drawdown::readout {

Why why_of(const Tokens& tokens, std::size_t token) {
  if (tokens.is_tissue(token)) return Why::complexes;
  for (const auto& [at, why] : {std::pair{tokens.wear, Why::wear}, std::pair{tokens.given, Why::given},
                                std::pair{tokens.red_cells, Why::red_cells}, std::pair{tokens.fluid, Why::fluid},
                                std::pair{tokens.loop, Why::loop}, std::pair{tokens.c1_free, Why::c1_free},
                                std::pair{tokens.taken_out, Why::taken_out}, std::pair{tokens.lost, Why::lost},
                                std::pair{tokens.leak, Why::leak}, std::pair{tokens.volume, Why::volume},
                                std::pair{tokens.before, Why::before}}) {
    if (token == at) return why;
  }
  return Why::made;
}

namespace {

// The token with the largest debt of the sign `way`; tissues together.
std::size_t largest(const Tokens& tokens, const AccountOf& account, double way) {
  double tissues = 0.0;
  std::size_t most = tokens.made;
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    if (tokens.is_tissue(t)) {
      tissues += way * account.debts[t];
    } else if (way * account.debts[t] > way * account.debts[most]) {
      most = t;
    }
  }
  return tissues > way * account.debts[most] ? tokens.first_tissue : most;
}

}  // namespace

bool operator==(const Verdict& a, const Verdict& b) {
  return a.state == b.state && a.slowly == b.slowly && a.why == b.why;
}

Verdict verdict_of(const Tokens& tokens, const AccountOf& account, double lowest) {
  Verdict v;
  const double off = account.against_usual - 1.0;
  v.slowly = account.trend == LevelTrend::slowly_falling || account.trend == LevelTrend::slowly_filling;
  const bool moves = account.trend != LevelTrend::holding && !(v.slowly && std::abs(off) <= least_debt);
  if (moves) {
    v.state = account.slope < 0.0 ? LevelState::falling : LevelState::filling;
    v.why = why_of(tokens, cause_of_trend(tokens, account));
    const double owed = account.debts[tokens.made];
    if (v.why == Why::made && (account.slope < 0.0 ? owed > 0.0 : owed < 0.0)) v.why = Why::again;
    return v;
  }
  v.slowly = false;
  if (std::abs(off) > near_usual) {
    v.state = off < 0.0 ? LevelState::below : LevelState::above;
    v.why = why_of(tokens, largest(tokens, account, off < 0.0 ? -1.0 : 1.0));
  } else if (account.tap >= wide && account.drain >= wide) {
    v.state = LevelState::hidden;
  } else if (account.usual < lowest) {
    v.state = LevelState::usual_low;
  }
  return v;
}

}  // namespace drawdown::readout
