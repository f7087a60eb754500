// Text as it is looked for: small letters without the accents of western European languages, so that "dia" finds "Día".
#pragma once

#include <string>
#include <string_view>

namespace drawdown::look {

// UTF-8 in and out; what is not a letter with an accent in U+00C0 to U+00FF, or a large letter of ASCII, stays as it
// is.
[[nodiscard]] std::string folded(std::string_view text);

}  // namespace drawdown::look
