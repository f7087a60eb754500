// The half of Dear ImGui that knows SFML: events in, time and size in, OpenGL drawing out.
#pragma once

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Window/Event.hpp>

#include <string>
#include <vector>

#include "window/events.hpp"

namespace drawdown::window {

class Platform {
 public:
  // Makes Dear ImGui's context and the renderer; the target's OpenGL context must be active.
  Platform();
  Platform(const Platform&) = delete;
  Platform(Platform&&) = delete;
  Platform& operator=(const Platform&) = delete;
  Platform& operator=(Platform&&) = delete;
  ~Platform();

  void event(const sf::Event& event) { events_.event(event); }
  // What was typed since the last call, in order.
  [[nodiscard]] std::vector<panels::Typed> take_typed() { return events_.take_typed(); }
  // Starts a frame of this size after so many seconds.
  void new_frame(float width, float height, float seconds);
  // Ends it and draws into the target.
  void render(sf::RenderTarget& target);
  // After the font atlas was rebuilt.
  void fonts_changed();

 private:
  std::string clipboard_;  // Dear ImGui asks for a pointer that lives until the next question
  Events events_;
};

}  // namespace drawdown::window
