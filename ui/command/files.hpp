// Where the program's files are.
#pragma once

#include <string>

namespace drawdown::command {

// Where the program's words and stories are: $DRAWDOWN_DATA, else beside the source it was built from.
[[nodiscard]] std::string data_folder();
// Where the last session is kept: $XDG_STATE_HOME or ~/.local/state; empty if neither is known.
[[nodiscard]] std::string settings_file();
// Where a person's own numbers are kept once that is asked for; beside the session.
[[nodiscard]] std::string own_numbers_file();

}  // namespace drawdown::command
