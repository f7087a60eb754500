#include "study/change_value.hpp"

#include <cmath>

#include "network/elementary.hpp"

namespace drawdown::study {

double log_sd(const Variation& cv) {
  const double square = (cv.analytical * cv.analytical + cv.within * cv.within) / 10000.0;
  return std::sqrt(elementary::log(1.0 + square));  // the same bits everywhere: people's readings scatter by it
}

double reference_change_value(double cv_analytical, double cv_within, double z) {
  return std::sqrt(2.0) * z * std::hypot(cv_analytical, cv_within);
}

ChangeLimits log_change_limits(double cv_analytical, double cv_within, double z) {
  const double limit = std::sqrt(2.0) * z * log_sd({cv_analytical, cv_within});
  return {100.0 * (std::exp(limit) - 1.0), 100.0 * (std::exp(-limit) - 1.0)};
}

LikelihoodRatios likelihood_ratios(double sensitivity, double specificity) {
  return {sensitivity / (100.0 - specificity), (100.0 - sensitivity) / specificity};
}

int eular_acr_complement_points(bool c3_low, bool c4_low) {
  if (c3_low && c4_low) return 4;
  return c3_low || c4_low ? 3 : 0;
}

int sledai_complement_points(bool c3_low, bool c4_low) {
  return c3_low || c4_low ? 2 : 0;
}

double steady_level(double synthesis, double fcr, double plasma) {
  return synthesis / (fcr * plasma);
}

double index_of_individuality(double cv_analytical, double cv_within, double cv_between) {
  return std::hypot(cv_analytical, cv_within) / cv_between;
}

}  // namespace drawdown::study
