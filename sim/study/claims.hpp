// A story's claims held against its run.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

struct ClaimChecked {
  const scenario::Claim* claim = nullptr;  // in the run's story
  std::optional<std::size_t> step;         // of the talk, from 0; nothing: of the message
  bool holds = false;                      // on every day it is about; a number that is none never holds
  double day = 0.0;                        // the first day it does not, else the last it was looked at
  double left = 0.0, right = 0.0;          // what stood on both sides then
};

// Every claim of the message and of every step of the talk, in order. Days that the run did not reach do not hold.
[[nodiscard]] std::vector<ClaimChecked> check_claims(const Run& run);

// The quantity on a day.
[[nodiscard]] double measure(const Run& run, const scenario::Measured& what, double day);

}  // namespace drawdown::study
