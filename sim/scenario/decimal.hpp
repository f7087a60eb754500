// A short decimal number out of a text, the same double everywhere.
#pragma once

#include <optional>
#include <string_view>

namespace drawdown::scenario {

// The whole text as a number: "-12.5", ".5", "3e-4". Its digits without the point must make a whole number below 2^53,
// and its power of ten lie within 22: then one exact product or quotient of two exact doubles is the nearest double.
// Nothing for any other text.
[[nodiscard]] std::optional<double> read_decimal(std::string_view text);

}  // namespace drawdown::scenario
