// The one calendar the program looks at.
#pragma once

namespace drawdown::command {

// Days since 1970-01-01, where the program runs.
[[nodiscard]] int today();

}  // namespace drawdown::command
