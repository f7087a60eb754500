// Our own outlines, drawn for this project: closed curves through a few points in a unit box, star-shaped about their
// centre.
#pragma once

#include <vector>

#include "draw/canvas.hpp"

namespace drawdown::draw {

struct Outline {
  Point centre;
  std::vector<Point> points;
};

enum class Figure { liver, kidney, skin, joints, serosa };
// The figure fitted into a box.
[[nodiscard]] Outline figure(Figure which, const Box& box);

// A smooth closed curve (Catmull-Rom) through the points.
[[nodiscard]] std::vector<Point> smooth_closed(const std::vector<Point>& points, int pieces_each = 8);

}  // namespace drawdown::draw
