// The title over the picture: what both levels do and why, in one line when they agree, else in a line each.
#pragma once

#include <string>
#include <vector>

#include "look/words.hpp"
#include "readout/verdict.hpp"
#include "stage/state.hpp"

namespace drawdown::stage {

// C3's and C4's on a day of a run whose account it is.
struct VerdictPair {
  readout::Verdict c3, c4;
};
[[nodiscard]] VerdictPair verdicts(const Run& run, const readout::Account& account, double day);
// One line, or two: C3's, C4's.
[[nodiscard]] std::vector<std::string> verdict_lines(const VerdictPair& pair, const look::WordBook& words);

}  // namespace drawdown::stage
