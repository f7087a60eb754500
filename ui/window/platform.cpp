// Events, time and drawing.
#include "window/platform.hpp"

#include <backends/imgui_impl_opengl2.h>
#include <imgui.h>
#include <SFML/OpenGL.hpp>
#include <SFML/Window/Clipboard.hpp>

#include <algorithm>

namespace drawdown::window {

namespace {
std::string clipboard_now() {
  const auto bytes = sf::Clipboard::getString().toUtf8();
  return {bytes.begin(), bytes.end()};
}
}  // namespace

Platform::Platform() : events_(clipboard_now) {
  IMGUI_CHECKVERSION();
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  Events::map_keys(io);
  // Dear ImGui asks for a pointer that lives until the next question.
  io.ClipboardUserData = &clipboard_;
  io.GetClipboardTextFn = [](void* kept) {
    auto& text = *static_cast<std::string*>(kept);
    text = clipboard_now();
    return text.c_str();
  };
  ImGui_ImplOpenGL2_Init();
}

Platform::~Platform() {
  ImGui_ImplOpenGL2_Shutdown();
  ImGui::DestroyContext();
}

void Platform::new_frame(float width, float height, float seconds) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {width, height};
  io.DeltaTime = std::max(seconds, 1e-4F);
  events_.fill(io);
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
