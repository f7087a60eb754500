// Holding an entry of the ledger to its range, written a second time where it is called.
#pragma once

#include "study/truth.hpp"

namespace published {

// A chapter of the ledger, run once for people of seed 1.
const std::vector<drawdown::study::TruthEntry>& chapter(drawdown::study::TruthChapter which);

// The entry exists, names its source, has just this range, and the model is inside.
void holds(const char* id, double low, double high, const char* source);
// The same, but the model is outside, known_limits() says so with its figure, and it is told as not met.
void known_limit(const char* id, double low, double high, const char* source);

}  // namespace published
