// The band under the levels.
#include "panels/flow_band.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

namespace {

constexpr double most_shown = 4.5;   // times usual: above, the band is cut off
constexpr double least_half = 0.25;  // the scale reaches at least so far either side of usual
constexpr float most_dots = 400.0F;  // of one band: a draw list has room for so many
constexpr double least_gap = 0.004;  // of usual: in and out closer than that are not told apart

class Painter {
 public:
  Painter(Frame& frame, const FlowBand& of, const Box& b, const look::Colour& c)
      : f(frame), band(of), box(b), colour(c), em(frame.em()) {
    high = 1.0 + least_half;
    low = 1.0 - least_half;
    for (std::size_t i = 0; i < band.days.size(); ++i) {
      high = std::max({high, band.in[i], band.out[i]});
      low = std::min({low, band.in[i], band.out[i]});
    }
    high = std::min(high + 0.05, most_shown);
    low = std::max(low - 0.05, 0.0);
  }

  void draw() {
    f.canvas.line({{box.x, y_of(1.0)}, {box.right(), y_of(1.0)}}, f.palette.usual, std::max(1.0F, 0.07F * em),
                  0.35F * em);
    const float lh = f.canvas.line_height(Type::small);
    f.canvas.text({box.x - 0.35F * em, y_of(1.0) - lh / 2}, "1 ×", Type::small, f.palette.quiet, Align::right);
    f.canvas.clip({box.x, box.y - 1, box.w + 1, box.h + 2});
    if (band.filled) {
      space_out();
      fill();
    }
    line(band.in, std::max(1.5F, 0.13F * em), 0);
    line(band.out, std::max(1.5F, 0.13F * em), 0.3F * em);
    f.canvas.unclip();
    names();
  }

 private:
  [[nodiscard]] float x_of(double day) const { return box.x + box.w * static_cast<float>(day / band.span); }
  [[nodiscard]] float y_of(double v) const {
    const double s = (std::clamp(v, low, high) - low) / (high - low);
    return box.bottom() - box.h * static_cast<float>(s);
  }

  void line(const std::vector<double>& values, float width, float dash) {
    std::vector<Point> points;
    // A point that lies on the way from the last one kept to the next is left out: a draw list has room for so many.
    const auto at = [&](std::size_t i) { return Point{x_of(band.days[i]), y_of(values[i])}; };
    for (std::size_t i = 0; i < values.size(); ++i) {
      const Point p = at(i);
      if (!points.empty() && i + 1 < values.size()) {
        const Point last = points.back();
        const Point next = at(i + 1);
        const float s = (p.x - last.x) / std::max(1e-3F, next.x - last.x);
        if (std::abs(last.y + s * (next.y - last.y) - p.y) < 0.15F) continue;
      }
      points.push_back(p);
    }
    f.canvas.line(points, dash > 0 ? f.palette.complexes : colour, width, dash);
  }

  // Dots and lines stand half an em apart, wider where that would make too many.
  void space_out() {
    float filled = 0;
    for (std::size_t i = 1; i < band.days.size(); ++i) {
      const float height = std::abs(y_of(band.in[i]) - y_of(band.out[i]));
      filled += height * (x_of(band.days[i]) - x_of(band.days[i - 1]));
    }
    gap = std::max(0.5F * em, std::sqrt(filled / most_dots));
  }

  // One area after the other, from where the lines part to where they meet.
  void fill() {
    std::size_t from = 0;
    const auto way = [&](std::size_t i) {
      const double more = band.out[i] - band.in[i];
      return more > least_gap ? 1 : more < -least_gap ? -1 : 0;
    };
    for (std::size_t i = 1; i <= band.days.size(); ++i) {
      if (i < band.days.size() && way(i) == way(from)) continue;
      if (way(from) != 0 && i - from > 1) area(from, i, way(from) > 0);
      from = i;
    }
  }

  void area(std::size_t from, std::size_t to, bool drains) {
    std::vector<Point> upper;
    std::vector<Point> lower;
    for (std::size_t i = from; i < to; ++i) {
      const float x = x_of(band.days[i]);
      if (!upper.empty() && x - upper.back().x < 0.25F) continue;
      upper.push_back({x, y_of(std::max(band.in[i], band.out[i]))});
      lower.push_back({x, y_of(std::min(band.in[i], band.out[i]))});
    }
    if (upper.size() < 2) return;
    const look::Colour ground =
        drains ? look::mix(f.palette.card, f.palette.complexes, 0.75F) : look::mix(f.palette.card, colour, 0.30F);
    f.canvas.strip(upper, lower, ground);
    float next = std::ceil(upper.front().x / gap) * gap;
    for (std::size_t i = 1; i < upper.size(); ++i) {
      for (; next <= upper[i].x; next += gap) {
        const float s = (next - upper[i - 1].x) / std::max(1e-3F, upper[i].x - upper[i - 1].x);
        const float top = upper[i - 1].y + s * (upper[i].y - upper[i - 1].y);
        const float bottom = lower[i - 1].y + s * (lower[i].y - lower[i - 1].y);
        if (bottom - top < 2.5F) continue;
        if (!drains) {
          f.canvas.line({{next, top}, {next, bottom}}, colour, 1.0F);
          continue;
        }
        for (float y = std::ceil(top / gap) * gap; y < bottom; y += gap) {
          f.canvas.dot({next, y}, std::max(1.0F, 0.09F * em), f.palette.card);
        }
      }
    }
    name_area(upper, lower, drains);
  }

