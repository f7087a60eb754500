// Text from outside, made fit to be shown: what a terminal would obey, what turns lines round or hides in them, and
// what is no text at all becomes visible. What comes out is valid UTF-8 that XML and HTML may hold.
#pragma once

#include <string>
#include <string_view>

namespace drawdown::scenario {

// Control characters become \x1b and the like, marks of direction and invisible ones \u202e; bytes that are no UTF-8,
// and what is no character, become U+FFFD. Line feeds and tabs stay if `keep_lines`.
[[nodiscard]] std::string visible(std::string_view text, bool keep_lines = false);
// It would change nothing.
[[nodiscard]] bool is_visible(std::string_view text);

}  // namespace drawdown::scenario
