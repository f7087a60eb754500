// From the flows of a run.
#include "stage/flow_course.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::stage {

std::vector<double> days_to_draw(const Run& run, std::size_t even, std::size_t most) {
  std::vector<double> days;
  for (std::size_t i = 0; i <= even; ++i) {
    days.push_back(run.last_day() * static_cast<double>(i) / static_cast<double>(even));
  }
  const std::size_t steps = run.course().step_count();
  const std::size_t every = 1 + steps / (most - even);
  for (std::size_t s = every - 1; s < steps; s += every) days.push_back(run.course().step_end(s) / 24.0);
  std::sort(days.begin(), days.end());
  return days;
}

std::shared_ptr<const FlowCourse> flow_course(const Run& run, std::size_t most) {
  auto course = std::make_shared<FlowCourse>();
  course->days = days_to_draw(run, most / 2, most);
  for (const double day : course->days) {
    const readout::FlowPair pair = run.flows(day);
    for (std::size_t p = 0; p < 2; ++p) {
      const readout::Flows& now = p == 0 ? pair.c3 : pair.c4;
      const readout::Flows& usual = p == 0 ? run.usual_flows().c3 : run.usual_flows().c4;
      FlowCourse::Day d;
      if (usual.made > 0.0) {
        d.in = now.in() / usual.made;
        d.out = now.out() / usual.made;
        d.tap = now.made / usual.made;
      }
      if (now.pool > 0.0 && usual.out() > 0.0) d.drain = now.out() / now.pool / (usual.out() / usual.pool);
      course->protein[p].push_back(d);
    }
  }
  return course;
}

}  // namespace drawdown::stage