  // Its name beside the widest of an area, where there is room above or below.
  void name_area(const std::vector<Point>& upper, const std::vector<Point>& lower, bool drains) {
    const std::string& name = f.words.at(drains ? "course.draining" : "course.filling");
    const float w = f.canvas.width(name, Type::small);
    const float lh = f.canvas.line_height(Type::small);
    std::size_t at = 0;
    for (std::size_t i = 0; i < upper.size(); ++i) {
      if (lower[i].y - upper[i].y > lower[at].y - upper[at].y) at = i;
    }
    if (lower[at].y - upper[at].y < 0.25F * em) return;
    const float x = std::clamp(upper[at].x + 0.7F * em, box.x, box.right() - w);
    float top = 1e9F;
    float bottom = -1e9F;
    for (std::size_t i = 0; i < band.days.size(); ++i) {
      const float px = x_of(band.days[i]);
      if (px < x - 2 || px > x + w + 2) continue;
      top = std::min(top, y_of(std::max(band.in[i], band.out[i])));
      bottom = std::max(bottom, y_of(std::min(band.in[i], band.out[i])));
    }
    const bool free = x > last_name;
    const look::Colour ink = drains ? f.palette.complexes : colour;
    // On a plain ground: the line of the usual passes there.
    const auto ground_at = [&](float y) { f.canvas.fill({x - 0.15F * em, y, w + 0.3F * em, lh}, f.palette.card, 0); };
    if (free && top - lh > box.y) {
      ground_at(top - lh - 0.05F * em);
      f.canvas.text({x, top - lh - 0.05F * em}, name, Type::small, ink);
    } else if (free && bottom + lh < box.bottom()) {
      ground_at(bottom + 0.1F * em);
      f.canvas.text({x, bottom + 0.1F * em}, name, Type::small, ink);
    } else {
      return;
    }
    last_name = x + w + 0.5F * em;
  }

  // At the right end, each beside its line; on one line where they have met.
  void names() {
    const float lh = f.canvas.line_height(Type::small);
    const float in_y = y_of(band.in.back());
    const float out_y = y_of(band.out.back());
    const std::string both = band.in_name + " = " + band.out_name;
    if (std::abs(in_y - out_y) < lh) {
      const float y = std::min(in_y, out_y) - lh - 0.1F * em;
      const float w = f.canvas.width(both, Type::small);
      const Point at{box.right() - w, y > box.y - 0.5F * em ? y : std::max(in_y, out_y) + 0.1F * em};
      if (at.x > last_name) f.canvas.text(at, both, Type::small, f.palette.ink);
      return;
    }
    const auto name = [&](const std::string& text, float y, bool above, const look::Colour& ink) {
      f.canvas.text({box.right(), above ? y - lh : std::min(y + 0.1F * em, box.bottom() - lh)}, text, Type::small, ink,
                    Align::right);
    };
    name(band.in_name, in_y, in_y < out_y, colour);
    name(band.out_name, out_y, out_y < in_y, f.palette.complexes);
  }

  Frame& f;
  const FlowBand& band;
  Box box;
  const look::Colour& colour;
  float em;
  double high = 1.25, low = 0.75;
  float gap = 8;  // between dots
  float last_name = -1e9F;
};

FlowBand band_of(const Frame& f, std::size_t protein, double stage::FlowCourse::Day::*in,
                 double stage::FlowCourse::Day::*out) {
  const stage::FlowCourse& course = *f.state.runs.flows;
  FlowBand band;
  band.days = course.days;
  band.span = f.state.runs.now->story().days;
  for (const stage::FlowCourse::Day& day : course.protein[protein]) {
    band.in.push_back(day.*in);
    band.out.push_back(day.*out);
  }
  return band;
}

}  // namespace

FlowBand in_and_out(const Frame& f, std::size_t protein) {
  FlowBand band = band_of(f, protein, &stage::FlowCourse::Day::in, &stage::FlowCourse::Day::out);
  band.in_name = f.words.at("picture.in");
  band.out_name = f.words.at("picture.out");
  return band;
}

FlowBand tap_and_opening(const Frame& f, std::size_t protein) {
  FlowBand band = band_of(f, protein, &stage::FlowCourse::Day::tap, &stage::FlowCourse::Day::drain);
  band.in_name = f.words.at("course.tap");
  band.out_name = f.words.at("course.opening");
  band.filled = false;
  return band;
}

void draw_flow_band(Frame& f, const FlowBand& band, const Box& box, const look::Colour& colour) {
  if (band.days.size() < 2) return;
  Painter(f, band, box, colour).draw();
}

}  // namespace drawdown::panels
