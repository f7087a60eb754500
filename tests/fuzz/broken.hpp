// What must hold of every state, whatever was done to come to it; each answers in words what does not, empty = all
// holds.
#pragma once

#include <string>

#include "stage/state.hpp"

namespace drawdown::fuzz {

// Numbers finite and in range, indices inside what they point into.
[[nodiscard]] std::string broken(const stage::AppState& state);
// The same story told with the same what-ifs.
[[nodiscard]] bool same(const stage::Document& a, const stage::Document& b);
// After forgetting: own results as on the first day, and no mark of them in any text of the state or of the session.
[[nodiscard]] std::string remembered(const stage::AppState& state);
// Whether a text holds one of the world's marks.
[[nodiscard]] bool marked(const std::string& text);

}  // namespace drawdown::fuzz
