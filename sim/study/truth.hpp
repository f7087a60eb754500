// The ledger of truth: what was published, what the model gives, and whether that is inside. Each entry runs an
// experiment on the model, but for G3, G6 and R1-R5, which are arithmetic on published numbers and run nothing. Tests
// hold every entry, and `drawdown truth` prints them.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace drawdown::study {

// What a figure that is inside is worth.
enum class TruthKind {
  unsaid,       // nobody has judged it: a test refuses that
  wiring,       // follows from how the list is written or restates what was put in, or is arithmetic
  calibrated,   // a constant was set with this figure, or one of the same cause, in sight
  independent,  // none was, and something in the model can take the figure outside
  holds_anyway  // nothing tried takes it outside: no evidence
};
[[nodiscard]] const char* name_of(TruthKind kind);

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

  TruthKind kind = TruthKind::unsaid;
  std::string constant = {};  // what was tuned against it, or what it restates
  std::string breaks = {};    // an alteration of the model that takes it outside (truth/world.hpp); a test does so
  std::string disputed = {};  // who disagrees, or empty

  // The figure; of a sampled one the whole interval.
  [[nodiscard]] bool inside() const {
    return people > 0 ? model_low >= low && model_high <= high : model >= low && model <= high;
  }
  // Clearly so: of a sampled one the whole interval. Neither inside nor outside is possible.
  [[nodiscard]] bool outside() const {
    return people > 0 ? model_high < low || model_low > high : model < low || model > high;
  }
};

namespace truth {
class World;
}

enum class TruthChapter { kinetics, patterns, treatments, wider, mechanisms, groups, calculators };
// `seed`: which people are sampled, where they are. Throws std::runtime_error if the solver gives up on one of them.
[[nodiscard]] std::vector<TruthEntry> truth_chapter(TruthChapter chapter, std::uint64_t seed = 1);
inline constexpr std::size_t sampled_people = 2000;  // of each group
// The same on another world than the standard one: the model altered, other numbers of people.
[[nodiscard]] std::vector<TruthEntry> truth_chapter(TruthChapter chapter, const truth::World& world,
                                                    std::uint64_t seed = 1);
// All chapters. Takes a second or two: groups of people are sampled.
[[nodiscard]] std::vector<TruthEntry> truth_ledger();

// What the model does not do, in plain words. A figure that is not met stands there as "ID: ... figure unit ...".
[[nodiscard]] std::vector<std::string> known_limits();
// The known limit that tells of this entry by its id and its figure (two decimals below 10, else none); empty if none
// does.
[[nodiscard]] std::string told_limit(const TruthEntry& entry);

// The ledger counted. Only independent figures count as evidence.
struct TruthCount {
  std::size_t independent = 0, inside = 0;  // inside: of the independent
  std::size_t calibrated = 0, wiring = 0, anyway = 0;
  std::vector<const TruthEntry*> not_met;   // of all kinds
  std::vector<const TruthEntry*> untold;    // of those, the ones no known limit tells
  std::vector<const TruthEntry*> disputed;  // of all kinds
};
[[nodiscard]] TruthCount counted(const std::vector<TruthEntry>& ledger);

}  // namespace drawdown::study
