// A course across events: inputs are held or ramped between event times, and every event starts a new stretch of the
// solver, so that a pulse shorter than a step cannot be stepped over.
#pragma once

#include <vector>

#include "solve/solve.hpp"

namespace drawdown::solve {

// From `start` to `end` (hours), input i is values[i] + slopes[i] * (t - start).
struct Segment {
  double start = 0.0;
  double end = 0.0;
  std::vector<double> values;
  std::vector<double> slopes;
};

// Runs the segments in order, the state carried over. Stops at the first that does not end ok; the course then holds
// what was reached. The statistics are summed. `bound` comes bound to the inputs under which `start` was reached, which
// tells the plasma volume that it is per litre of, and is left bound to the last segment that ran.
Outcome run_segments(network::Bound<double>& bound, Solver& solver, const std::vector<Segment>& segments,
                     const std::vector<double>& start, const Options& options, Course& course);

}  // namespace drawdown::solve
