#include "support/screen.hpp"

#include "shell/input_imgui.hpp"

#include <utility>

namespace drawdown::support {

Screen::Screen(stage::AppState state, float width, float height)
    : width_(width), height_(height), shell_(std::move(state), source_folder() + "/assets") {
  ImGui::CreateContext();
  ImGuiIO& io = ImGui::GetIO();
  io.IniFilename = nullptr;
  for (int i = 0; i < ImGuiKey_COUNT; ++i) io.KeyMap[i] = i;
  frame(2);
}

Screen::~Screen() {
  ImGui::DestroyContext();
}

void Screen::submit(const stage::Effect& effect) {
  do_action(executor_.carry_out(effect));
}

void Screen::do_action(const stage::Action& action) {
  shell_.apply(action, [this](const stage::Effect& e) { submit(e); });
}

void Screen::frame(int count) {
  for (int i = 0; i < count; ++i) frame_at(0.0);
}

void Screen::frame_at(double seconds) {
  ImGuiIO& io = ImGui::GetIO();
  io.DisplaySize = {width_, height_};
  io.DeltaTime = 1.0F / 60.0F;
  (void)shell_.fit_fonts(width_, height_);
  ImGui::NewFrame();
  shell_.frame(
      width_, height_, seconds, [this](const stage::Effect& e) { submit(e); }, std::exchange(typed_, {}));
  ImGui::Render();
}

void Screen::move(float x, float y) {
  ImGui::GetIO().MousePos = {x, y};
  frame();
}
void Screen::press() {
  ImGui::GetIO().MouseDown[0] = true;
  frame();
}
void Screen::release() {
  ImGui::GetIO().MouseDown[0] = false;
  frame();
}
void Screen::click(float x, float y) {
  move(x, y);
  press();
  release();
  frame();
}

bool Screen::click_text(const std::string& words) {
  const auto record = find(words);
  if (!record) return false;
  click(record->box.middle_x(), record->box.middle_y());
  return true;
}

void Screen::key(ImGuiKey key, bool ctrl, bool shift) {
  ImGuiIO& io = ImGui::GetIO();
  io.KeyCtrl = ctrl;
  io.KeyShift = shift;
  io.KeysDown[key] = true;
  using Kind = panels::Typed::Kind;
  if (key == ImGuiKey_Enter) typed_.push_back({Kind::enter, ""});
  if (key == ImGuiKey_Backspace) typed_.push_back({Kind::backspace, ""});
  if (key == ImGuiKey_Space) typed_.push_back({Kind::text, " "});
  if (key == ImGuiKey_V && ctrl) typed_.push_back({Kind::paste, shell::clipboard_text()});
  frame();
  io.KeysDown[key] = false;
  io.KeyCtrl = io.KeyShift = false;
  frame();
}

void Screen::type(const std::string& letters) {
  for (const char letter : letters) {
    typed_.push_back({panels::Typed::Kind::text, std::string(1, letter)});
    frame();
  }
  frame();
}

void Screen::type_at_once(std::vector<panels::Typed> typed) {
  typed_ = std::move(typed);
  frame();
  frame();
}

bool Screen::shows(const std::string& part) const {
  for (const draw::TextRecord& t : texts()) {
    if (t.text.find(part) != std::string::npos) return true;
  }
  return false;
}

std::optional<draw::TextRecord> Screen::find(const std::string& words) const {
  for (const draw::TextRecord& t : texts()) {
    if (t.text == words) return t;
  }
  return std::nullopt;
}

int Screen::vertices() const {
  return ImGui::GetDrawData()->TotalVtxCount;
}

double Screen::drawn() const {
  double sum = 0.0;
  const ImDrawData& data = *ImGui::GetDrawData();
  for (int i = 0; i < data.CmdListsCount; ++i) {
    for (const ImDrawVert& v : data.CmdLists[i]->VtxBuffer) sum += static_cast<double>(v.pos.x + 2 * v.pos.y);
  }
  return sum;
}

stage::AppState opening_state(double day) {
  stage::AppState state = command::state_for(command::opening_story(), day);
  state.files.stories = work::list_stories(source_folder() + "/scenarios");
  return state;
}

}  // namespace drawdown::support
