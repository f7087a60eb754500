#include "study/change_value.hpp"

#include <cmath>

namespace drawdown::study {

double reference_change_value(double cv_analytical, double cv_within, double z) {
  return std::sqrt(2.0) * z * std::hypot(cv_analytical, cv_within);
}

ChangeLimits log_change_limits(double cv_analytical, double cv_within, double z) {
  const auto variance = [](double cv) { return std::log(1.0 + cv * cv / 1e4); };
  const double limit = std::sqrt(2.0) * z * std::sqrt(variance(std::hypot(cv_analytical, cv_within)));
  return {100.0 * (std::exp(limit) - 1.0), 100.0 * (std::exp(-limit) - 1.0)};
}

LikelihoodRatios likelihood_ratios(double sensitivity, double specificity) {
  return {sensitivity / (100.0 - specificity), (100.0 - sensitivity) / specificity};
}

double steady_level(double synthesis, double fcr, double plasma) {
  return synthesis / (fcr * plasma);
}

double index_of_individuality(double cv_analytical, double cv_within, double cv_between) {
  return std::hypot(cv_analytical, cv_within) / cv_between;
}

}  // namespace drawdown::study
