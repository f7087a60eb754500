// A course in small.
#include <algorithm>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;

void draw_sketch(Frame& f, const Box& box, const stage::Sketch& sketch, double playhead) {
  const float em = f.em();
  double top = 1.25;
  for (const auto* levels : {&sketch.c3, &sketch.c4}) {
    for (const double level : *levels) top = std::max(top, level);
  }
  const auto y_of = [&](double share) { return box.bottom() - static_cast<float>(share / top) * box.h; };
  f.canvas.line({{box.x, y_of(0)}, {box.right(), y_of(0)}}, f.palette.line, 1.0F);
  f.canvas.line({{box.x, y_of(1)}, {box.right(), y_of(1)}}, f.palette.quiet, 1.0F);
  if (playhead >= 0.0) {
    const float x = box.x + box.w * static_cast<float>(std::min(playhead, 1.0));
    f.canvas.line({{x, box.y}, {x, box.bottom()}}, f.palette.ink, std::max(1.5F, 0.1F * em));
  }
  const auto curve = [&](const std::vector<double>& levels, const look::Colour& colour, float dash) {
    std::vector<draw::Point> points;
    for (std::size_t i = 0; i < levels.size(); ++i) {
      points.push_back(
          {box.x + box.w * static_cast<float>(i) / static_cast<float>(levels.size() - 1), y_of(levels[i])});
    }
    f.canvas.line(points, colour, std::max(1.5F, 0.16F * em), dash);
  };
  curve(sketch.c4, f.palette.c4, 0.45F * em);
  curve(sketch.c3, f.palette.c3, 0);
}

}  // namespace drawdown::panels
