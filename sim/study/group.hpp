// A sampled group: people who differ in what nobody chooses (usual levels, liver, acute-phase response, how strongly
// their antibody fixes complement, where complexes settle) and in how ill they are. Simple on purpose: enough to ask
// how often a test is low in such a group.
#pragma once

#include <random>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

struct Severity {
  double drive = 4.0;         // median antibody drive at the flare
  double spread = 0.4;        // of its logarithm
  double kidney_share = 0.5;  // mean share of settling complexes; the rest goes to skin, joints and lining
  double response = 0.4;      // median acute-phase response
};

// Between people (assumed by us, of the size of usual reference intervals): C3 log-normal, median 1.20 g/L,
// sigma 0.18; C4 sigma 0.28 besides its gene copies; correlation 0.55. Liver output 0.6-1.1, fixation 0.5-1.5: assumed.
struct Person {
  std::vector<double> levers;  // when quiet
  double flare_drive = 0.0;
  double flare_debris = 1.0;
  double treatment = 0.0;  // how well treatment works in this person, 0-1
};
[[nodiscard]] Person sample_person(const Severity& severity, std::mt19937& random);

// The person's story: quiet to day 20, the flare built up by day 50, treatment from `treat_day` on (none if beyond the
// end).
[[nodiscard]] scenario::Scenario story_of(const Person& person, double days, double treat_day);

// One laboratory reading of a level, with analytical and within-person noise (change_value.hpp).
[[nodiscard]] double noisy_c3(double level, std::mt19937& random);
[[nodiscard]] double noisy_c4(double level, std::mt19937& random);

}  // namespace drawdown::study
