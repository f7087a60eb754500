// What is usual for a person against the same person with usual genes and a usual liver: what is low from the story's
// start without any illness. The illness's own causes are in the debts (account.hpp), not here.
#pragma once

#include <vector>

#include "body/body.hpp"

namespace drawdown::readout {

struct Born {
  // The usual level as a share of what it would be with usual genes, a usual liver and a usual supply; 1 where that is
  // not known (it did not settle) or is nothing.
  double share = 1.0;
  // Which of the three move it by at least least_born when they alone are put right.
  bool genes = false, liver = false, supply = false;
  [[nodiscard]] bool any() const { return genes || liver || supply; }
};
inline constexpr double least_born = 0.02;

// Of these proteins, where `usual` is the settled quiet state under `levers`.
[[nodiscard]] std::vector<Born> born_of(const body::Body& body, const std::vector<double>& usual,
                                        const std::vector<double>& levers,
                                        const std::vector<body::ProteinId>& proteins);

}  // namespace drawdown::readout
