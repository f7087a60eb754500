// One blood sample as the laboratory reads it, with its noise, and what is said of it beside the one before.
#pragma once

#include <utility>
#include <vector>

#include "simulate.hpp"
#include "study/change_value.hpp"

namespace drawdown::stage {

// What a sample of the day reads: C3 and C4, and the other readouts of the lab sheet in the model's order.
struct LabSample {
  double c3 = 0.0, c4 = 0.0;  // g/L, as printed: two decimals
  std::vector<std::pair<body::ReadoutId, double>> others;
};

// The same number gives the same noise on the same day.
[[nodiscard]] LabSample lab_sample(const Run& run, double day, unsigned number);

// What the sheet says of C3 or C4: in which part of the range the value lies, and whether it differs by more than noise
// (two-sided log-normal limits) from the earlier one.
struct SampleWords {
  int placed = 0;  // -1 below the range, 1 above
  double percent = 0.0;
  bool beyond = false;
};
[[nodiscard]] SampleWords words_of(double value, double earlier, const scenario::Interval& range,
                                   const study::Variation& cv);

// The first sample number that reads of both proteins, on `day` beside `before`, what samples without noise would: what
// a talk shows, so that chance neither makes its lesson nor hides it. 0 if none of the first thousand does.
[[nodiscard]] unsigned typical_sample(const Run& run, double day, double before, const scenario::Laboratory& lab);

}  // namespace drawdown::stage
