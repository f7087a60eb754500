// One frame of the program, without a window: state, words, fonts and interaction held together, actions applied after
// the panels are drawn. The window, the picture writer and the tests all drive this.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "draw/imgui_canvas.hpp"
#include "draw/shapes.hpp"
#include "look/library.hpp"
#include "panels/interaction.hpp"
#include "panels/motion.hpp"
#include "panels/views.hpp"
#include "stage/action.hpp"

namespace drawdown::shell {

class Shell {
 public:
  // `assets` is the folder of the languages (en.toml, ...) and shapes.toml. Throws std::runtime_error if they cannot be
  // read.
  Shell(stage::AppState state, const std::string& assets);

  // Called between ImGui::NewFrame() and ImGui::Render(). Effects of what happened go to `submit`.
  // `typed` is what was typed since the last frame.
  void frame(float width, float height, double seconds, const std::function<void(stage::Effect)>& submit,
             std::vector<panels::Typed> typed = {});
  void apply(const stage::Action& action, const std::function<void(stage::Effect)>& submit);

  // The same frame as an SVG document, without a window or a display. Dear ImGui's context must exist.
  [[nodiscard]] std::string svg(float width, float height);

  // Builds the context's font atlas if the window's size or the text size asks for another em. True if it did: the
  // renderer must take the new texture.
  bool fit_fonts(float width, float height);

  [[nodiscard]] const stage::AppState& state() const { return state_; }
  [[nodiscard]] const std::vector<draw::TextRecord>& texts() const { return texts_; }
  [[nodiscard]] std::size_t shortened() const { return shortened_; }
  // What the last frame cost the canvas.
  [[nodiscard]] const draw::Work& work() const { return work_; }
  [[nodiscard]] float em() const { return fonts_.em; }
  // In the language chosen now.
  [[nodiscard]] const look::WordBook& words() const { return library_.words(state_.look.language); }
  // One more view in the tabs.
  void add_view(panels::ViewRow row) { views_.push_back(std::move(row)); }
  panels::Interaction& interaction() { return interaction_; }
  // Something on the screen is on its way: the next frame should not wait.
  [[nodiscard]] bool moving() const;

 private:
  [[nodiscard]] const look::Terms& terms() const { return library_.terms(state_.look.language); }
  // Draws the screen; returns what the input did to it.
  std::vector<stage::Action> draw(draw::Canvas& canvas, panels::Input input, float width, float height, double seconds);

  stage::AppState state_;
  look::Library library_;
  draw::Shapes shapes_;
  std::vector<panels::ViewRow> views_;
  draw::FontSet fonts_;
  bool fonts_ready_ = false;
  panels::Interaction interaction_;
  panels::Motion motion_;
  std::vector<draw::TextRecord> texts_;
  std::size_t shortened_ = 0;
  draw::Work work_;
};

// Pixels of one em: 15 at 1600 x 900 and 100 %, growing with the window so that a big screen is as readable.
[[nodiscard]] float em_for(float width, float height, int text_percent);

}  // namespace drawdown::shell
