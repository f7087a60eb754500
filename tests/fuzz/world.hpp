// The world around the state, in memory: three short stories, one file of results, a keeping place. Carries out what
// reduce asks for as the window's two workers do, each first in, first out, so that answers may come late; touches no
// disk. Runs are real, or ready-made ones of the same story where thousands of sequences are tried a second.
#pragma once

#include <deque>
#include <map>
#include <optional>

#include "fuzz/bytes.hpp"
#include "work/worker.hpp"

namespace drawdown::fuzz {

// Every text of results that is typed, pasted or opened carries these: a word, and levels no story has.
inline constexpr std::string_view mark_word = "zwirbel7";
inline constexpr std::string_view mark_c3 = "1.1937";
inline constexpr std::string_view mark_c4 = "0.1973";

class World {
 public:
  explicit World(bool real) : real_(real) {}
  void submit(stage::Effect effect);
  [[nodiscard]] bool waiting() const { return !queues_[0].empty() || !queues_[1].empty(); }
  // The next answer of one of the two workers; none if nothing waits, or it has nothing to say.
  [[nodiscard]] std::optional<stage::Action> answer(bool of_studies);

 private:
  [[nodiscard]] stage::Action carry_out(const stage::Effect& effect);
  bool real_;
  int runs_left_ = 5;
  int studies_left_ = 2;
  std::deque<stage::Effect> queues_[2];
  std::map<std::string, std::string> files_;
};

// The paths the world knows: stories (one of them broken), then results.
[[nodiscard]] const std::vector<std::string>& story_paths();
[[nodiscard]] const std::string& results_path();
[[nodiscard]] const std::string& own_path();

// A state that shows the first story, its run finished, with the list of stories.
[[nodiscard]] stage::AppState first_state();

}  // namespace drawdown::fuzz
