// What comes in, what goes out, and how wide tap and opening stand, over the days of a run, all against usual as in the
// account (readout/account.hpp): what the course draws under the levels. Worked out once a run.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "simulate.hpp"

namespace drawdown::stage {

struct FlowCourse {
  struct Day {
    double in = 1.0, out = 1.0, tap = 1.0, drain = 1.0;
  };
  std::vector<double> days;                 // rising
  std::array<std::vector<Day>, 2> protein;  // C3, C4
};

// The days at which a course is drawn: evenly, and every so many ends of steps between, so that a pulse of hours shows;
// about `most` in all. `even` is less than `most`.
[[nodiscard]] std::vector<double> days_to_draw(const Run& run, std::size_t even, std::size_t most);

// The run must have started.
[[nodiscard]] std::shared_ptr<const FlowCourse> flow_course(const Run& run, std::size_t most = 500);

}  // namespace drawdown::stage
