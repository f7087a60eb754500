// The points of each figure.
#include "draw/shapes.hpp"

namespace drawdown::draw {

std::vector<Point> smooth_closed(const std::vector<Point>& points, int pieces_each) {
  std::vector<Point> out;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point a = points[(i + n - 1) % n];
    const Point b = points[i];
    const Point c = points[(i + 1) % n];
    const Point d = points[(i + 2) % n];
    for (int k = 0; k < pieces_each; ++k) {
      const float t = static_cast<float>(k) / static_cast<float>(pieces_each);
      const float t2 = t * t;
      const float t3 = t2 * t;
      const auto along = [&](float p, float q, float r, float s) {
        return 0.5F * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t2 + (3 * q - p - 3 * r + s) * t3);
      };
      out.push_back({along(a.x, b.x, c.x, d.x), along(a.y, b.y, c.y, d.y)});
    }
  }
  return out;
}

Outline figure(Figure which, const Box& box) {
  std::vector<Point> unit;
  Point centre{0.5F, 0.5F};
  switch (which) {
    case Figure::liver:
      centre = {0.42F, 0.42F};
      unit = {{0.01F, 0.42F}, {0.06F, 0.20F}, {0.20F, 0.06F}, {0.42F, 0.02F}, {0.66F, 0.06F},
              {0.88F, 0.15F}, {0.99F, 0.29F}, {0.95F, 0.42F}, {0.80F, 0.50F}, {0.66F, 0.60F},
              {0.54F, 0.78F}, {0.38F, 0.95F}, {0.20F, 0.96F}, {0.07F, 0.78F}, {0.02F, 0.58F}};
      break;
    case Figure::kidney:
      centre = {0.42F, 0.5F};
      unit = {{0.62F, 0.03F}, {0.86F, 0.14F}, {0.90F, 0.34F}, {0.70F, 0.44F}, {0.66F, 0.54F},
              {0.74F, 0.64F}, {0.90F, 0.72F}, {0.82F, 0.90F}, {0.58F, 0.98F}, {0.30F, 0.90F},
              {0.12F, 0.66F}, {0.12F, 0.36F}, {0.32F, 0.10F}};
      break;
    case Figure::skin:
      centre = {0.5F, 0.55F};
      unit = {{0.04F, 0.34F}, {0.20F, 0.22F}, {0.36F, 0.34F}, {0.52F, 0.22F}, {0.68F, 0.34F},
              {0.84F, 0.22F}, {0.97F, 0.34F}, {0.97F, 0.80F}, {0.50F, 0.84F}, {0.04F, 0.80F}};
      break;
    case Figure::joints:
      centre = {0.5F, 0.5F};
      unit = {{0.30F, 0.02F}, {0.70F, 0.02F}, {0.64F, 0.28F}, {0.86F, 0.44F}, {0.86F, 0.58F}, {0.64F, 0.72F},
              {0.70F, 0.98F}, {0.30F, 0.98F}, {0.36F, 0.72F}, {0.14F, 0.58F}, {0.14F, 0.44F}, {0.36F, 0.28F}};
      break;
    case Figure::serosa:
      centre = {0.5F, 0.45F};
      unit = {{0.50F, 0.20F}, {0.66F, 0.06F}, {0.88F, 0.12F}, {0.96F, 0.36F}, {0.80F, 0.66F},
              {0.50F, 0.96F}, {0.20F, 0.66F}, {0.04F, 0.36F}, {0.12F, 0.12F}, {0.34F, 0.06F}};
      break;
  }
  Outline outline;
  for (const Point& p : smooth_closed(unit)) outline.points.push_back({box.x + p.x * box.w, box.y + p.y * box.h});
  outline.centre = {box.x + centre.x * box.w, box.y + centre.y * box.h};
  return outline;
}

}  // namespace drawdown::draw
