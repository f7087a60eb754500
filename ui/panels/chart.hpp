// One chart over the days of a story: a curve with its interval, this person's band, event marks, playhead and kept
// runs.
#pragma once

#include <functional>
#include <string>

#include "panels/flow_band.hpp"

namespace drawdown::panels {

struct Series {
  std::function<double(const Run&, double)> value;  // in the chart's unit
  std::function<std::string(double)> text;
  look::Colour colour;
  bool dashed = false;
  std::string title;
  std::string unit;
};

struct Chart {
  Series series;
  const scenario::Interval* range = nullptr;  // g/L
  double usual = 0.0;                         // in the chart's unit; 0 = none
  double band = 0.0;                          // % either side of the usual
  double to_unit = 1.0;                       // g/L to the chart's unit
  std::vector<FlowBand> bands = {};           // under the curve, where there is room
};

struct ChartPlace {
  draw::Box plot;     // where the curve is
  double days = 1.0;  // over its width
  [[nodiscard]] double day_at(float x) const;
};

// Draws it and says where the plot came to lie.
ChartPlace draw_chart(Frame& f, const Chart& chart, const draw::Box& box, bool event_labels);

}  // namespace drawdown::panels
