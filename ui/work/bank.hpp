// The bank of sampled people that explanations are weighed with, kept between runs.
#pragma once

#include <memory>
#include <string>

#include "study/explain/bank.hpp"

namespace drawdown::work {

// $XDG_CACHE_HOME or ~/.cache, the program's own folder in it; empty if neither is known.
[[nodiscard]] std::string cache_folder();

// From memory, or the file of its key in the cache's folder, or made anew and written there, readable by its owner
// only. A file that is damaged or another bank's is made anew; files of banks that are no longer asked for are deleted.
// Where nothing can be written the bank is made each time. Nothing if it was cancelled. By several threads at once:
// they wait for each other.
[[nodiscard]] std::shared_ptr<const study::explain::Bank> kept_bank(const study::explain::BankOptions& options,
                                                                    study::explain::Control* control = nullptr);

}  // namespace drawdown::work
