// A person's own results as the weighing of explanations takes them (study/explain/weigh.hpp).
#pragma once

#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "study/explain/weigh.hpp"

namespace drawdown::labs {

// The last visits with values; results of one day are each a visit. Treatment and flares are not known to the bank.
// What is measured beside C3 and C4 counts by its changes alone, unless its title says a unit that all laboratories
// share: CRP in mg/L or mg/dL, C4d in mg/L, CH50, AH50, C1q and factor B in % of normal. A limit of detection counts as
// one; 0 is left out.
[[nodiscard]] study::explain::Series series_of(const std::vector<Row>& rows, const Titles& titles, const Noise& noise);

struct Explained {
  study::explain::Weights weights;
  int first_day = 0;  // of the visits weighed, days since 1970-01-01: what weights.next_day counts from
  bool treatment = false;
  bool flares = false;
};
[[nodiscard]] Explained explained(const std::vector<Row>& rows, const Titles& titles, const Noise& noise,
                                  const study::explain::Bank& bank, study::explain::Control* control = nullptr);

}  // namespace drawdown::labs
