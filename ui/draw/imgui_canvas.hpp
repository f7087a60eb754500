// The canvas on Dear ImGui's draw lists, and the fonts it writes with. A draw list holds 64 k vertices (its indices
// have 16 bits): a frame has two, one above the other, and what they have no room for is not drawn but counted.
#pragma once

#include <imgui.h>

#include <array>
#include <string>

#include "draw/canvas.hpp"

namespace drawdown::draw {

// One font for each type role, loaded at its pixel size (never scaled afterwards).
struct FontSet {
  std::array<ImFont*, 8> fonts{};
  float em = 15.0F;  // pixels of body text
};

// Fills the context's atlas for an em size. Tries Inter, then Noto Sans, then ImGui's own font.
FontSet load_fonts(ImFontAtlas& atlas, float em);

class ImGuiCanvas final : public Canvas {
 public:
  // `above` is gone on to when `list` is full; none = there is only one.
  ImGuiCanvas(ImDrawList& list, const FontSet& fonts, ImDrawList* above = nullptr);
  ImGuiCanvas(const ImGuiCanvas&) = delete;
  ImGuiCanvas(ImGuiCanvas&&) = delete;
  ImGuiCanvas& operator=(const ImGuiCanvas&) = delete;
  ImGuiCanvas& operator=(ImGuiCanvas&&) = delete;
  ~ImGuiCanvas() override;
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
  [[nodiscard]] Box current_clip() const override;

 private:
  [[nodiscard]] ImFont* font(Type type) const { return fonts_->fonts[static_cast<std::size_t>(type)]; }
  // Shapes are drawn without the atlas (a null texture is no texture to OpenGL's fixed pipeline), words with it: on a
  // software renderer a textured pixel costs six times one without.
  void bare();
  void textured();
  // Is there room for so many more vertices? Shapes leave some of it to the words.
  [[nodiscard]] bool has_room(std::size_t vertices, bool words = false);
  ImDrawList* list_;
  ImDrawList* above_;
  std::size_t full_ = 0;  // vertices of the list left behind
  const FontSet* fonts_;
  bool bare_ = false;
};

}  // namespace drawdown::draw
