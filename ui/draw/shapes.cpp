// Reading the figures, and their curves.
#include "draw/shapes.hpp"

#include <algorithm>
#include <sstream>
#include <stdexcept>

#include "disk/disk.hpp"
#include "scenario/toml_text.hpp"

namespace drawdown::draw {

namespace {

constexpr std::size_t fewest_points = 3;
constexpr std::size_t most_points = 100;

class Reader {
 public:
  explicit Reader(std::string name) : name_(std::move(name)) {}

  [[noreturn]] void fail(const toml::node& at, const std::string& what) const {
    std::ostringstream out;
    out << name_ << ":" << at.source().begin.line << ": " << what;
    throw std::runtime_error(out.str());
  }

  [[nodiscard]] Point point(const toml::node& node) const {
    const toml::array* pair = node.as_array();
    if (pair == nullptr || pair->size() != 2) fail(node, "a point is [x, y]");
    const auto x = (*pair)[0].value<double>();
    const auto y = (*pair)[1].value<double>();
    if (!x || !y || !(*x >= 0 && *x <= 1 && *y >= 0 && *y <= 1)) fail(node, "x and y are numbers from 0 to 1");
    return {static_cast<float>(*x), static_cast<float>(*y)};
  }

  [[nodiscard]] Outline outline(const toml::table& table, const std::string& figure) const {
    const toml::node* node = table.get(figure);
    if (node == nullptr) fail(table, "the figure '" + figure + "' is missing");
    return part(*node, figure, true);
  }

 private:
  [[nodiscard]] Outline part(const toml::node& node, const std::string& figure, bool whole) const {
    const toml::table* of = node.as_table();
    if (of == nullptr || !of->contains("centre") || !of->contains("points")) {
      fail(node, "a figure needs centre and points");
    }
    Outline o;
    o.centre = point(*of->get("centre"));
    const toml::node& list = *of->get("points");
    const toml::array* points = list.as_array();
    if (points == nullptr || points->size() < fewest_points || points->size() > most_points) {
      fail(list, "a figure has 3 to 100 points");
    }
    for (const toml::node& each : *points) o.points.push_back(point(each));
    const std::size_t n = o.points.size();
    bool left = false;
    bool right = false;
    for (std::size_t i = 0; i < n; ++i) {
      const Point a = o.points[i];
      const Point b = o.points[(i + 1) % n];
      const float turn = (a.x - o.centre.x) * (b.y - o.centre.y) - (a.y - o.centre.y) * (b.x - o.centre.x);
      (turn > 0 ? left : right) = true;
    }
    if (whole) {
      read_strokes(*of, o);
      if (const toml::node* more = of->get("more")) {
        const toml::array* parts = more->as_array();
        if (parts == nullptr || parts->size() > 4) fail(*more, "a figure has up to 4 further parts");
        for (const toml::node& each : *parts) o.more.push_back(part(each, figure, false));
      }
    }
    if (left && right) fail(list, "the points of '" + figure + "' do not walk round the centre in one direction");
    return o;
  }

  void read_strokes(const toml::table& of, Outline& o) const {
    const toml::node* node = of.get("strokes");
    if (node == nullptr) return;
    const toml::array* strokes = node->as_array();
    if (strokes == nullptr || strokes->size() > 8) fail(*node, "a figure has up to 8 strokes");
    for (const toml::node& each : *strokes) {
      const toml::array* points = each.as_array();
      if (points == nullptr || points->size() < 2 || points->size() > 20) fail(each, "a stroke has 2 to 20 points");
      o.strokes.emplace_back();
      for (const toml::node& p : *points) o.strokes.back().push_back(point(p));
    }
  }

  std::string name_;
};

}  // namespace

Shapes Shapes::read(const std::string& text, const std::string& name) {
  const Reader reader(name);
  const toml::table table = scenario::parse_toml(text, name);
  Shapes shapes;
  for (std::size_t i = 0; i < figure_names.size(); ++i) {
    shapes.outlines_[i] = reader.outline(table, std::string(figure_names[i]));
  }
  return shapes;
}

Shapes Shapes::load(const std::string& path) {
  return read(disk::read_whole_file(path, scenario::TomlBounds{}.bytes), path);
}

namespace {

// Between b and c of four points that follow each other (Catmull-Rom), t from 0 to 1.
Point between(const Point& a, const Point& b, const Point& c, const Point& d, float t) {
  const float t2 = t * t;
  const float t3 = t2 * t;
  const auto along = [&](float p, float q, float r, float s) {
    return 0.5F * (2 * q + (r - p) * t + (2 * p - 5 * q + 4 * r - s) * t2 + (3 * q - p - 3 * r + s) * t3);
  };
  return {along(a.x, b.x, c.x, d.x), along(a.y, b.y, c.y, d.y)};
}

}  // namespace

std::vector<Point> smooth_closed(const std::vector<Point>& points, int pieces_each) {
  std::vector<Point> out;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i < n; ++i) {
    for (int k = 0; k < pieces_each; ++k) {
      out.push_back(between(points[(i + n - 1) % n], points[i], points[(i + 1) % n], points[(i + 2) % n],
                            static_cast<float>(k) / static_cast<float>(pieces_each)));
    }
  }
  return out;
}

std::vector<Point> smooth_open(const std::vector<Point>& points, int pieces_each) {
  std::vector<Point> out;
  const std::size_t n = points.size();
  for (std::size_t i = 0; i + 1 < n; ++i) {
    for (int k = 0; k < pieces_each; ++k) {
      out.push_back(between(points[i == 0 ? 0 : i - 1], points[i], points[i + 1], points[std::min(i + 2, n - 1)],
                            static_cast<float>(k) / static_cast<float>(pieces_each)));
    }
  }
  if (n > 0) out.push_back(points.back());
  return out;
}

namespace {

Outline fitted(const Outline& unit, const Box& box) {
  const auto at = [&](const Point& p) { return Point{box.x + p.x * box.w, box.y + p.y * box.h}; };
  Outline outline;
  for (const Point& p : smooth_closed(unit.points)) outline.points.push_back(at(p));
  for (const std::vector<Point>& stroke : unit.strokes) {
    outline.strokes.emplace_back();
    for (const Point& p : smooth_open(stroke)) outline.strokes.back().push_back(at(p));
  }
  for (const Outline& part : unit.more) outline.more.push_back(fitted(part, box));
  outline.centre = at(unit.centre);
  return outline;
}

}  // namespace

Outline Shapes::figure(Figure which, const Box& box) const {
  return fitted(drawn(which), box);
}

}  // namespace drawdown::draw
