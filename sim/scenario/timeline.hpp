// The levers over time: every lever's steps, ramps and pulses as straight pieces, cut into the solver's segments.
#pragma once

#include <vector>

#include "scenario/scenario.hpp"
#include "solve/segments.hpp"

namespace drawdown::scenario {

class Timeline {
 public:
  explicit Timeline(const Scenario& story);
  // Values of all levers at a day (just after an event on that day).
  [[nodiscard]] std::vector<double> levers_at(double day) const;
  [[nodiscard]] double value(std::size_t lever, double day) const;
  // From day 0 to the story's end, cut at every event; hours.
  [[nodiscard]] std::vector<solve::Segment> segments() const;

 private:
  struct Knot {  // from this hour on: value + slope * (t - hour)
    double hour = 0.0;
    double value = 0.0;
    double slope = 0.0;
  };
  [[nodiscard]] const Knot& knot_at(std::size_t lever, double hour) const;
  std::vector<std::vector<Knot>> levers_;
  double end_ = 0.0;  // hours
};

}  // namespace drawdown::scenario
