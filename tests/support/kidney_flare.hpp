// The kidney story run finely, once a process: what sensitivities are held against.
#pragma once

#include "support/stories.hpp"

namespace drawdown::support {

inline const std::shared_ptr<const Run>& kidney_flare() {
  static const auto run = [] {
    SimulateOptions options;
    options.rtol = 1e-7;
    return simulate(scenario::read_file(source_folder() + "/scenarios/02-kidney-flare.toml"), options);
  }();
  return run;
}

}  // namespace drawdown::support
