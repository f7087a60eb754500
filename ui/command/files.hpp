// Where the program's files are.
#pragma once

#include <string>
#include <vector>

namespace drawdown::command {

// Where the program's words and stories are: $DRAWDOWN_DATA, else data_folder_of the program running. Throws
// std::runtime_error.
[[nodiscard]] std::string data_folder();
// The folder with `assets` and `scenarios` that belongs to a program: ../share/drawdown of an installed one, else the
// nearest above it (a build has links to its source's). Throws std::runtime_error with the places looked at.
[[nodiscard]] std::string data_folder_of(const std::string& program);
// Codes of the languages there ("en", "es"); English alone where the folder is not found.
[[nodiscard]] std::vector<std::string> languages();
// Where the last session is kept: $XDG_STATE_HOME or ~/.local/state; empty if neither is known.
[[nodiscard]] std::string settings_file();
// Where a person's own numbers are kept once that is asked for; beside the session.
[[nodiscard]] std::string own_numbers_file();

}  // namespace drawdown::command
