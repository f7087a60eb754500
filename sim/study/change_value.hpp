// Is a change more than noise? Reference change values and likelihood ratios, exact formulae.
#pragma once

namespace drawdown::study {

// Noise of a laboratory's reading of one person, % (from memory).
struct Variation {
  double analytical = 0.0;
  double within = 0.0;
};
inline constexpr Variation c3_variation{3.0, 5.2};
inline constexpr Variation c4_variation{4.0, 8.9};
// Newer tables of people followed more closely give a smaller variation within a person (from memory).
inline constexpr Variation c3_variation_newer{3.0, 4.5};
inline constexpr Variation c4_variation_newer{4.0, 6.5};

// Standard deviation of the logarithm of one reading: sqrt(ln(1 + CV^2)), CV both variations together.
[[nodiscard]] double log_sd(const Variation& cv);

// Fraser & Harris 1989 (Crit Rev Clin Lab Sci 27:409): RCV = sqrt(2) * z * sqrt(CVa^2 + CVi^2). CVs and result in %.
[[nodiscard]] double reference_change_value(double cv_analytical, double cv_within, double z = 1.959964);

struct ChangeLimits {
  double up = 0.0;    // %, above which a rise is more than noise
  double down = 0.0;  // %, negative
};
// Fokkema 2006 (Clin Chem 52:1602, from memory): the same on the logarithm, sigma^2 = ln(1 + CV^2).
[[nodiscard]] ChangeLimits log_change_limits(double cv_analytical, double cv_within, double z = 1.959964);

struct LikelihoodRatios {
  double positive = 0.0;
  double negative = 0.0;
};
// Sensitivity and specificity in %.
[[nodiscard]] LikelihoodRatios likelihood_ratios(double sensitivity, double specificity);

// Points that low complement earns, nothing else of the scores: 2019 EULAR/ACR classification of lupus (Aringer 2019:
// C3 or C4 low 3, both low 4) and SLEDAI-2K (any low 2; from memory).
[[nodiscard]] int eular_acr_complement_points(bool c3_low, bool c4_low);
[[nodiscard]] int sledai_complement_points(bool c3_low, bool c4_low);

// Level in g/L of a protein made at `synthesis` mg/kg/h and used at `fcr` (fraction an hour) with `plasma` mL/kg.
[[nodiscard]] double steady_level(double synthesis, double fcr, double plasma);

// Index of individuality: within-person (with analytical) over between-person variation; low = a person's values
// fill little of the interval. CVs in %.
[[nodiscard]] double index_of_individuality(double cv_analytical, double cv_within, double cv_between);

}  // namespace drawdown::study
