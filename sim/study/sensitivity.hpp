// Which lever moves C3 and C4 most, here and now. Two ways that share nothing but the model: differences of whole runs,
// and the variational equations (forward sensitivities) along one run.
#pragma once

#include <functional>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

// What a hundredth of a lever's range, added to the value that governs the day, does to the levels on that day.
struct LeverEffect {
  std::size_t lever = 0;
  double c3 = 0.0;  // % of the usual C3
  double c4 = 0.0;  // % of the usual C4
  [[nodiscard]] double size() const;
};

// The levers asked about: those that slide (complexes, production, treatment) and the dose of C1 inhibitor.
[[nodiscard]] std::vector<std::size_t> asked_levers();

// Differences of two runs each, `step` of the range either way (one-sided at an end of the range).
[[nodiscard]] std::vector<LeverEffect> effects_by_differences(const Run& run, double day, double step = 0.01);

// s' = J(x(t)) s + df/du du/dvalue along the run, from the settled start on.
[[nodiscard]] LeverEffect effect_by_variation(const Run& run, std::size_t lever, double day);

// How the levels (g/L) on these days, in order, move with a parameter that moves one lever by `share(day)` for one of
// it; share(-1) is the start that has settled before day 0. By the same equations. Throws std::runtime_error.
using LeverShare = std::function<double(double)>;
struct LevelSlopes {
  std::vector<double> c3, c4;
};
[[nodiscard]] LevelSlopes level_slopes(const Run& run, std::size_t lever, const LeverShare& share,
                                       const std::vector<double>& days, double rtol = 1e-4);

// Largest first.
void sort_by_size(std::vector<LeverEffect>& effects);

}  // namespace drawdown::study
