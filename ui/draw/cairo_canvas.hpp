// The canvas on paper: one page as PDF, or a picture as SVG, through Cairo. Fonts by name (Inter, else what fontconfig
// takes for it); needs no window and no other context, so that a worker may use it.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "draw/canvas.hpp"

namespace drawdown::draw {

class CairoCanvas final : public Canvas {
 public:
  enum class Kind { pdf, svg };
  // Sizes in points; `em` is the body text's line.
  CairoCanvas(Kind kind, float width, float height, float em);
  CairoCanvas(const CairoCanvas&) = delete;
  CairoCanvas(CairoCanvas&&) = delete;
  CairoCanvas& operator=(const CairoCanvas&) = delete;
  CairoCanvas& operator=(CairoCanvas&&) = delete;
  ~CairoCanvas() override;

  // Title and language of a PDF's own description.
  void describe(const std::string& title);
  // Ends the page; the file's bytes. Throws std::runtime_error if Cairo has met an error.
  [[nodiscard]] std::string finish();

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
  [[nodiscard]] float em() const override { return em_; }

 protected:
  [[nodiscard]] float measure(const std::string& words, Type type) const override;
  void glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) override;
  [[nodiscard]] Box current_clip() const override { return clips_.back(); }

 private:
  struct Page;
  void choose(Type type) const;
  void ink(const look::Colour& colour) const;
  void rectangle(const Box& box, float radius) const;
  std::unique_ptr<Page> page_;
  float em_;
  std::vector<Box> clips_;
};

}  // namespace drawdown::draw
