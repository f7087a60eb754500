// What a sentence under the balance says, read by phrases of its own, against the tests' own account.
#pragma once

#include <string>
#include <vector>

#include "look/words.hpp"
#include "stage/own_account.hpp"

namespace drawdown::support {

// A usual level as a share of what genes, liver and supply at rest would give, each alone and all.
struct Birth {
  double all = 1, genes = 1, liver = 1, supply = 1;
};

// One run, listened to on some days.
class Hearer {
 public:
  Hearer(const Run& run, const std::vector<double>& days);
  [[nodiscard]] const std::vector<OwnPair>& days() const { return days_; }
  // Everything in the text that is not so or not understood, and what must be said and is not. Language: "en" or "es".
  [[nodiscard]] std::vector<std::string> lies_in(const std::string& text, std::size_t day, const std::string& language,
                                                 look::Depth depth) const;

 private:
  const Run& run_;
  std::vector<OwnPair> days_;
  Birth c3_, c4_;
};

// What a Hearer asks of each text.
std::vector<std::string> lies_heard(const std::string& text, const Run& run, const OwnPair& own, const Birth& c3,
                                    const Birth& c4, const std::string& language, look::Depth depth);
// The same of one day.
std::vector<std::string> lies_in(const std::string& text, const Run& run, double day,
                                 const std::string& language = "en", look::Depth depth = look::Depth::plain);

}  // namespace drawdown::support
