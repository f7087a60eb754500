// Text inside SVG and HTML.
#pragma once

#include <string>

namespace drawdown::draw {

// Made visible (what XML 1.0 does not allow is never written), and its signs that mean something to markup replaced:
// fit for the text of an element and for an attribute in either kind of quotes.
[[nodiscard]] std::string escaped(const std::string& text);

}  // namespace drawdown::draw
