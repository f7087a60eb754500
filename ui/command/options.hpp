// What the command line accepts: one place for the checks that many options share.
#pragma once

#include <CLI/CLI.hpp>

#include <string>
#include <vector>

namespace drawdown::command {

// A number from `least` to `most`; a number that is none, or has no end, is refused like any other outside.
[[nodiscard]] CLI::Validator number_within(double least, double most);
// A story or a file: not empty.
[[nodiscard]] CLI::Validator some_name();
// Throws std::invalid_argument: no file of that name.
void must_exist(const std::string& path);
// A file to write, by its ending (with the dot); "-" too where that is said.
[[nodiscard]] CLI::Validator file_to_write(const std::vector<std::string>& endings, bool or_dash);

}  // namespace drawdown::command
