// The half of Dear ImGui that knows SFML: events in, time and size in, OpenGL drawing out. Dear ImGui 1.86 takes the
// state of keys and buttons, not a queue of events, so clicks and key strokes shorter than a frame are kept for one
// frame.
#pragma once

#include <SFML/Graphics/RenderTarget.hpp>
#include <SFML/Window/Event.hpp>
#include <array>
#include <string>

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

  void event(const sf::Event& event);
  // Starts a frame of this size after so many seconds.
  void new_frame(float width, float height, float seconds);
  // Ends it and draws into the target.
  void render(sf::RenderTarget& target);
  // After the font atlas was rebuilt.
  void fonts_changed();

 private:
  std::string clipboard_;
  std::array<bool, 3> down_{};
  std::array<bool, 3> clicked_{};  // since the last frame
  std::array<bool, 512> keys_down_{};
  std::array<bool, 512> keys_struck_{};                 // since the last frame
  bool control_ = false, shift_ = false;                // held now
  bool control_struck_ = false, shift_struck_ = false;  // held with a key struck since the last frame
};

}  // namespace drawdown::window
