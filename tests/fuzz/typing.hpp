// Typing into the line of own results, frame by frame, through Dear ImGui's events as the window feeds them: what
// stands in the line must be what edit_line makes of the same keys at once (edit_line itself is held by test_typing).
#pragma once

#include <functional>
#include <string>

#include "stage/action.hpp"

namespace drawdown::fuzz {

struct TypingRules {
  stage::Step (*reduce)(stage::AppState, const stage::Action&) = stage::reduce;  // a broken one in the control
};

// Plays the bytes out as events, at most forty frames. Empty if the line was always what was typed, else what was not.
// The first byte: 1 of 16 draws the whole page of own numbers, with text pasted too; else only the line.
[[nodiscard]] std::string type_out(const std::string& bytes, const TypingRules& rules = {});

}  // namespace drawdown::fuzz
