// Mouse and keyboard as the panels see them, and which control has the pointer and the keyboard. Controls are named by
// text; Tab walks them in the order they are drawn.
#pragma once

#include <functional>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "draw/canvas.hpp"
#include "panels/typed.hpp"

namespace drawdown::panels {

enum class Key {
  tab,
  back_tab,
  left,
  right,
  up,
  down,
  page_up,
  page_down,
  home,
  end,
  enter,
  space,
  escape,
  backspace,
  paste,
  undo,
  redo
};

struct Input {
  draw::Point mouse{-1e6F, -1e6F};
  bool pressed = false;  // this frame
  bool down = false;
  bool released = false;  // this frame
  bool double_click = false;
  float wheel = 0.0F;  // notches, up positive
  std::vector<Key> keys;
  std::vector<Typed> typed;  // for a line of text, in order
  std::string letters;       // the same as keys of the program: ASCII without the space
  std::string pasted;        // the clipboard's text, with Key::paste
  std::function<std::string()> clipboard = [] { return std::string(); };  // asked only when a paste button is pressed
};

class Interaction {
 public:
  // Starts a frame; uses up Tab.
  void begin(Input input);
  // Ends it: the order for the next Tab is known.
  void finish();

  [[nodiscard]] const Input& input() const { return input_; }
  // Takes a key out of this frame, if it was pressed.
  [[nodiscard]] bool take(Key key);
  [[nodiscard]] bool take_letter(char letter);

  // A control: remembers it for Tab and says what the pointer and keyboard do to it.
  struct Response {
    bool hovered = false;
    bool held = false;        // pressed on it and not yet released
    bool clicked = false;     // released on it, or Enter/Space with the focus on it
    bool focused = false;     // has the keyboard
    bool show_focus = false;  // and the keyboard was used last: draw the ring
    bool released = false;    // the hold ended this frame, wherever
  };
  // Enter presses what has the focus; the space bar only what was reached by the keyboard, so that after a drag or a
  // click it plays. `pressed_by_keys`: false for what only moves.
  Response control(const std::string& name, const draw::Box& box, bool pressed_by_keys = true);

  // Controls drawn while this is off (under an overlay) do nothing.
  void enable(bool on) { enabled_ = on; }
  [[nodiscard]] bool enabled() const { return enabled_; }
  // What of the screen the pointer can reach now (a scrolled list).
  void reach(const draw::Box* box) { reach_ = box; }

  [[nodiscard]] const std::string& focused() const { return focus_; }
  void focus(const std::string& name) { focus_ = name; }
  // This control takes letters while it has the focus.
  void takes_letters(const std::string& name) {
    if (name == focus_ || typed_ != focus_) typed_ = name;
  }
  // All that was typed this frame, for the line that has the focus; nobody else sees it then.
  [[nodiscard]] std::vector<Typed> take_typed();
  // Where the caret of a line of text stands, in bytes.
  std::size_t& caret(const std::string& name) { return carets_[name]; }
  // Lets go of what was typed or pasted.
  void forget_typed();
  [[nodiscard]] bool typing() const { return !typed_.empty() && typed_ == focus_; }
  // The same, as Tab would: with the ring, and lists follow.
  void walk_to(const std::string& name) {
    focus_ = name;
    by_keyboard_ = focus_moved_ = true;
  }
  float& scroll(const std::string& name) { return scrolls_[name]; }
  // The word of the trade the pointer is on, for the end of the frame.
  struct Pointed {
    std::string key;  // a word of the trade; empty = none
    draw::Box box;
    std::string name, text;  // of something else that is told of
    [[nodiscard]] bool any() const { return !key.empty() || !text.empty(); }
  };
  void point_at(const std::string& key, const draw::Box& box) { pointed_ = {key, box, {}, {}}; }
  void tell(std::string name, std::string text, const draw::Box& box) {
    pointed_ = {{}, box, std::move(name), std::move(text)};
  }
  [[nodiscard]] const Pointed& pointed() const { return pointed_; }
  // True once after the focus moved by Tab (lists scroll to it).
  [[nodiscard]] bool focus_moved() const { return focus_moved_; }

 private:
  Input input_;
  std::string active_;
  std::string focus_;
  std::string typed_;
  std::vector<std::string> order_;
  std::vector<std::string> building_;
  std::map<std::string, float> scrolls_;
  std::map<std::string, std::size_t> carets_;
  Pointed pointed_;
  const draw::Box* reach_ = nullptr;
  bool enabled_ = true;
  bool by_keyboard_ = false;
  bool focus_moved_ = false;
};

}  // namespace drawdown::panels
