// One solver stretch after the other.
#include "solve/segments.hpp"

namespace drawdown::solve {

Outcome run_segments(network::Bound<double>& bound, Solver& solver, const std::vector<Segment>& segments,
                     const std::vector<double>& start, const Options& options, Course& course) {
  Outcome total;
  std::vector<double> x = start;
  for (const Segment& segment : segments) {
    const double volume = bound.volume(segment.start);
    bound.bind(segment.values, segment.slopes, segment.start);
    bound.dilute(volume, segment.start, x.data());
    const NetworkSystem system(bound);
    const Outcome part = solver.solve(system, x, segment.start, segment.end, options, course);
    total.status = part.status;
    total.species = part.species;
    total.time = part.time;
    total.statistics.steps += part.statistics.steps;
    total.statistics.rejected += part.statistics.rejected;
    total.statistics.derivative_calls += part.statistics.derivative_calls;
    total.statistics.jacobian_calls += part.statistics.jacobian_calls;
    total.statistics.dense_fallbacks += part.statistics.dense_fallbacks;
    if (part.status != Status::ok) return total;
    // The end of the last step, not the start of the next: the course answers with the later at an event.
    course.last_state(x.data());
  }
  return total;
}

}  // namespace drawdown::solve
