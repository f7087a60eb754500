// The experiment that settled consumption against failed production in real people: label a trace of C3 or C4, follow
// it for ten days in the plasma and in the whole body, and work out how fast the protein is used and made.
// The label is simulated on the run's own flows; the answers are then derived from the label alone, as the papers did.
#pragma once

#include <string>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

struct TracerPoint {
  double hour = 0.0;    // since the injection
  double plasma = 0.0;  // fraction of the dose in the plasma
  double body = 0.0;    // fraction of the dose in the body
};

struct TracerResult {
  std::vector<TracerPoint> points;
  // By exponential peeling of the plasma curve into two parts (Matthews 1957, Phys Med Biol 2:36).
  double fcr = 0.0;            // fraction of the plasma pool an hour
  double half_life = 0.0;      // of the last part, hours
  double intravascular = 0.0;  // plasma share of the exchangeable pool, 0-1
  double synthesis = 0.0;      // mg/kg/h = fcr * plasma amount / weight
  // By the daily ratio of label lost to plasma label (the metabolic-clearance method), mean over days 1-10.
  double fcr_by_ratio = 0.0;
  // What the model really did, mean over the study.
  double true_fcr = 0.0;
  double true_synthesis = 0.0;  // mg/kg/h
  double level = 0.0;           // g/L at the injection
};

enum class Traced { c3, c4 };

struct TracerOptions {
  double days = 10.0;
  double counting_noise = 0.0;  // relative standard deviation of a count of the whole dose; grows as counts fall
  unsigned seed = 1;
};
// Injects at `day` and follows it. Throws std::invalid_argument if the run does not reach so far.
[[nodiscard]] TracerResult tracer_study(const Run& run, Traced protein, double day, const TracerOptions& options = {});

}  // namespace drawdown::study
