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
// What the text passes over: of the three flows that move a level one that weighs as much as half the weightiest
// (exchange apart), and, away from the usual level, production or share used 8 % off the usual.
[[nodiscard]] std::vector<std::string> unsaid_in(const std::string& text, const Run& run, double day);

}  // namespace drawdown::support
