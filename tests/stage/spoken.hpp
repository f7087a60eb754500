// Reads the sentence under the balance as a person would, with a small table of phrases of its own, and holds each
// thing said against the reaction rates of the network - not against the program's own reading of them.
#pragma once

#include <string>
#include <vector>

#include "look/words.hpp"
#include "simulate.hpp"

namespace drawdown::support {

// What is not so, or not understood, in a text about a day of a run; empty = all is so.
[[nodiscard]] std::vector<std::string> lies_in(const std::string& text, const Run& run, double day);

}  // namespace drawdown::support
