// Events, time and drawing.
#include "window/platform.hpp"

#include <backends/imgui_impl_opengl2.h>
#include <imgui.h>
#include <SFML/OpenGL.hpp>
#include <SFML/Window/Clipboard.hpp>
#include <SFML/Window/Keyboard.hpp>

#include <algorithm>
#include <tuple>
#include <type_traits>

namespace drawdown::window {

Platform::Platform() {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
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
  // Dear ImGui asks for a pointer that lives until the next question.
  io.ClipboardUserData = &clipboard_;
  io.GetClipboardTextFn = [](void* kept) {
    auto& text = *static_cast<std::string*>(kept);
    const auto bytes = sf::Clipboard::getString().toUtf8();
    text.assign(bytes.begin(), bytes.end());
    return text.c_str();
  };
  ImGui_ImplOpenGL2_Init();
}

Platform::~Platform() {
  ImGui_ImplOpenGL2_Shutdown();
  ImGui::DestroyContext();
}

void Platform::event(const sf::Event& event) {
  ImGuiIO& io = ImGui::GetIO();
  switch (event.type) {
    case sf::Event::MouseMoved:
      io.MousePos = {static_cast<float>(event.mouseMove.x), static_cast<float>(event.mouseMove.y)};
      break;
    case sf::Event::MouseButtonPressed:
    case sf::Event::MouseButtonReleased: {
      const auto button = static_cast<std::size_t>(event.mouseButton.button);
      if (button >= down_.size()) break;
      io.MousePos = {static_cast<float>(event.mouseButton.x), static_cast<float>(event.mouseButton.y)};
      down_[button] = event.type == sf::Event::MouseButtonPressed;
      if (down_[button]) clicked_[button] = true;
      break;
    }
    case sf::Event::MouseWheelScrolled:
      if (event.mouseWheelScroll.wheel == sf::Mouse::VerticalWheel) io.MouseWheel += event.mouseWheelScroll.delta;
      break;
    case sf::Event::KeyPressed:
    case sf::Event::KeyReleased: {
      const int code = event.key.code;
      if (code < 0 || code >= static_cast<int>(keys_down_.size())) break;  // unknown keys come as -1
      const auto key = static_cast<std::size_t>(code);
      keys_down_[key] = event.type == sf::Event::KeyPressed;
      if (keys_down_[key]) keys_struck_[key] = true;
      control_ = event.key.control;
      shift_ = event.key.shift;
      if (keys_down_[key] && control_) control_struck_ = true;
      if (keys_down_[key] && shift_) shift_struck_ = true;
      break;
    }
    case sf::Event::TextEntered:
      io.AddInputCharacter(event.text.unicode);
      break;
    case sf::Event::MouseLeft:
      io.MousePos = {-1e6F, -1e6F};
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

void Platform::new_frame(float width, float height, float seconds) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {width, height};
  io.DeltaTime = std::max(seconds, 1e-4F);
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
  ImGui_ImplOpenGL2_NewFrame();
  ImGui::NewFrame();
}

void Platform::render(sf::RenderTarget& target) {
  target.resetGLStates();
  ImGui::Render();
  ImGui_ImplOpenGL2_RenderDrawData(ImGui::GetDrawData());
  target.resetGLStates();
}

void Platform::fonts_changed() {
  ImGui_ImplOpenGL2_DestroyFontsTexture();
  ImGui_ImplOpenGL2_CreateFontsTexture();
}

}  // namespace drawdown::window
