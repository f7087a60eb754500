// The canvas on paper: the same drawing vocabulary as SVG 1.1 with real text, so that slide and screen agree. Text is
// measured with the screen's fonts and given its measured length.
#pragma once

#include <sstream>
#include <string>
#include <vector>

#include "draw/imgui_canvas.hpp"

namespace drawdown::draw {

class SvgCanvas final : public Canvas {
 public:
  // The fonts' atlas must be built; no window is needed.
  SvgCanvas(float width, float height, const FontSet& fonts);
  // The finished document; `title` and `description` are what a screen reader says.
  [[nodiscard]] std::string document(const std::string& title, const std::string& description) const;

  void fill(const Box& box, const look::Colour& colour, float radius) override;
  void outline(const Box& box, const look::Colour& colour, float radius, float width) override;
  void strip(const std::vector<Point>& left, const std::vector<Point>& right, const look::Colour& colour) override;
  void shape(Point centre, const std::vector<Point>& outline, const look::Colour& colour) override;
  void line(const std::vector<Point>& points, const look::Colour& colour, float width, float dash) override;
  void dot(Point centre, float radius, const look::Colour& colour) override;
  void ring(Point centre, float radius, const look::Colour& colour, float width) override;
  void clip(const Box& box) override;
  void unclip() override;
  [[nodiscard]] float line_height(Type type) const override;
  [[nodiscard]] float em() const override { return fonts_->em; }

 protected:
  [[nodiscard]] float measure(const std::string& words, Type type) const override;
  void glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) override;
  [[nodiscard]] Box current_clip() const override { return clips_.back(); }

 private:
  [[nodiscard]] ImFont* font(Type type) const { return fonts_->fonts[static_cast<std::size_t>(type)]; }
  void polygon(const std::vector<Point>& points, const look::Colour& colour);
  float width_;
  float height_;
  const FontSet* fonts_;
  std::ostringstream body_;
  std::vector<Box> clips_;
  int clip_count_ = 0;
};

}  // namespace drawdown::draw
