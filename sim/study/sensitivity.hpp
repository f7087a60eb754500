// Which lever moves C3 and C4 most, here and now. Two ways that share nothing but the model: differences of whole runs,
// and the variational equations (forward sensitivities) along one run. These leave out what a plasma volume that moves
// dilutes (in pregnancy a quarter of a per cent a day).
#pragma once

#include <functional>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

// What a lever's step (body::Lever::step, from the value that governs the day; the other way where the range ends) does
// to the levels on that day.
struct LeverEffect {
  body::LeverId lever;
  double from = 0.0;  // in the lever's unit
  double to = 0.0;
  double c3 = 0.0;  // % of the usual C3
  double c4 = 0.0;  // % of the usual C4
  [[nodiscard]] double size() const;
};

// Below this the lever is said to do nothing here; and unless one does more than `tells`, none is put first (% of
// usual). A sample's noise is several per cent, so both lie below what one sample could show.
inline constexpr double does_nothing = 0.5;
inline constexpr double tells = 2.0;

// The levers asked about: those with a step.
[[nodiscard]] std::vector<body::LeverId> asked_levers(const body::Model& model);

// A whole run with the step taken beside this one. Throws std::runtime_error when a run does not finish.
[[nodiscard]] std::vector<LeverEffect> effects_of_steps(const Run& run, double day);
// In a straight line: the slope from two runs each, `share` of the range either way (one-sided at an end of the range),
// times the step.
[[nodiscard]] std::vector<LeverEffect> effects_by_differences(const Run& run, double day, double share = 0.01);

// The same slope, times the step, from s' = J(x(t)) s + df/du du/dvalue along the run, from the settled start on.
[[nodiscard]] LeverEffect effect_by_variation(const Run& run, body::LeverId lever, double day);

// How the levels (g/L) on these days, in order, move with a parameter that moves one lever by `share(day)` for one of
// it; share(-1) is the start that has settled before day 0. By the same equations. Throws std::runtime_error.
using LeverShare = std::function<double(double)>;
struct LevelSlopes {
  std::vector<double> c3, c4;
};
[[nodiscard]] LevelSlopes level_slopes(const Run& run, body::LeverId lever, const LeverShare& share,
                                       const std::vector<double>& days, double rtol = 1e-4);

// Largest first, without those that do nothing here.
[[nodiscard]] std::vector<LeverEffect> worth_showing(std::vector<LeverEffect> effects);

}  // namespace drawdown::study
