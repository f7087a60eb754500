// People whose cause is known, as files of serial results: to ask whether the weighing of explanations says the truth.
#pragma once

#include <cstdint>
#include <vector>

#include "study/explain/weigh.hpp"

namespace drawdown::tests {

// Which tests beside C3 and C4: none; C4d, CH50, factor B and CRP at the last visit.
enum class Tests { pair, more_once };

// Of the model that is fitted, written down once more here: another seed's people, own levels, scatter correlated in
// time and between proteins. `bank` holds the truths. Visits lie 15 to 90 days apart.
[[nodiscard]] study::explain::Series planted(study::explain::Explanation truth, const study::explain::Bank& bank,
                                             std::uint64_t number, std::size_t visits, Tests tests);

// Of the sampler's groups (people_groups.hpp), whose severities, pace and treatment stand apart from the explanations':
// readings as the clinic prints them, forty days apart, the illness beginning after the second visit and before the
// ninth. Healthy people's cold lies where their group has it.
[[nodiscard]] std::vector<study::explain::Series> of_group(const char* group, std::uint64_t seed, std::size_t people,
                                                           std::size_t visits, Tests tests);

// What the weighing said of a lot of people with one truth.
struct Said {
  std::size_t people = 0, used_up = 0, surely_used_up = 0, noise_fits = 0, noise_out = 0, complexes_fit = 0;
  std::size_t truth_near = 0, truth_best = 0;  // within ten times the best; the best itself
  std::size_t next_c3 = 0, next_c4 = 0, foreseen = 0;
  std::size_t few = 0;  // the truth's verdict was that nobody can tell
  double log_score = 0.0;
  std::array<double, study::explain::explanations> shares{};  // summed
  void add(const study::explain::Weights& weights, study::explain::Explanation truth);
  // The visit that was kept back.
  void foresaw(const study::explain::Weights& weights, const study::explain::Visit& kept_back);
  void add(const Said& other);
};
// Takes the last visit away and returns it.
[[nodiscard]] study::explain::Visit keep_back(study::explain::Series& series);

}  // namespace drawdown::tests
