// Text layout and ribbons: what is the same on every canvas.
#include "draw/canvas.hpp"

#include <algorithm>
#include <cmath>

#include "scenario/visible.hpp"

namespace drawdown::draw {

float size_of(Type type) {
  switch (type) {
    case Type::small:
      return 0.86F;
    case Type::heading:
      return 1.2F;
    case Type::title:
      return 1.75F;
    case Type::figure:
      return 1.55F;
    case Type::verdict:
      return 1.95F;
    case Type::level:
      return 2.5F;
    case Type::body:
    case Type::strong:
      break;
  }
  return 1.0F;
}

bool is_strong(Type type) {
  return type != Type::small && type != Type::body;
}

namespace {

using scenario::Keep;

// A one-line text as it is shown. `room` holds it where it is not the words themselves.
const std::string& one_line(const std::string& words, std::string& room) {
  if (words.size() <= most_of_line && scenario::is_visible(words)) return words;
  room = scenario::shortened(words, most_of_line);
  return room;
}

std::size_t characters(std::string_view text) {
  return static_cast<std::size_t>(
      std::count_if(text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

// Sums of widths are no more exact than this, pixels.
constexpr float slack = 0.05F;

bool apart(const Box& a, const Box& b) {
  return a.x > b.right() || a.right() < b.x || a.y > b.bottom() || a.bottom() < b.y;
}

}  // namespace

float Canvas::width(const std::string& words, Type type) const {
  std::string room;
  const std::string& seen = one_line(words, room);
  work_.measured += characters(seen);
  return measure(seen, type);
}

Canvas::Beginning Canvas::beginning(std::string_view words, Type type, float limit) const {
  Beginning b;
  // Pieces of 32, or fewer where no more has room.
  const float room = std::clamp(limit / (0.25F * line_height(type)), 0.0F, 31.0F);
  for (std::size_t piece = 1 + static_cast<std::size_t>(room); piece > 0 && b.bytes < words.size();) {
    const std::string_view rest = words.substr(b.bytes);
    const std::string next(rest.substr(0, scenario::bytes_of(rest, piece)));
    const float w = width(next, type);
    if (b.width + w <= limit + slack) {
      b.width += w;
      b.bytes += next.size();
    } else {
      piece /= 2;
    }
  }
  return b;
}

Box Canvas::place(Point at, const std::string& seen, float w, Type type, const look::Colour& colour, Align align) {
  float x = at.x;
  if (align == Align::centre) x -= w / 2;
  if (align == Align::right) x -= w;
  x = std::round(x);
  const float y = std::round(at.y);
  const Box box{x, y, w, line_height(type)};
  texts_.push_back({seen, box, current_clip()});
  if (apart(box, current_clip())) return box;
  if (silent_) return box;
  work_.drawn += characters(seen);
  glyphs({x, y}, seen, type, colour);
  return box;
}

Box Canvas::text(Point at, const std::string& words, Type type, const look::Colour& colour, Align align) {
  std::string room;
  const std::string& seen = one_line(words, room);
  return place(at, seen, width(seen, type), type, colour, align);
}

Box Canvas::fitted(const Box& box, const std::string& words, Type type, const look::Colour& colour, Align align) {
  std::string room;
  const std::string& all = one_line(words, room);
  std::string cut;
  Beginning fits = beginning(all, type, box.w);
  if (fits.bytes < all.size()) {
    shortened_ += 1;
    const float ellipsis = width("…", type);
    fits = beginning(all, type, box.w - ellipsis);
    fits.width += ellipsis;
    cut = all.substr(0, fits.bytes) + "…";
  }
  float x = box.x;
  if (align == Align::centre) x = box.middle_x();
  if (align == Align::right) x = box.right();
  return place({x, box.y}, cut.empty() ? all : cut, fits.width, type, colour, align);
}

Box Canvas::fitted_end(const Box& box, const std::string& words, Type type, const look::Colour& colour) {
  std::string seen =
      scenario::visible(words.size() <= most_of_line ? words : words.substr(words.size() - most_of_line));
  if (width(seen, type) > box.w || words.size() > most_of_line) {
    // Halving what to leave out, until no character less would do.
    const float ellipsis = width("…", type);
    std::size_t few = 0;
    std::size_t many = characters(seen);
    while (few < many) {
      const std::size_t middle = (few + many) / 2;
      const bool fits = width(seen.substr(scenario::bytes_of(seen, middle)), type) <= box.w - ellipsis;
      (fits ? many : few) = fits ? middle : middle + 1;
    }
    seen = "…" + seen.substr(scenario::bytes_of(seen, few));
  }
  return place({box.x, box.y}, seen, width(seen, type), type, colour, Align::left);
}

std::vector<std::string> Canvas::wrapped(const std::string& words, Type type, float limit) const {
  std::string text = scenario::shortened(words, most_of_paragraph, Keep::lines);
  std::replace(text.begin(), text.end(), '\t', ' ');
  std::vector<std::string> lines;
  const float space = width(" ", type);
  std::string line;
  float used = 0;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find_first_of(" \n", at), text.size());
    std::string word = text.substr(at, end - at);
    Beginning fits = beginning(word, type, limit);
    if (!line.empty() && (fits.bytes < word.size() || used + space + fits.width > limit)) {
      lines.push_back(line);
      line.clear();
    }
    // A word wider than a whole line goes over several.
    while (fits.bytes < word.size()) {
      const std::size_t part = std::max(fits.bytes, scenario::bytes_of(word, 1));
      lines.push_back(word.substr(0, part));
      word.erase(0, part);
      fits = beginning(word, type, limit);
    }
    used = line.empty() ? fits.width : used + space + fits.width;
    if (!line.empty()) line += ' ';
    line += word;
    if (end < text.size() && text[end] == '\n') {
      lines.push_back(line);
      line.clear();
    }
    at = end + 1;
  }
  if (!line.empty()) lines.push_back(line);
  return lines;
}

float Canvas::paragraph_height(const std::string& words, Type type, float limit) const {
  return static_cast<float>(wrapped(words, type, limit).size()) * line_height(type) * 1.15F;
}

void Canvas::cover(const Box& box) {
  texts_.erase(std::remove_if(texts_.begin(), texts_.end(),
                              [&](const TextRecord& t) {
                                return t.box.x < box.right() && t.box.right() > box.x && t.box.y < box.bottom() &&
                                       t.box.bottom() > box.y;
                              }),
               texts_.end());
}

float Canvas::paragraph(const Box& box, const std::string& words, Type type, const look::Colour& colour, int most_lines,
                        Align align) {
  const std::vector<std::string> lines = wrapped(words, type, box.w);
  const float step = line_height(type) * 1.15F;
  float y = box.y;
  for (std::size_t i = 0; i < lines.size() && static_cast<int>(i) < most_lines; ++i) {
    std::string line = lines[i];
    const bool cut = static_cast<int>(i) + 1 == most_lines && i + 1 < lines.size();
    if (cut) line += " " + lines[i + 1];
    if (!line.empty()) fitted({box.x, y, box.w, step}, line, type, colour, align);
    y += step;
  }
  return y - box.y;
}

std::vector<Point> s_curve(Point from, Point to, int pieces) {
  std::vector<Point> points;
  const float reach = 0.5F * (to.x - from.x);
  for (int i = 0; i <= pieces; ++i) {
    const float s = static_cast<float>(i) / static_cast<float>(pieces);
    const float r = 1 - s;
    const float b0 = r * r * r;
    const float b1 = 3 * r * r * s;
    const float b2 = 3 * r * s * s;
    const float b3 = s * s * s;
    points.push_back(
        {b0 * from.x + b1 * (from.x + reach) + b2 * (to.x - reach) + b3 * to.x, (b0 + b1) * from.y + (b2 + b3) * to.y});
  }
  return points;
}

Edges ribbon_edges(const std::vector<Point>& centre, float width) {
  Edges edges;
  const std::size_t n = centre.size();
  for (std::size_t i = 0; i < n; ++i) {
    const Point a = centre[i == 0 ? 0 : i - 1];
    const Point b = centre[i + 1 < n ? i + 1 : n - 1];
    const float dx = b.x - a.x;
    const float dy = b.y - a.y;
    const float length = std::max(1e-3F, std::sqrt(dx * dx + dy * dy));
    const float nx = -dy / length * width / 2;
    const float ny = dx / length * width / 2;
    edges.left.push_back({centre[i].x - nx, centre[i].y - ny});
    edges.right.push_back({centre[i].x + nx, centre[i].y + ny});
  }
  return edges;
}

void hatch(Canvas& canvas, const Box& box, const look::Colour& stripe, float gap, float width) {
  canvas.clip(box);
  for (float x = box.x - box.h; x < box.right(); x += gap) {
    canvas.line({{x, box.bottom()}, {x + box.h, box.y}}, stripe, width);
  }
  canvas.unclip();
}

void ribbon(Canvas& canvas, const std::vector<Point>& centre, float width, const look::Colour& colour,
            const look::Colour* hatch, float hatch_gap) {
  if (width < 0.2F || centre.size() < 2) return;
  const Edges edges = ribbon_edges(centre, width);
  canvas.strip(edges.left, edges.right, colour);
  if (hatch == nullptr || width < 3) return;
  // Stripes from one edge to the other, leaning forward by the ribbon's width, evenly spaced along the centre.
  std::vector<float> along{0};
  for (std::size_t i = 1; i < centre.size(); ++i) {
    along.push_back(along.back() + std::hypot(centre[i].x - centre[i - 1].x, centre[i].y - centre[i - 1].y));
  }
  const auto on = [&](const std::vector<Point>& edge, float distance) {
    const float d = std::clamp(distance, 0.0F, along.back());
    const auto after = std::upper_bound(along.begin(), along.end(), d);
    const std::size_t j = std::min(edge.size() - 1, static_cast<std::size_t>(after - along.begin()));
    const std::size_t i = j == 0 ? 0 : j - 1;
    const float span = std::max(1e-3F, along[j] - along[i]);
    const float s = std::clamp((d - along[i]) / span, 0.0F, 1.0F);
    return Point{edge[i].x + s * (edge[j].x - edge[i].x), edge[i].y + s * (edge[j].y - edge[i].y)};
  };
  const float lean = std::min(width, 24.0F);
  for (float d = 0; d + lean <= along.back(); d += hatch_gap) {
    canvas.line({on(edges.right, d), on(edges.left, d + lean)}, *hatch, std::max(1.0F, hatch_gap * 0.16F));
  }
}

}  // namespace drawdown::draw
