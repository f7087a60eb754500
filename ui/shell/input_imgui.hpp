// The one place where Dear ImGui's input is read. Panels know pointer, keys and clipboard as values (interaction.hpp).
#pragma once

#include <string>
#include <vector>

#include "panels/interaction.hpp"

namespace drawdown::shell {

// Reads Dear ImGui's state, which the window or a test fills, and what was typed.
[[nodiscard]] panels::Input input_from_imgui(std::vector<panels::Typed> typed);
[[nodiscard]] std::string clipboard_text();

}  // namespace drawdown::shell
