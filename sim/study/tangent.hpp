// How C3 and C4 move with several parameters at once: the variational equations S' = J(x(t)) S + df/du du/dp along a
// finished run, all parameters in one pass. An L-stable method of order two (Alexander 1977, SIAM J Numer Anal 14:1006:
// two stages, one factorisation each) on the run's own steps, halved; the settled start by implicit Euler over growing
// steps. Good to about a per cent (tests hold it to the precise ones of sensitivity.hpp), at a tenth of their cost.
#pragma once

#include <functional>
#include <vector>

#include "simulate.hpp"
#include "study/sensitivity.hpp"

namespace drawdown::study {

// A parameter that moves one lever by `share(day)` for one of it; share(-1) is the start that has settled before day 0.
struct Direction {
  body::LeverId lever;
  LeverShare share;
};

// g/L for one of each parameter on these days, in order of day. Throws std::runtime_error if a pivot cannot be trusted.
[[nodiscard]] std::vector<LevelSlopes> tangents(const Run& run, const std::vector<Direction>& directions,
                                                const std::vector<double>& days);

}  // namespace drawdown::study
