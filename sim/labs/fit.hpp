// Which production and use would explain a person's results? Complex load over time, liver output and acute-phase
// response, estimated by least squares with the network's own sensitivities; priors stated; and an honest posterior:
// profile likelihoods, and the plain finding where C3 and C4 cannot tell less made from more used.
//
// The model of a person: usual C3 and C4 differ between people (log-normal, 15.6 and 33.4 %); liver output, in the
// usual's share, 1 with a standard deviation of 0.15; acute-phase response 1 with 0.35 (both assumed); antibody drive
// at the first visit half-normal with 4, and at up to six points in time a walk from there with steps of 3 (assumed),
// from 0 to 10, debris held at 3. Noise: labs::Noise on the logarithm; a value below detection only says that it is
// below.
#pragma once

#include <atomic>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "labs/judge.hpp"
#include "simulate.hpp"
#include "study/explain/bank.hpp"

namespace drawdown::labs {

// 90 % interval of a profile likelihood with Laplace's correction, beside the prior's own.
struct Estimate {
  double value = 0.0;
  double low = 0.0, high = 0.0;
  double prior_low = 0.0, prior_high = 0.0;
  // The results tell something of it: the interval is less than two thirds of the prior's.
  [[nodiscard]] bool told() const { return high - low < 0.67 * (prior_high - prior_low); }
};

// A course with its 90 % band: by sampling the posterior's normal approximation.
struct Band {
  std::vector<double> days;  // since 1970-01-01
  std::vector<double> low, middle, high;
};

struct Outlook {
  std::string name;  // nothing, double, calmed, blocked: keys of the words
  Band c3, c4;
};

enum class FitStatus { done, too_few, cancelled, failed };

struct Fit {
  FitStatus status = FitStatus::failed;
  std::size_t values = 0;
  double misfit = 0.0;     // sum of squared residuals of the values, each over its noise
  double objective = 0.0;  // half the sum of all squared residuals, priors included: what was made small
  Estimate load;           // antibody drive at the last visit, 0-10
  Estimate liver;          // share of usual
  Estimate acute;          // acute-phase response
  Estimate made;           // C3 made, of the usual, at the last visit (normal approximation)
  Estimate used;           // C3's share used a day, of the usual, at the last visit (likewise)
  double trade_off = 0.0;  // correlation of load and liver: near 1, more used and less made explain each other
  // How much narrower the load's interval would be with one C4d (CV 10 %, assumed) at the last visit; 0 = not at all.
  double c4d_would_help = 0.0;
  Band c3, c4;
  Band load_course;  // the antibody drive from the first visit to the last
  std::vector<Outlook> outlooks;
  // Two plain explanations beside the best one: no use by complexes at all (less made, or an own low level, does it
  // alone), and liver and own levels not below the usual (use does it alone). By how much twice the objective rises for
  // each.
  double without_use = 0.0;
  double without_less = 0.0;
  // Chi square, one degree of freedom, 95 %: a rise beyond it rules an explanation out.
  [[nodiscard]] bool use_is_needed() const { return without_use > 3.84; }
  [[nodiscard]] bool less_is_needed() const { return without_less > 3.84; }
  // Less made and more used each explain the values alone: they cannot tell.
  [[nodiscard]] bool cannot_tell() const { return !use_is_needed() && !less_is_needed(); }
};

using FitControl = study::explain::Control;

struct FitOptions {
  int starts = 3;  // of the search, from different loads
  bool outlooks = true;
  double outlook_days = 90.0;
  unsigned seed = 1;
};
inline constexpr std::size_t fewest_to_fit = 3;  // samples with C3 or C4

// Takes the last 24 samples with C3 or C4. Numerical trouble comes back as the status.
[[nodiscard]] Fit fit(const std::vector<Row>& rows, const Noise& noise, const FitOptions& options = {},
                      FitControl* control = nullptr);

}  // namespace drawdown::labs
