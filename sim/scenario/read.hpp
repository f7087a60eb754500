// A story from its TOML text and back: the only place that knows TOML and the words for units. All problems are found
// at once, each with its place, what is allowed and, for a misspelt key, the nearest right one.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/scenario.hpp"

namespace drawdown::scenario {

struct Problem {
  std::size_t line = 0;    // from 1; 0 = of the file as a whole
  std::size_t column = 0;  // from 1
  std::string message;
};

// what() is "file:line:column: message" for every problem, one a line.
class ReadError : public std::runtime_error {
 public:
  ReadError(const std::string& file, std::vector<Problem> problems);
  [[nodiscard]] const std::vector<Problem>& problems() const { return problems_; }

 private:
  std::vector<Problem> problems_;
};

// Bounds against hostile files.
inline constexpr std::size_t largest_file = std::size_t{256} * 1024;  // bytes
inline constexpr std::size_t most_events = 400;
inline constexpr std::size_t most_talk_steps = 40;
inline constexpr std::size_t longest_text = 2000;  // characters of one text
inline constexpr double longest_story = 3650.0;    // days

// `name` is used in messages and becomes the scenario's name. Throws ReadError.
// Levers and proteins are those of `model`.
[[nodiscard]] Scenario read_text(std::string_view text, const std::string& name,
                                 const std::shared_ptr<const body::Model>& model = body::standard_model());
// Throws ReadError, also when the file cannot be opened or is too large.
[[nodiscard]] Scenario read_file(const std::string& path);
// read_text(write_text(s)) gives s again.
[[nodiscard]] std::string write_text(const Scenario& scenario);

// The nearest of `candidates` to a misspelt word, or empty if none is near.
[[nodiscard]] std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace drawdown::scenario
