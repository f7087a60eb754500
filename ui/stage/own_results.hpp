// What happens to a person's own results in the state: read, judged again, forgotten.
#pragma once

#include <string>

#include "stage/action.hpp"

namespace drawdown::stage::own_results {

// A file's text takes the place of what was there, and the view turns to it.
void take(AppState& state, const ResultsText& results);
// Lines typed or pasted come after those there.
void add(AppState& state, const std::string& text);
// After an answer about unit or date order.
void read_again(AppState& state);
// After the noise was changed.
void judge_again(AppState& state);
void stop_fit(AppState& state);

}  // namespace drawdown::stage::own_results
