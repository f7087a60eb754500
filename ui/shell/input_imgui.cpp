// Dear ImGui's keys and pointer as the panels' input.
#include "shell/input_imgui.hpp"

#include <imgui.h>

#include <utility>

namespace drawdown::shell {

using panels::Input;
using panels::Key;
using panels::Typed;

std::string clipboard_text() {
  const char* text = ImGui::GetClipboardText();
  return text == nullptr ? std::string() : text;
}

Input input_from_imgui(std::vector<Typed> typed) {
  const ImGuiIO& io = ImGui::GetIO();
  Input in;
  in.mouse = {io.MousePos.x, io.MousePos.y};
  in.pressed = ImGui::IsMouseClicked(ImGuiMouseButton_Left);
  in.down = io.MouseDown[0];
  in.released = ImGui::IsMouseReleased(ImGuiMouseButton_Left);
  in.double_click = ImGui::IsMouseDoubleClicked(ImGuiMouseButton_Left);
  in.wheel = io.MouseWheel;
  in.clipboard = clipboard_text;
  const auto pressed = [&](ImGuiKey key, bool repeat) {
    const int index = io.KeyMap[key];
    return index >= 0 && ImGui::IsKeyPressed(index, repeat);
  };
  struct Pair {
    ImGuiKey from;
    Key to;
    bool repeat;
  };
  static constexpr Pair pairs[] = {{ImGuiKey_LeftArrow, Key::left, true},     {ImGuiKey_RightArrow, Key::right, true},
                                   {ImGuiKey_UpArrow, Key::up, true},         {ImGuiKey_DownArrow, Key::down, true},
                                   {ImGuiKey_PageUp, Key::page_up, true},     {ImGuiKey_PageDown, Key::page_down, true},
                                   {ImGuiKey_Home, Key::home, false},         {ImGuiKey_End, Key::end, false},
                                   {ImGuiKey_Enter, Key::enter, false},       {ImGuiKey_KeyPadEnter, Key::enter, false},
                                   {ImGuiKey_Space, Key::space, false},       {ImGuiKey_Escape, Key::escape, false},
                                   {ImGuiKey_Backspace, Key::backspace, true}};
  for (const Pair& pair : pairs) {
    if (pressed(pair.from, pair.repeat)) in.keys.push_back(pair.to);
  }
  if (pressed(ImGuiKey_Tab, true)) in.keys.push_back(io.KeyShift ? Key::back_tab : Key::tab);
  if (io.KeyCtrl && pressed(ImGuiKey_Z, true)) in.keys.push_back(io.KeyShift ? Key::redo : Key::undo);
  if (io.KeyCtrl && pressed(ImGuiKey_Y, true)) in.keys.push_back(Key::redo);
  for (const Typed& t : typed) {
    if (t.kind != Typed::Kind::paste) continue;
    in.keys.push_back(Key::paste);
    in.pasted = t.text;
  }
  in.typed = std::move(typed);
  for (const Typed& t : in.typed) {
    const bool plain = t.kind == Typed::Kind::text && t.text.size() == 1 && t.text.front() > 32 && t.text.front() < 127;
    if (plain) in.letters += t.text;
  }
  return in;
}

}  // namespace drawdown::shell
