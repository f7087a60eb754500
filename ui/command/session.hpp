// What is remembered between starts, as TOML: how the screen looked, that the cautions were read, and the story with
// its day, view and what-ifs; and the stories opened before.
#pragma once

#include <string>

#include "stage/state.hpp"

namespace drawdown::command {

inline constexpr std::size_t most_session_bytes = std::size_t{64} * 1024;

[[nodiscard]] std::string session_text(const stage::AppState& state);

// Lays a session's text over a fresh state: text size, room, language, depth and whether the cautions were read; with
// `with_story` also the story, run to its end, on the day and in the view it was left in. `name` is the file's, for
// errors. Throws std::runtime_error with file, place and what is allowed, and leaves the state as it was.
void restore_session(stage::AppState& state, const std::string& text, const std::string& name, bool with_story);

// Reads the session's file, if there is one. One that cannot be read is set aside under a new name, so that the program
// starts and nothing is lost; what happened is thrown as std::runtime_error in words, for a banner. If it cannot even
// be set aside, `file` is emptied: it must not be written over.
void take_up_session(stage::AppState& state, std::string& file, bool with_story);

}  // namespace drawdown::command
