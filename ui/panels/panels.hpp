// The panels, one function each, and the screen that lays them out. All draw from the state as it is and put what the
// person does into the frame's actions.
#pragma once

#include "panels/frame.hpp"

namespace drawdown::panels {

// Lays out and draws everything for a window of this size; also reads the keys that work everywhere.
void draw_screen(Frame& f, const draw::Box& window);

// Where things go. `wide`: levers beside the pictures; else a tab of their own. `stacked`: course below the balance.
struct Layout {
  bool short_of_room = false;  // the window is low for its text
  bool wide = false;
  bool stacked = false;
  bool words_page = false;  // no room for the strip under the picture
  draw::Box head, banner, main, levers, talk, foot;
  draw::Box balance, strip, course;  // within main
  bool sketched = false;             // there is room for the course in small only
};
[[nodiscard]] Layout lay_out(const Frame& f, const draw::Box& window);

// How high the head strip is at a width; where room is short it leaves the story's sentence to the list of stories.
[[nodiscard]] float head_height(const Frame& f, float width, bool short_of_room);
void draw_head(Frame& f, const draw::Box& box, const Layout& layout);
void draw_balance(Frame& f, const draw::Box& box);
[[nodiscard]] float strip_height(const Frame& f, float width);
void draw_strip(Frame& f, const draw::Box& box);  // the sentence and the numbers
void draw_course(Frame& f, const draw::Box& box);
// A lever's value as it is shown everywhere: off, 60 %, 6.00 ×.
[[nodiscard]] std::string value_text(const Frame& f, const body::Lever& lever, double value);
void draw_levers(Frame& f, const draw::Box& box);
void draw_compare(Frame& f, const draw::Box& box);
void draw_study(Frame& f, const draw::Box& box);  // tracer, which lever, truth
void draw_cascade(Frame& f, const draw::Box& box);
void draw_tissues(Frame& f, const draw::Box& box);
void draw_lab_sheet(Frame& f, const draw::Box& box);
void draw_own(Frame& f, const draw::Box& box);  // a person's own numbers
[[nodiscard]] float first_minute_height(const Frame& f, float width);
void draw_first_minute(Frame& f, const draw::Box& box);
[[nodiscard]] float talk_height(const Frame& f, float width, float most);
void draw_talk(Frame& f, const draw::Box& box);
void draw_foot(Frame& f, const draw::Box& box);
void draw_banner(Frame& f, const draw::Box& box);
void draw_cautions(Frame& f, const draw::Box& window);
void draw_stories(Frame& f, const draw::Box& window);
// A story's course in small; the thin line is 1; C3 drawn through, C4 dashed. The
// playhead as a share of the story, below 0: none.
void draw_sketch(Frame& f, const draw::Box& box, const stage::Sketch& sketch, double playhead);
void draw_tools(Frame& f, const draw::Box& window);
void draw_keys(Frame& f, const draw::Box& window);
void draw_glossary(Frame& f, const draw::Box& window);
void draw_files(Frame& f, const draw::Box& window);

}  // namespace drawdown::panels
