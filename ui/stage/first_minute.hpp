// The first minute: the one thing the program is about, done by hand on the steady day - raise the complexes, watch the
// level fall, raise the liver, watch it rise. Each part changes the state in place.
#pragma once

#include <string>

#include "stage/action.hpp"

namespace drawdown::stage::first_minute {

// Asks for its story: the path to read, or empty if the shipped stories are not there.
[[nodiscard]] std::string ask(AppState& state);
// A story was opened: if it was asked for, the first minute begins on it; else it is over.
void begin(AppState& state);
// A lever was moved; if the one that is waited for went far enough up, it goes on when the hand lets go.
void pulled(AppState& state, const MoveLever& move);
void let_go(AppState& state);
// Time went on: stops when the level has moved enough, or after long enough.
void watch(AppState& state);

}  // namespace drawdown::stage::first_minute
