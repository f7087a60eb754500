// The whole screen without a window: Dear ImGui's context, the shell on a story, and hands to click and type with.
#pragma once

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

#include "command/command.hpp"
#include "command/stories.hpp"
#include "shell/shell.hpp"
#include "support/stories.hpp"
#include "work/worker.hpp"

namespace drawdown::support {

class Screen {
 public:
  explicit Screen(stage::AppState state, float width = 1600, float height = 900);
  Screen(const Screen&) = delete;
  Screen(Screen&&) = delete;
  Screen& operator=(const Screen&) = delete;
  Screen& operator=(Screen&&) = delete;
  ~Screen();

  // Draws frames; effects are carried out at once.
  void frame(int count = 1);
  // One frame as the clock shows so many seconds since the start (frame() stands at 0: nothing moves on its way).
  void frame_at(double seconds);
  void do_action(const stage::Action& action);
  void move(float x, float y);
  void press();
  void release();
  void click(float x, float y);
  // Clicks the middle of the first text that is exactly these words. False if it is not on the screen.
  bool click_text(const std::string& words);
  void key(ImGuiKey key, bool ctrl = false, bool shift = false);
  void type(const std::string& letters);
  // All this within one frame.
  void type_at_once(std::vector<panels::Typed> typed);

  void add_view(panels::ViewRow row) { shell_.add_view(std::move(row)); }
  [[nodiscard]] const stage::AppState& state() const { return shell_.state(); }
  [[nodiscard]] const std::vector<draw::TextRecord>& texts() const { return shell_.texts(); }
  [[nodiscard]] bool shows(const std::string& part) const;
  // A copy: the next frame makes the records anew.
  [[nodiscard]] std::optional<draw::TextRecord> find(const std::string& words) const;
  [[nodiscard]] panels::Interaction& interaction() { return shell_.interaction(); }
  [[nodiscard]] const std::string& focused() { return shell_.interaction().focused(); }
  [[nodiscard]] const draw::Work& work() const { return shell_.work(); }
  [[nodiscard]] float height() const { return height_; }
  [[nodiscard]] float em() const { return shell_.em(); }
  [[nodiscard]] int vertices() const;
  [[nodiscard]] bool moving() const { return shell_.moving(); }
  // The balance's ribbons and columns, as drawn: the sum of all vertices' places; changes when anything moves.
  [[nodiscard]] double drawn() const;

 private:
  void submit(const stage::Effect& effect);
  float width_;
  float height_;
  std::vector<panels::Typed> typed_;  // for the next frame
  shell::Shell shell_;
  work::Executor executor_{{}, 256};
};

// The opening story on a day, no overlay.
[[nodiscard]] stage::AppState opening_state(double day = 95.0);

}  // namespace drawdown::support
