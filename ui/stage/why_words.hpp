// What the weighing of explanations found, in words: for the screen and for the command line.
#pragma once

#include <string>
#include <vector>

#include "labs/explained.hpp"
#include "look/words.hpp"

namespace drawdown::stage {

// Of 100, from the long run (tests/study/explain-table.txt, to which a test holds them): healthy people said to use
// more up; kidney flares that complexes fit; next visits where they were expected. C3 and C4 alone, 12 visits.
struct HowOften {
  double healthy, flares, next;
};
inline constexpr HowOften how_often{2.0, 76.0, 85.3};

struct WhyBar {
  std::string name;
  std::string verdict;
  double share = 0.0;
  bool together = false;  // one of those that cannot be told from each other
  bool fits = false;
};
struct WhyTold {
  std::string head;
  std::vector<WhyBar> bars;  // the likeliest first, those that fit in front; none where nothing was weighed
  std::vector<std::string> sentences;
  std::vector<std::string> small;
};
[[nodiscard]] WhyTold why_told(const labs::Explained& why, const look::WordBook& words);

[[nodiscard]] const std::string& explanation_word(study::explain::Explanation of, const look::WordBook& words);
// "12", "under 1", "over 99", of 100.
[[nodiscard]] std::string share_text(double share, const look::WordBook& words);

}  // namespace drawdown::stage
