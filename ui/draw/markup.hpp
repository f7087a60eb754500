// Text inside SVG and HTML.
#pragma once

#include <string>

namespace drawdown::draw {

// Its signs that mean something to markup, replaced; what markup may not hold is made visible.
[[nodiscard]] std::string escaped(const std::string& text);

}  // namespace drawdown::draw
