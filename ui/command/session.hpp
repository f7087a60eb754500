// What is remembered between starts, as TOML: how the screen looked, that the cautions were read, and the story with
// its day, view and what-ifs; and the stories opened before.
#pragma once

#include <string>

#include "stage/state.hpp"

namespace drawdown::command {

inline constexpr look::Names<2> language_names{"en", "es"};

[[nodiscard]] std::string session_text(const stage::AppState& state);

// Lays a session's text over a fresh state: text size, room, language, depth and whether the cautions were read; with
// `with_story` also the story, run to its end, on the day and in the view it was left in. `name` is the file's, for
// errors. Throws std::runtime_error with file, place and what is allowed, and leaves the state as it was.
void restore_session(stage::AppState& state, const std::string& text, const std::string& name, bool with_story);

}  // namespace drawdown::command
