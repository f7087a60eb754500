// SFML's events as Dear ImGui and the panels take them, without a window: tests drive this very path. Dear ImGui 1.86
// takes the state of keys and buttons, not a queue of events, so clicks and key strokes shorter than a frame are kept
// for one frame; what is typed goes past it, in a queue of its own.
#pragma once

#include <imgui.h>
#include <SFML/Window/Event.hpp>

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "panels/typed.hpp"

namespace drawdown::window {

class Events {
 public:
  // `clipboard` gives the clipboard's text in UTF-8 at the moment something is pasted.
  explicit Events(std::function<std::string()> clipboard) : clipboard_(std::move(clipboard)) {}

  // How Dear ImGui finds the keys in KeysDown.
  static void map_keys(ImGuiIO& io);

  void event(const sf::Event& event);
  // Before ImGui::NewFrame(): pointer, buttons and keys of the events since the last call.
  void fill(ImGuiIO& io);
  // What was typed since the last call, in order.
  [[nodiscard]] std::vector<panels::Typed> take_typed();

 private:
  void type(panels::Typed::Kind kind, std::string text = {}) { typed_.push_back({kind, std::move(text)}); }
  void key(const sf::Event::KeyEvent& key, bool pressed);

  std::function<std::string()> clipboard_;
  std::vector<panels::Typed> typed_;
  ImVec2 mouse_{-1e6F, -1e6F};
  float wheel_ = 0.0F;
  std::array<bool, 3> down_{};
  std::array<bool, 3> clicked_{};  // since the last frame
  std::array<bool, 512> keys_down_{};
  std::array<bool, 512> keys_struck_{};                 // since the last frame
  bool control_ = false, shift_ = false;                // held now
  bool control_struck_ = false, shift_struck_ = false;  // held with a key struck since the last frame
};

}  // namespace drawdown::window
