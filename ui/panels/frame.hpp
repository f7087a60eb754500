// What every panel is handed: the state to read, the canvas to draw on, the words, and the list its actions go to.
#pragma once

#include <vector>

#include "draw/canvas.hpp"
#include "draw/shapes.hpp"
#include "look/palette.hpp"
#include "look/terms.hpp"
#include "look/words.hpp"
#include "panels/interaction.hpp"
#include "panels/motion.hpp"
#include "stage/action.hpp"

namespace drawdown::panels {

struct ViewRow;

struct Frame {
  const stage::AppState& state;
  draw::Canvas& canvas;
  const look::Palette& palette;
  const look::WordBook& words;
  const look::Terms& terms;
  const draw::Shapes& shapes;
  Interaction& interaction;
  Motion& motion;
  std::vector<stage::Action>& actions;
  const std::vector<ViewRow>& views;  // views.hpp
  double seconds = 0.0;               // since the program started, for motion

  [[nodiscard]] float em() const { return canvas.em(); }
  [[nodiscard]] const std::string& word(const std::string& key) const { return words.at(key, state.page.depth); }
  // The word if it fits the width, else its short form under key + "_short".
  [[nodiscard]] const std::string& fitting(const std::string& key, draw::Type type, float width) const {
    const std::string& full = word(key);
    return canvas.width(full, type) <= width ? full : word(key + "_short");
  }
  // A text of the story shown.
  [[nodiscard]] const std::string& told(const std::string& part, const std::string& as_written) const {
    return words.told(state.document.now.story.name, part, as_written);
  }
  void act(stage::Action action) const { actions.push_back(std::move(action)); }
};

// A panel's ground: card with a hairline.
void card(Frame& f, const draw::Box& box);

struct ButtonStyle {
  bool chosen = false;
  bool quiet = false;  // no ground until pointed at
  draw::Type type = draw::Type::strong;
  draw::Align align = draw::Align::centre;
};
// True when pressed. The label must fit: the caller asks button_width.
bool button(Frame& f, const std::string& name, const draw::Box& box, const std::string& label,
            const ButtonStyle& style = {});
[[nodiscard]] float button_width(const Frame& f, const std::string& label, draw::Type type = draw::Type::strong);

// One of several; returns the index pressed or -1.
int choice(Frame& f, const std::string& name, const draw::Box& box, const std::vector<std::string>& labels, int chosen,
           draw::Type type = draw::Type::strong);
[[nodiscard]] float choice_width(const Frame& f, const std::vector<std::string>& labels,
                                 draw::Type type = draw::Type::strong);

struct SliderResult {
  bool moved = false;
  bool dragging = false;
  bool ended = false;  // the drag ended this frame
  bool reset = false;  // double click
  double value = 0.0;
};
// A line from `least` to `most`; `mark` is shown as a tick above it, unless not finite. Arrow keys move by `step`.
SliderResult slider(Frame& f, const std::string& name, const draw::Box& box, double value, double least, double most,
                    double step, double mark);

struct TextResult {
  std::vector<Ended> ended;  // in order: lines ended with Enter, texts of several lines pasted
  bool changed = false;      // what is left in the line is not what was there
  std::string text;
};
// One line to type into, with a caret; `hint` stands in it while it is empty.
TextResult text_field(Frame& f, const std::string& name, const draw::Box& box, const std::string& text,
                      const std::string& hint);

// A list that may be longer than its box: the wheel over `wheel_over` moves it, a row with the focus is brought into
// sight, and a bar at the box's right edge (keep 0.4 em free) shows where one is. `total` is the list's whole height.
class ScrollArea {
 public:
  ScrollArea(Frame& f, const std::string& name, const draw::Box& box, float total, const draw::Box& wheel_over);
  void by(float pixels);
  // For a list without controls of its own: the list itself takes the focus, and then the arrow and page keys.
  void by_keys(const std::string& control);
  // Brings a row, `from` pixels below the list's beginning, into sight with a margin.
  void reveal(float from, float height, float margin = 0);
  // Where the list's beginning stands now.
  [[nodiscard]] float top() const { return box_.y - *scroll_; }
  void draw_bar() const;

 private:
  Frame& f_;
  draw::Box box_;
  float total_;
  float* scroll_;
};

// A page that covers the middle of the window, as wide as reads well.
draw::Box page(Frame& f, const draw::Box& window, float wide_em, float height);
// Its title (the word `key`.title) and, at its right, the button that closes it; returns where that button begins.
float page_head(Frame& f, const draw::Box& box, const std::string& key);

// A paragraph whose words of the trade are marked by a dotted line; pointed at, a word is explained.
float explained_paragraph(Frame& f, const draw::Box& box, const std::string& words, draw::Type type,
                          const look::Colour& colour, int most_lines = 99);
// Over everything else: the explanation of the word pointed at.
void draw_pointed_term(Frame& f, const draw::Box& window);

void focus_ring(Frame& f, const draw::Box& box, float radius);

}  // namespace drawdown::panels
