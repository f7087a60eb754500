// What happens to a person's own results in the state: read, judged again, forgotten.
#pragma once

#include <string>

#include "stage/action.hpp"

namespace drawdown::stage::own_results {

// A file's text takes the place of what was there, and the view turns to it.
void take(AppState& state, const ResultsText& results);
// Lines typed or pasted come after those there.
void add(AppState& state, const std::string& text);
// A pasted text of several lines while there are results: whose it is is asked first, two people's never mix.
void paste(AppState& state, const std::string& text);
void settle_pending(AppState& state, bool same_person);
// Takes a line of the text out of it and into the line being typed.
void edit_line(AppState& state, std::size_t line);
// Nothing of the results is left in the state, nor what names their file; what still comes of them is dropped.
void forget(AppState& state);
// After an answer about unit or date order.
void read_again(AppState& state);
// After the noise was changed.
void judge_again(AppState& state);
void stop_fit(AppState& state);

}  // namespace drawdown::stage::own_results
