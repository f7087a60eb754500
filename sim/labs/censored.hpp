// Levels some of which are only known to lie below a limit: the same question as Student's t answers for measured
// ones, with such a value counted as the probability of lying under its limit, never as a number.
//
// Measured y ~ N(mu, s^2) on the logarithm, flat prior on mu, scaled inverse chi square (nu, s0^2) on s^2: then the
// probability that a further value lies below c is Student's t (any textbook of Bayesian statistics), and so is that
// of one mean below another. A value below the limit l multiplies the likelihood by the normal probability below l, and
// the posterior has no closed form: it is summed on a grid of ln s, and for each of mu around its mode.
#pragma once

#include <array>
#include <cstddef>
#include <utility>
#include <vector>

namespace drawdown::labs {

// What is known of s before: worth `nu` values with the variance `variance`.
struct Scatter {
  double nu = 6.5;
  double variance = 0.0;
};

// Values with one mean: measured ones by their sums, limits with how often each. Of more than `most_limits` different
// ones each further one counts as the nearest.
inline constexpr std::size_t most_limits = 24;
struct Group {
  double n = 0.0, mean = 0.0, squares = 0.0;  // measured: count, mean, sum of squares about it
  std::vector<std::pair<double, double>> limits;
  void take(double log_value, bool below);
  [[nodiscard]] bool hides() const { return !limits.empty(); }
};

// A group's posterior of mu for one s, as weights on points that add up to 1; `log_evidence` is the logarithm of its
// likelihood's integral over mu. A group without a measured value: mu from a tenth of its lowest limit on.
inline constexpr std::size_t mean_points = 41;
struct MeanPosterior {
  std::array<double, mean_points> mu{}, weight{};
  double log_evidence = 0.0;
};
[[nodiscard]] MeanPosterior posterior_of_mean(const Group& group, double s);

// The normal distribution below z.
[[nodiscard]] double normal_below(double z);

// Probabilities of the two sides.
struct TwoSides {
  double below = 0.5, above = 0.5;
};

// Where a further value with the mean of `own` lies. `others` have means of their own and tell s alone. `own` has a
// measured value.
class NextValue {
 public:
  NextValue(const Group& own, const std::vector<Group>& others, const Scatter& scatter);
  // That it lies below c, and above.
  [[nodiscard]] TwoSides at(double c) const;

 private:
  struct Part {
    double mu, s, weight;
  };
  std::vector<Part> parts_;
};

// Probability that the second mean lies above the first (`above`), and below. At least one group has a measured value;
// the mean of one that has none may be anything from a tenth of its lowest limit on.
[[nodiscard]] TwoSides second_mean(const Group& first, const Group& second, const Scatter& scatter);

}  // namespace drawdown::labs
