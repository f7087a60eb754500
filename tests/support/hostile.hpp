// Text nobody means well with, stories and results full of it, and a run of the command line that keeps what it prints.
#pragma once

#include <string>
#include <vector>

#include "labs/read.hpp"
#include "scenario/scenario.hpp"

namespace drawdown::support {

// Forty fixed strings (escape sequences, bytes that are no UTF-8, what turns or hides text, markup, endless words) and
// sixty of random bytes, always the same.
std::vector<std::string> nasty_strings();

// Every text of it is this one, cut to what a story may hold.
scenario::Scenario story_of(const std::string& text, double days = 4.0);

// As large as a story may be: 3 650 days, 400 events that drive every lever from end to end, and 40 steps of a talk
// whose every word is one of the trade.
scenario::Scenario largest_story();

// Results with a note and names of columns of so many characters, and so many rows and lines that cannot be read.
std::string results_of(const std::string& note, std::size_t rows, std::size_t unreadable);

// What no terminal and no screen may be sent: control characters other than line ends and tabs, bytes that are no
// UTF-8, what turns the direction of writing. Empty = nothing of it is there; else what and where. Found by a decoder
// of its own.
std::string unfit(const std::string& text);

struct Printed {
  int code = 0;
  std::string out, err;
};
Printed printed_by(std::vector<std::string> words);

}  // namespace drawdown::support
