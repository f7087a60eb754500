// `drawdown labs --explain`: which mechanisms could make a person's results.
#pragma once

#include <iosfwd>
#include <string>

#include "labs/explained.hpp"
#include "look/words.hpp"

namespace drawdown::command {

// The bank from the cache or made anew, its progress told on `progress`; then the weighing.
[[nodiscard]] labs::Explained explain_rows(const labs::Reading& reading, const labs::Noise& noise, std::size_t people,
                                           const look::WordBook& words, std::ostream& progress);
// A table in words, what follows from it, and what was assumed.
[[nodiscard]] std::string explain_text(const labs::Explained& why, const look::WordBook& words);
// explanation, share, verdict, log_evidence, effective_people, misfit_p; a row an explanation.
[[nodiscard]] std::string explain_csv(const labs::Explained& why);

}  // namespace drawdown::command
