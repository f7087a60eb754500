// Under a level's course: what comes in and what goes out on one scale, the area between them filled by pattern - dots
// where the pool drains, upright lines where it fills.
#pragma once

#include "panels/frame.hpp"
#include "stage/flow_course.hpp"

namespace drawdown::panels {

struct FlowBand {
  std::vector<double> days;
  std::vector<double> in, out;  // against usual
  std::string in_name, out_name;
  bool filled = true;
  double span = 1.0;  // days over the box's width
};
[[nodiscard]] FlowBand in_and_out(const Frame& f, std::size_t protein);
[[nodiscard]] FlowBand tap_and_opening(const Frame& f, std::size_t protein);
void draw_flow_band(Frame& f, const FlowBand& band, const draw::Box& box, const look::Colour& colour);

}  // namespace drawdown::panels
