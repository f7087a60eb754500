// Our own outlines, from assets/shapes.toml: closed curves through a few points in a unit box, star-shaped about their
// centre.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "draw/canvas.hpp"
#include "look/names.hpp"

namespace drawdown::draw {

struct Outline {
  Point centre;
  std::vector<Point> points;
  std::vector<std::vector<Point>> strokes;  // lines that belong to it (vessels), as wide as `stroke_width` of its box
  std::vector<Outline> more;                // further closed parts of it
};
inline constexpr float stroke_width = 0.1F;

enum class Figure { liver, kidney, skin, joints, serosa };
inline constexpr look::Names<5> figure_names{"liver", "kidney", "skin", "joints", "serosa"};

class Shapes {
 public:
  // Throws std::runtime_error with file, line and what is allowed: every figure with a centre and three to a hundred
  // points, all from 0 to 1, walked round the centre in one direction; up to eight strokes of two to twenty points, and
  // up to four further parts (`more`) like the figure itself.
  static Shapes load(const std::string& path);
  static Shapes read(const std::string& text, const std::string& name);

  // The figure fitted into a box, its curve smooth.
  [[nodiscard]] Outline figure(Figure which, const Box& box) const;
  // As drawn: in the unit box, before the curve.
  [[nodiscard]] const Outline& drawn(Figure which) const { return outlines_[static_cast<std::size_t>(which)]; }

 private:
  std::array<Outline, figure_names.size()> outlines_;
};

// A smooth open curve (Catmull-Rom) through the points.
[[nodiscard]] std::vector<Point> smooth_open(const std::vector<Point>& points, int pieces_each = 8);
// A smooth closed curve (Catmull-Rom) through the points.
[[nodiscard]] std::vector<Point> smooth_closed(const std::vector<Point>& points, int pieces_each = 8);

}  // namespace drawdown::draw
