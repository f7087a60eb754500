// Events in.
#include "window/events.hpp"

#include <SFML/Window/Keyboard.hpp>

#include <tuple>
#include <type_traits>
#include <utility>

namespace drawdown::window {

void Events::map_keys(ImGuiIO& io) {
  struct Pair {
    ImGuiKey key;
    sf::Keyboard::Key code;
  };
  static constexpr Pair pairs[] = {{ImGuiKey_Tab, sf::Keyboard::Tab},
                                   {ImGuiKey_LeftArrow, sf::Keyboard::Left},
                                   {ImGuiKey_RightArrow, sf::Keyboard::Right},
                                   {ImGuiKey_UpArrow, sf::Keyboard::Up},
                                   {ImGuiKey_DownArrow, sf::Keyboard::Down},
                                   {ImGuiKey_PageUp, sf::Keyboard::PageUp},
                                   {ImGuiKey_PageDown, sf::Keyboard::PageDown},
                                   {ImGuiKey_Home, sf::Keyboard::Home},
                                   {ImGuiKey_End, sf::Keyboard::End},
                                   {ImGuiKey_Enter, sf::Keyboard::Enter},
                                   {ImGuiKey_Space, sf::Keyboard::Space},
                                   {ImGuiKey_Escape, sf::Keyboard::Escape},
                                   {ImGuiKey_Backspace, sf::Keyboard::Backspace},
                                   {ImGuiKey_V, sf::Keyboard::V},
                                   {ImGuiKey_Z, sf::Keyboard::Z},
                                   {ImGuiKey_Y, sf::Keyboard::Y}};
  for (int& index : io.KeyMap) index = -1;
  for (const Pair& pair : pairs) io.KeyMap[pair.key] = pair.code;
}

void Events::event(const sf::Event& event) {
  switch (event.type) {
    case sf::Event::MouseMoved:
      mouse_ = {static_cast<float>(event.mouseMove.x), static_cast<float>(event.mouseMove.y)};
      break;
    case sf::Event::MouseButtonPressed:
    case sf::Event::MouseButtonReleased: {
      const auto button = static_cast<std::size_t>(event.mouseButton.button);
      if (button >= down_.size()) break;
      mouse_ = {static_cast<float>(event.mouseButton.x), static_cast<float>(event.mouseButton.y)};
      down_[button] = event.type == sf::Event::MouseButtonPressed;
      if (down_[button]) clicked_[button] = true;
      break;
    }
    case sf::Event::MouseWheelScrolled:
      if (event.mouseWheelScroll.wheel == sf::Mouse::VerticalWheel) wheel_ += event.mouseWheelScroll.delta;
      break;
    case sf::Event::KeyPressed:
    case sf::Event::KeyReleased:
      key(event.key, event.type == sf::Event::KeyPressed);
      break;
    case sf::Event::TextEntered:
      // Control characters come with Ctrl held, and with the keys that key() knows.
      if (event.text.unicode >= 32 && event.text.unicode != 127 &&
          !(event.text.unicode >= 128 && event.text.unicode < 160)) {
        type(panels::Typed::Kind::text, panels::utf8(event.text.unicode));
      }
      break;
    case sf::Event::MouseLeft:
      mouse_ = {-1e6F, -1e6F};
      break;
    case sf::Event::LostFocus:
      keys_down_ = {};
      control_ = shift_ = false;
      down_ = {};
      break;
    default:
      break;
  }
}

void Events::key(const sf::Event::KeyEvent& key, bool pressed) {
  using Kind = panels::Typed::Kind;
  const int code = key.code;
  if (code < 0 || code >= static_cast<int>(keys_down_.size())) return;  // unknown keys come as -1
  const auto index = static_cast<std::size_t>(code);
  keys_down_[index] = pressed;
  control_ = key.control;
  shift_ = key.shift;
  if (!pressed) return;
  keys_struck_[index] = true;
  control_struck_ = control_struck_ || control_;
  shift_struck_ = shift_struck_ || shift_;
  struct Meaning {
    sf::Keyboard::Key key;
    Kind kind;
  };
  static constexpr Meaning meanings[] = {{sf::Keyboard::Enter, Kind::enter},
                                         {sf::Keyboard::Left, Kind::left},
                                         {sf::Keyboard::Backspace, Kind::backspace},
                                         {sf::Keyboard::Right, Kind::right},
                                         {sf::Keyboard::Delete, Kind::erase},
                                         {sf::Keyboard::Home, Kind::home},
                                         {sf::Keyboard::End, Kind::end}};
  for (const Meaning& m : meanings) {
    if (key.code == m.key) type(m.kind);
  }
  if (key.control && key.code == sf::Keyboard::V) type(Kind::paste, clipboard_());
}

void Events::fill(ImGuiIO& io) {
  io.MousePos = mouse_;
  io.MouseWheel += std::exchange(wheel_, 0.0F);
  for (std::size_t i = 0; i < down_.size(); ++i) {
    io.MouseDown[i] = down_[i] || clicked_[i];
    clicked_[i] = false;
  }
  static_assert(std::tuple_size_v<decltype(keys_down_)> == std::extent_v<decltype(io.KeysDown)>);
  for (std::size_t i = 0; i < keys_down_.size(); ++i) {
    io.KeysDown[i] = keys_down_[i] || keys_struck_[i];
    keys_struck_[i] = false;
  }
  io.KeyCtrl = control_ || control_struck_;
  io.KeyShift = shift_ || shift_struck_;
  control_struck_ = shift_struck_ = false;
}

std::vector<panels::Typed> Events::take_typed() {
  return std::exchange(typed_, {});
}

}  // namespace drawdown::window
