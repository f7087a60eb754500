// The drawing vocabulary: a few shapes and text, in pixels, with soft edges. Panels draw only through it, so what is
// behind (screen, paper, SVG) can change without touching a panel. Every text drawn is also remembered with
// its box, so that the tests can look for words cut off or lying on each other.
//
// Every text passes here on its way to whatever is behind: made visible (scenario/visible.hpp), and no longer than a
// bound, so that no file can make a frame long. What is left out is said by an ellipsis and its count.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "look/palette.hpp"

namespace drawdown::draw {

struct Point {
  float x = 0, y = 0;
};

struct Box {
  float x = 0, y = 0, w = 0, h = 0;
  [[nodiscard]] float right() const { return x + w; }
  [[nodiscard]] float bottom() const { return y + h; }
  [[nodiscard]] float middle_x() const { return x + w / 2; }
  [[nodiscard]] float middle_y() const { return y + h / 2; }
  [[nodiscard]] bool holds(Point p) const { return p.x >= x && p.x < right() && p.y >= y && p.y < bottom(); }
  [[nodiscard]] Box inset(float by) const { return {x + by, y + by, w - 2 * by, h - 2 * by}; }
  [[nodiscard]] Box inset(float bx, float by) const { return {x + bx, y + by, w - 2 * bx, h - 2 * by}; }
};

// Type roles; sizes follow the text scale.
enum class Type { small, body, strong, heading, title, figure, verdict, level };
// In em, and whether it is set in the strong face: every backend's fonts follow these.
[[nodiscard]] float size_of(Type type);
[[nodiscard]] bool is_strong(Type type);
// The line of a face is so much higher than its em (Inter's own metrics); screen fonts are sized by the line.
inline constexpr float line_to_em = 1.21F;
enum class Align { left, centre, right };

struct TextRecord {
  std::string text;
  Box box;   // where the glyphs are
  Box clip;  // what of the screen it may use
};

// Characters of one line, and of one paragraph, that are looked at.
inline constexpr std::size_t most_of_line = 1000;
inline constexpr std::size_t most_of_paragraph = 2500;

// What a frame cost so far: characters measured and drawn, and shapes or texts that a full draw list had no room for.
struct Work {
  std::size_t measured = 0;
  std::size_t drawn = 0;
  std::size_t refused = 0;
};

class Canvas {
 public:
  Canvas() = default;
  Canvas(const Canvas&) = delete;
  Canvas(Canvas&&) = delete;
  Canvas& operator=(const Canvas&) = delete;
  Canvas& operator=(Canvas&&) = delete;
  virtual ~Canvas() = default;

  virtual void fill(const Box& box, const look::Colour& colour, float radius = 0) = 0;
  virtual void outline(const Box& box, const look::Colour& colour, float radius = 0, float width = 1) = 0;
  // The band between two equally long lines, edges feathered.
  virtual void strip(const std::vector<Point>& left, const std::vector<Point>& right, const look::Colour& colour) = 0;
  // A shape every point of whose outline is seen from `centre`, edges feathered.
  virtual void shape(Point centre, const std::vector<Point>& outline, const look::Colour& colour) = 0;
  // dash 0 = solid; else dashes and gaps of that many pixels.
  virtual void line(const std::vector<Point>& points, const look::Colour& colour, float width, float dash = 0) = 0;
  virtual void dot(Point centre, float radius, const look::Colour& colour) = 0;
  virtual void ring(Point centre, float radius, const look::Colour& colour, float width) = 0;
  virtual void clip(const Box& box) = 0;
  virtual void unclip() = 0;

  // One line; (x, y) is the top of the line at its left, middle or right. Returns the box of the glyphs.
  Box text(Point at, const std::string& words, Type type, const look::Colour& colour, Align align = Align::left);
  // Wrapped to a width, lines from the top; returns the height used. At most `most_lines`, the last one ended with an
  // ellipsis if more would follow. A line end begins a new line; a word wider than the width is broken.
  float paragraph(const Box& box, const std::string& words, Type type, const look::Colour& colour, int most_lines = 99,
                  Align align = Align::left);
  // One line, shortened with an ellipsis to fit a width.
  Box fitted(const Box& box, const std::string& words, Type type, const look::Colour& colour,
             Align align = Align::left);

  // The same, losing its beginning instead of its end (a path, a line being typed).
  Box fitted_end(const Box& box, const std::string& words, Type type, const look::Colour& colour);

  // From here on no text is drawn, though each keeps its place: what a picture says without its words.
  void silence(bool silent) { silent_ = silent; }

  // Something opaque is about to be drawn over this box: the texts under it are no longer seen.
  void cover(const Box& box);

  [[nodiscard]] float width(const std::string& words, Type type) const;
  // The longest beginning no wider than this: its bytes and its width.
  struct Beginning {
    std::size_t bytes = 0;
    float width = 0;
  };
  [[nodiscard]] Beginning beginning(std::string_view words, Type type, float limit) const;
  [[nodiscard]] virtual float line_height(Type type) const = 0;
  [[nodiscard]] std::vector<std::string> wrapped(const std::string& words, Type type, float width) const;
  [[nodiscard]] float paragraph_height(const std::string& words, Type type, float width) const;

  // Pixels of one em of body text: the measure of every distance on the screen.
  [[nodiscard]] virtual float em() const = 0;
  [[nodiscard]] const std::vector<TextRecord>& texts() const { return texts_; }
  [[nodiscard]] std::size_t shortened() const { return shortened_; }
  [[nodiscard]] const Work& work() const { return work_; }

 protected:
  // Of visible words, at most most_of_line and their ending.
  [[nodiscard]] virtual float measure(const std::string& words, Type type) const = 0;
  virtual void glyphs(Point at, const std::string& words, Type type, const look::Colour& colour) = 0;
  [[nodiscard]] virtual Box current_clip() const = 0;
  void refuse() { work_.refused += 1; }

 private:
  Box place(Point at, const std::string& seen, float w, Type type, const look::Colour& colour, Align align);
  mutable Work work_;
  std::vector<TextRecord> texts_;
  bool silent_ = false;
  std::size_t shortened_ = 0;  // texts that had to end in an ellipsis
};

// Smooth S-shaped centre line between two points, leaving and arriving level.
[[nodiscard]] std::vector<Point> s_curve(Point from, Point to, int pieces = 40);

// The two edges of a ribbon of constant width along a centre line.
struct Edges {
  std::vector<Point> left;
  std::vector<Point> right;
};
[[nodiscard]] Edges ribbon_edges(const std::vector<Point>& centre, float width);

// Slanting stripes over a box: what marks C4 besides its colour.
void hatch(Canvas& canvas, const Box& box, const look::Colour& stripe, float gap, float width);

// A flow: a strip along a centre line, plain or hatched.
void ribbon(Canvas& canvas, const std::vector<Point>& centre, float width, const look::Colour& colour,
            const look::Colour* hatch, float hatch_gap);

}  // namespace drawdown::draw
