// Text from outside (a story, results, names of files, what messages quote of them) made fit to be shown or written: on
// the screen, in a terminal, in XML and HTML. What would act on the place it is shown at, or not be seen there, stands
// as its number.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace drawdown::scenario {

enum class Keep { nothing, lines };  // lines: line ends and tabs stay what they are (a carriage return before one goes)

// Control characters, what turns the direction of writing, and what has no width stand as \x1b, \u202e, \U000e0041; a
// line end as ↵ unless kept; bytes that are no UTF-8, halves of surrogates and what is no character as U+FFFD. The
// answer is UTF-8 that XML 1.0 allows.
[[nodiscard]] std::string visible(std::string_view text, Keep keep = Keep::nothing);
// Would it stay as it is?
[[nodiscard]] bool is_visible(std::string_view text, Keep keep = Keep::nothing);

// Visible, and where it is longer than so many characters its beginning, an ellipsis and how many are left out:
// "abc…(+299997)" (of those, bytes that are no UTF-8 are not counted exactly).
[[nodiscard]] std::string shortened(std::string_view text, std::size_t most, Keep keep = Keep::nothing);

// How many bytes at its end may be the beginning of one character whose rest is still to come (0 to 3).
[[nodiscard]] std::size_t unfinished(std::string_view text);
// Bytes of the first so many characters (a byte that is no UTF-8 counts as one).
[[nodiscard]] std::size_t bytes_of(std::string_view text, std::size_t characters);

}  // namespace drawdown::scenario
