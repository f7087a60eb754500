// The account (readout/account.hpp) of a run: the one source of what is said of why its levels are where they are.
#pragma once

#include "readout/account.hpp"
#include "simulate.hpp"

namespace drawdown {

// Of the proteins a laboratory reports in g/L, in the model's order of readouts. The run must have started
// (Run::started) and outlive it.
[[nodiscard]] readout::Account account_of(const Run& run);
[[nodiscard]] readout::Account account_of(const Run& run, std::vector<body::ProteinId> proteins);

// The account of C3 and C4, which keeps its run: what a screen holds beside a run. Asked from one thread at a time.
[[nodiscard]] std::shared_ptr<const readout::Account> account_with(std::shared_ptr<const Run> run);
// In it, and in all that a run's levels are asked of.
inline constexpr std::size_t c3_in_account = 0;
inline constexpr std::size_t c4_in_account = 1;

}  // namespace drawdown
