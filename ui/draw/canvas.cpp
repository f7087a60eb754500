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

// What is drawn for a text: bounded, every character visible, on one line.
std::string shown(const std::string& words) {
  const bool plain = words.size() <= Canvas::longest_text && scenario::is_visible(words);
  if (plain) return words;
  std::string text = words.substr(0, Canvas::longest_text);
  if (text.size() < words.size()) {
    while (!text.empty() && (static_cast<unsigned char>(words[text.size()]) & 0xC0U) == 0x80U) text.pop_back();
    text += "…";
  }
  text = scenario::visible(text, true);
  std::replace_if(
      text.begin(), text.end(), [](char c) { return c == '\n' || c == '\t'; }, ' ');
  return text;
}

// Where the character at or before a place begins.
std::size_t character_at(const std::string& text, std::size_t at) {
  while (at > 0 && at < text.size() && (static_cast<unsigned char>(text[at]) & 0xC0U) == 0x80U) --at;
  return at;
}

}  // namespace

float Canvas::width(const std::string& words, Type type) const {
  text_work_ += words.size();
  return measure(words, type);
}

Box Canvas::text(Point at, const std::string& given, Type type, const look::Colour& colour, Align align) {
  const std::string words = shown(given);
  const float w = width(words, type);
  float x = at.x;
  if (align == Align::centre) x -= w / 2;
  if (align == Align::right) x -= w;
  x = std::round(x);
  const float y = std::round(at.y);
  const Box box{x, y, w, line_height(type)};
  texts_.push_back({words, box, current_clip()});
  text_work_ += words.size();
  glyphs({x, y}, words, type, colour);
  return box;
}

Box Canvas::fitted(const Box& box, const std::string& words, Type type, const look::Colour& colour, Align align) {
  std::string text_shown = shown(words);
  if (width(text_shown, type) > box.w) {
    shortened_ += 1;
    // The longest beginning that fits, by halving.
    std::size_t fits = 0;
    std::size_t too_long = text_shown.size();
    while (too_long - fits > 1) {
      const std::size_t middle = fits + (too_long - fits) / 2;
      const std::string part = text_shown.substr(0, character_at(text_shown, middle));
      (width(part + "…", type) > box.w ? too_long : fits) = middle;
    }
    text_shown = text_shown.substr(0, character_at(text_shown, fits)) + "…";
  }
  float x = box.x;
  if (align == Align::centre) x = box.middle_x();
  if (align == Align::right) x = box.right();
  return text({x, box.y}, text_shown, type, colour, align);
}

std::vector<std::string> Canvas::wrapped(const std::string& given, Type type, float limit, int most_lines) const {
  const std::string words = shown(given);
  std::vector<std::string> lines;
  std::string line;
  std::size_t at = 0;
  while (at < words.size() && static_cast<int>(lines.size()) <= most_lines) {
    std::size_t end = words.find(' ', at);
    if (end == std::string::npos) end = words.size();
    const std::string word = words.substr(at, end - at);
    std::string longer = line;
    if (!longer.empty()) longer += ' ';
    longer += word;
    if (!line.empty() && width(longer, type) > limit) {
      lines.push_back(line);
      line = word;
    } else {
      line = longer;
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
  const std::vector<std::string> lines = wrapped(words, type, box.w, most_lines);
  const float step = line_height(type) * 1.15F;
  float y = box.y;
  for (std::size_t i = 0; i < lines.size() && static_cast<int>(i) < most_lines; ++i) {
    std::string line = lines[i];
    const bool cut = static_cast<int>(i) + 1 == most_lines && i + 1 < lines.size();
    if (cut) line += " " + lines[i + 1];
    fitted({box.x, y, box.w, step}, line, type, colour, align);
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
