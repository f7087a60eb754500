// What each explanation would do to a file's tests: the moves of its candidates, a person with an onset or a mishap.
#pragma once

#include <memory>
#include <vector>

#include "study/explain/scatter.hpp"

namespace drawdown::study::explain {

// So many candidates are worked out at once.
inline constexpr std::size_t block = onsets;

class Candidates {
 public:
  Candidates(std::size_t people, std::size_t shifts, bool sampled)
      : people_(people), shifts_(shifts), sampled_(sampled) {}
  Candidates(const Candidates&) = delete;
  Candidates(Candidates&&) = delete;
  Candidates& operator=(const Candidates&) = delete;
  Candidates& operator=(Candidates&&) = delete;
  virtual ~Candidates() = default;

  [[nodiscard]] std::size_t people() const { return people_; }
  [[nodiscard]] std::size_t shifts() const { return shifts_; }  // onsets a person
  [[nodiscard]] std::size_t size() const { return people_ * shifts_; }
  // Of the bank: near the own simulated level, and counted.
  [[nodiscard]] bool sampled() const { return sampled_; }
  [[nodiscard]] virtual bool has(std::size_t) const { return true; }
  // How far a person's own level lies from the file's usual one, for good.
  [[nodiscard]] virtual double level(std::size_t, Column) const { return 0.0; }
  // How far the cause takes the test's logarithm from there on a day (of a visit, if it is one's).
  [[nodiscard]] virtual double move(std::size_t candidate, Column column, double day, std::size_t visit) const = 0;
  // The same of a block: moves[entry * block + i] of candidate first + i. Beyond the last candidate: 0.
  virtual void fill(std::size_t first, const std::vector<Entry>& entries, float* moves) const;

 private:
  std::size_t people_, shifts_;
  bool sampled_;
};
inline constexpr std::size_t no_visit = static_cast<std::size_t>(-1);

// `most_people` of the bank are asked, each with 24 x `times` onsets. The file and the bank must outlive them.
[[nodiscard]] std::unique_ptr<Candidates> candidates_for(Explanation e, const Series& series, const Bank& bank,
                                                         std::size_t most_people, std::size_t times);

}  // namespace drawdown::study::explain
