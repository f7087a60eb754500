// Values whose unit may have slipped, line by line: both halves of a line are looked at together.
#pragma once

#include <optional>
#include <vector>

#include "labs/drafts.hpp"
#include "labs/read.hpp"

namespace drawdown::labs {

// Takes values whose unit may have slipped out of their rows, or reads them as the person answered. Units are settled
// and values in g/L.
void settle_slips(std::vector<Draft>& drafts, std::optional<SlipAnswer> answer, Reading& out);

}  // namespace drawdown::labs
