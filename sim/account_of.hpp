// The account (readout/account.hpp) of a run: the one source of what is said of why its levels are where they are.
#pragma once

#include "readout/account.hpp"
#include "simulate.hpp"

namespace drawdown {

// Of the proteins a laboratory reports in g/L, in the model's order of readouts. The run must have started
// (Run::started) and outlive it.
[[nodiscard]] readout::Account account_of(const Run& run);
[[nodiscard]] readout::Account account_of(const Run& run, std::vector<body::ProteinId> proteins);

}  // namespace drawdown
