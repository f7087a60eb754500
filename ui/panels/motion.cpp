// An exponential approach: the same path whatever the frames a second.
#include "panels/motion.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::panels {

namespace {

constexpr double time_constant = 0.09;  // seconds: 95 % of the way in 0.27 s
// After a pause the window was asleep: the first frame counts as one of an ordinary length.
constexpr double longest_frame = 1.0 / 20.0;
constexpr double close_enough = 2e-3;  // of the value: less than a pixel of what is drawn from it

}  // namespace

void Motion::begin(double seconds, bool still) {
  const double passed = std::min(seconds - last_, longest_frame);
  last_ = seconds;
  share_ = still || passed <= 0.0 ? 1.0 : 1.0 - std::exp(-passed / time_constant);
  under_way_ = false;
  still_ = still;
}

double Motion::towards(const std::string& name, double goal) {
  const auto [found, is_new] = shown_.emplace(name, goal);
  double& shown = found->second;
  if (is_new) return shown;
  shown += share_ * (goal - shown);
  if (std::abs(goal - shown) <= close_enough * std::max(std::abs(goal), 1e-3)) {
    shown = goal;
  } else {
    under_way_ = true;
    moved_ = last_;
  }
  return shown;
}

}  // namespace drawdown::panels
