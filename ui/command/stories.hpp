// The shipped stories by name, and states that show a story.
#pragma once

#include <string>
#include <vector>

#include "stage/state.hpp"

namespace drawdown::command {

// A story by path, or by name or number among the shipped ones; empty = the opening story.
[[nodiscard]] std::string story_path(const std::string& given);
[[nodiscard]] std::vector<stage::StoryEntry> shipped_stories();
// The story the program opens with.
[[nodiscard]] std::string opening_story();

// The state with that story opened and run; how it looks stays. Throws scenario::ReadError, std::runtime_error if the
// person's body does not come to rest.
[[nodiscard]] stage::AppState opened(stage::AppState state, const std::string& path);
// A state that shows a story on a day, its run finished. Throws scenario::ReadError.
[[nodiscard]] stage::AppState state_for(const std::string& path, double day);
// "lever=value" laid over the story as a whole (the value that governs the day shown). Throws CLI::ValidationError.
[[nodiscard]] stage::AppState with_sets(stage::AppState state, const std::vector<std::string>& sets);

// Where and why the run stopped, in English.
[[nodiscard]] std::string stopped_text(const stage::AppState& state);

}  // namespace drawdown::command
