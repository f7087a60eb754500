// What a laboratory would measure at one moment, without its noise: concentrations in the units of a report, the two
// activity tests, and what the state of the sample does to them. The numbers are the readouts of the body's model
// (body/readouts.cpp); here they stand with the names a program can speak.
#pragma once

#include <vector>

#include "body/body.hpp"

namespace drawdown::readout {

// g/L to mg/dL.
inline constexpr double mg_per_dl = 100.0;

struct Serum {
  double c3 = 0.0;   // g/L
  double c4 = 0.0;   // g/L
  double c1q = 0.0;  // mg/L, as the rest up to c4d
  double c2 = 0.0;
  double factor_b = 0.0;
  double factor_h = 0.0;
  double factor_i = 0.0;
  double c1_inhibitor = 0.0;
  double c5 = 0.0;
  double c9 = 0.0;
  double c4d = 0.0;
  double c3d = 0.0;            // nmol/L
  double c3a = 0.0;            // nmol/L
  double bb = 0.0;             // nmol/L
  double c5a = 0.0;            // nmol/L
  double sc5b9 = 0.0;          // nmol/L
  double ch50 = 100.0;         // % of the standard person
  double ah50 = 100.0;         // % of the standard person
  double antibody = 0.0;       // anti-dsDNA, relative
  double crp = 0.0;            // mg/L-like: 120 at a full acute-phase signal (assumed)
  double urine_protein = 0.0;  // relative, 1 = severe
};

// In the circulation. `levers` in the order of the model's (blockers lower the activity tests, not the levels).
[[nodiscard]] Serum in_blood(const body::Body& body, const std::vector<double>& state,
                             const std::vector<double>& levers);

// As the laboratory reads it after the sample's days in the fridge and cold activation (the levers' laboratory group).
[[nodiscard]] Serum as_measured(const body::Body& body, const Serum& in_blood, const std::vector<double>& levers);

struct Tissue {
  double deposit = 0.0;
  double inflammation = 0.0;
  double injury = 0.0;  // 0 to 1
};
// In the order of the model's tissues.
[[nodiscard]] std::vector<Tissue> tissue_state(const body::Body& body, const std::vector<double>& state);

}  // namespace drawdown::readout
