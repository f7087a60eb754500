// The account of a run (readout/account.hpp) as a table, with the sentence the screen says beside it.
#pragma once

#include <string>

#include "look/words.hpp"
#include "simulate.hpp"

namespace drawdown::command {

// CSV with nine digits: a row every so many hours, and one before and one after each event (`moment` says which). First
// two comment lines as in course_csv. The run must have started.
[[nodiscard]] std::string account_csv(const Run& run, double every_hours, const look::WordBook& words,
                                      look::Depth depth);

}  // namespace drawdown::command
