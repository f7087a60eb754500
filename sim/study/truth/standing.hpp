// What each figure of the ledger is worth, and what would break it: judged by hand, row by row.
#pragma once

#include <vector>

#include "study/truth.hpp"

namespace drawdown::study::truth {

struct Standing {
  const char* id;
  TruthKind kind;
  const char* constant;  // tuned against it, or what it restates
  const char* breaks;    // truth/world.hpp; empty: nothing in the model can (arithmetic), or nothing tried does
  const char* disputed = "";
};
[[nodiscard]] const std::vector<Standing>& standings();

// Gives an entry its standing; one nobody judged stays unsaid.
void stand(TruthEntry& entry);

}  // namespace drawdown::study::truth
