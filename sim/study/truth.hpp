// The ledger of truth: what was published, what the model gives, and whether that is inside. Each entry runs an
// experiment on the model, but for G3, G6 and R1-R5, which are arithmetic on published numbers and run nothing. Tests
// hold every entry, and `drawdown truth` prints them.
#pragma once

#include <string>
#include <vector>

namespace drawdown::study {

struct TruthEntry {
  std::string id;         // K1, S4 ... one published finding may have several figures: K1a, K1b
  std::string situation;  // in words
  std::string published;  // as the paper gives it
  double low = 0.0;       // what counts as inside
  double high = 0.0;
  std::string unit;
  std::string source;
  double model = 0.0;  // the model's figure
  std::string note;    // a known limit, a disagreement between papers, or empty

  // Where people were sampled for it: how many, and the 95 % interval of the figure that comes of that.
  std::size_t people = 0;
  double model_low = 0.0, model_high = 0.0;

  // The figure; of a sampled one the whole interval.
  [[nodiscard]] bool inside() const {
    return people > 0 ? model_low >= low && model_high <= high : model >= low && model <= high;
  }
};

enum class TruthChapter { kinetics, patterns, treatments, wider, mechanisms, groups, calculators };
// `seed`: which people are sampled, where they are. Throws std::runtime_error if the solver gives up on one of them.
[[nodiscard]] std::vector<TruthEntry> truth_chapter(TruthChapter chapter, std::uint64_t seed = 1);
inline constexpr std::size_t sampled_people = 2000;  // of each group
// All chapters. Takes a second or two: groups of people are sampled.
[[nodiscard]] std::vector<TruthEntry> truth_ledger();

// What the model does not do, in plain words.
[[nodiscard]] std::vector<std::string> known_limits();

}  // namespace drawdown::study
