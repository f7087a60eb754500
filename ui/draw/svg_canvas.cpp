#include "draw/svg_canvas.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "draw/markup.hpp"

namespace drawdown::draw {

namespace {

std::string num(float value) {
  char buffer[32];
  (void)std::snprintf(buffer, sizeof buffer, "%.2f", static_cast<double>(value));
  return buffer;
}

std::string paint(const char* attribute, const look::Colour& c) {
  const auto channel = [](float v) { return static_cast<int>(std::lround(std::clamp(v, 0.0F, 1.0F) * 255.0F)); };
  char buffer[96];
  (void)std::snprintf(buffer, sizeof buffer, " %s=\"#%02x%02x%02x\"", attribute, channel(c.r), channel(c.g),
                      channel(c.b));
  std::string text = buffer;
  if (c.a < 0.999F) text += std::string(" ") + attribute + "-opacity=\"" + num(c.a) + "\"";
  return text;
}

std::string rectangle(const Box& b, float radius) {
  std::string text = "<rect x=\"" + num(b.x) + "\" y=\"" + num(b.y) + "\" width=\"" + num(std::max(b.w, 0.0F)) +
                     "\" height=\"" + num(std::max(b.h, 0.0F)) + "\"";
  if (radius > 0) text += " rx=\"" + num(radius) + "\"";
  return text;
}

std::string list(const std::vector<Point>& points) {
  std::string text;
  for (const Point& p : points) {
    text += num(p.x);
    text += ',';
    text += num(p.y);
    text += ' ';
  }
  return text;
}

}  // namespace

SvgCanvas::SvgCanvas(float width, float height, const FontSet& fonts)
    : width_(width), height_(height), fonts_(&fonts), clips_{{0, 0, width, height}} {}

std::string SvgCanvas::document(const std::string& title, const std::string& description) const {
  return "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" +
         num(width_) + "\" height=\"" + num(height_) + "\" viewBox=\"0 0 " + num(width_) + " " + num(height_) +
         "\" font-family=\"Inter, 'Noto Sans', sans-serif\" role=\"img\">\n<title>" + escaped(title) +
         "</title>\n<desc>" + escaped(description) + "</desc>\n" + body_.str() + "</svg>\n";
}

void SvgCanvas::fill(const Box& box, const look::Colour& colour, float radius) {
  body_ << rectangle(box, radius) << paint("fill", colour) << "/>\n";
}

void SvgCanvas::outline(const Box& box, const look::Colour& colour, float radius, float width) {
  body_ << rectangle(box, radius) << " fill=\"none\"" << paint("stroke", colour) << " stroke-width=\"" << num(width)
        << "\"/>\n";
}

void SvgCanvas::polygon(const std::vector<Point>& points, const look::Colour& colour) {
  body_ << "<polygon points=\"" << list(points) << "\"" << paint("fill", colour) << "/>\n";
}

void SvgCanvas::strip(const std::vector<Point>& left, const std::vector<Point>& right, const look::Colour& colour) {
  std::vector<Point> round = left;
  round.insert(round.end(), right.rbegin(), right.rend());
  polygon(round, colour);
}

void SvgCanvas::shape(Point, const std::vector<Point>& outline, const look::Colour& colour) {
  polygon(outline, colour);
}

void SvgCanvas::line(const std::vector<Point>& points, const look::Colour& colour, float width, float dash) {
  body_ << "<polyline points=\"" << list(points) << "\" fill=\"none\"" << paint("stroke", colour) << " stroke-width=\""
        << num(width) << "\"";
  if (dash > 0) body_ << " stroke-dasharray=\"" << num(dash) << "\"";
  body_ << "/>\n";
}

void SvgCanvas::dot(Point centre, float radius, const look::Colour& colour) {
  body_ << "<circle cx=\"" << num(centre.x) << "\" cy=\"" << num(centre.y) << "\" r=\"" << num(radius) << "\""
        << paint("fill", colour) << "/>\n";
}

void SvgCanvas::ring(Point centre, float radius, const look::Colour& colour, float width) {
  body_ << "<circle cx=\"" << num(centre.x) << "\" cy=\"" << num(centre.y) << "\" r=\"" << num(radius)
        << "\" fill=\"none\"" << paint("stroke", colour) << " stroke-width=\"" << num(width) << "\"/>\n";
}

void SvgCanvas::clip(const Box& box) {
  const Box outer = clips_.back();
  const float x = std::max(box.x, outer.x);
  const float y = std::max(box.y, outer.y);
  clips_.push_back({x, y, std::max(0.0F, std::min(box.right(), outer.right()) - x),
                    std::max(0.0F, std::min(box.bottom(), outer.bottom()) - y)});
  clip_count_ += 1;
  body_ << "<clipPath id=\"clip" << clip_count_ << "\">" << rectangle(clips_.back(), 0)
        << "/></clipPath>\n<g clip-path=\"url(#clip" << clip_count_ << ")\">\n";
}

void SvgCanvas::unclip() {
  clips_.pop_back();
  body_ << "</g>\n";
}

float SvgCanvas::measure(const std::string& words, Type type) const {
  ImFont* f = font(type);
  return f->CalcTextSizeA(f->FontSize, 1e9F, 0, words.c_str(), words.c_str() + words.size()).x;
}

float SvgCanvas::line_height(Type type) const {
  return font(type)->FontSize;
}

void SvgCanvas::glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) {
  if (words.empty()) return;
  const ImFont* f = font(type);
  // The screen's fonts are sized by the height of a line; SVG sizes by the em, 1.21 times smaller for Inter.
  body_ << "<text x=\"" << num(at.x) << "\" y=\"" << num(at.y + f->Ascent) << "\" font-size=\""
        << num(f->FontSize / line_to_em) << "\"" << (is_strong(type) ? " font-weight=\"600\"" : "")
        << paint("fill", colour) << " textLength=\"" << num(measure(words, type))
        << "\" lengthAdjust=\"spacingAndGlyphs\">" << escaped(words) << "</text>\n";
}

}  // namespace drawdown::draw
