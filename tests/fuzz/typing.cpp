#include "fuzz/typing.hpp"

#include <imgui.h>

#include <memory>

#include "draw/imgui_canvas.hpp"
#include "fuzz/broken.hpp"
#include "fuzz/bytes.hpp"
#include "fuzz/world.hpp"
#include "panels/panels.hpp"
#include "support/stories.hpp"

namespace drawdown::fuzz {

namespace {

constexpr int most_frames = 40;
constexpr std::size_t longest_line = 400;
const char* const entry = "own.entry";

// Made once: context, letters, words.
struct Desk {
  Desk() {
    context = ImGui::CreateContext(&atlas);
    ImGui::SetCurrentContext(context);
    ImGuiIO& io = ImGui::GetIO();
    io.IniFilename = nullptr;
    for (int i = 0; i < ImGuiKey_COUNT; ++i) io.KeyMap[i] = i;
    io.DisplaySize = {1100, 700};
    io.DeltaTime = 1.0F / 60.0F;
    fonts = draw::load_fonts(atlas, 13.0F);
    io.SetClipboardTextFn = [](void* user, const char* text) { *static_cast<std::string*>(user) = text; };
    io.GetClipboardTextFn = [](void* user) { return static_cast<std::string*>(user)->c_str(); };
    io.ClipboardUserData = &clipboard;
  }
  Desk(const Desk&) = delete;
  Desk(Desk&&) = delete;
  Desk& operator=(const Desk&) = delete;
  Desk& operator=(Desk&&) = delete;
  ~Desk() { ImGui::DestroyContext(context); }
  ImFontAtlas atlas;
  ImGuiContext* context = nullptr;
  draw::FontSet fonts;
  std::string clipboard;
  look::WordBook words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  look::Terms terms{words};
  draw::Shapes shapes = draw::Shapes::load(support::source_folder() + "/assets/shapes.toml");
};

class Typing {
 public:
  Typing(Desk& desk, const std::string& data, const TypingRules& rules)
      : desk_(desk), rules_(rules), bytes_(data), whole_page_(bytes_.byte() % 16 == 15), state_(first_state()) {
    state_.view = stage::View::own;
    ImGui::SetCurrentContext(desk.context);
  }

  std::string all() {
    frame();
    for (int i = 0; i < most_frames && !bytes_.over() && said_.empty(); ++i) one_frame();
    return said_;
  }

 private:
  // One frame's events: letters, or one key.
  void one_frame() {
    ImGuiIO& io = ImGui::GetIO();
    switch (bytes_.below(8)) {
      case 0:
        press(ImGuiKey_Space);
        model_ += ' ';
        break;
      case 1:
        press(ImGuiKey_Backspace);
        if (!model_.empty()) model_.pop_back();
        break;
      case 2:
        return enter();
      case 3:
        if (whole_page_) return paste();
        break;
      default:
        for (std::size_t n = 1 + bytes_.below(6); n > 0; --n) {
          const auto letter = static_cast<char>(33 + bytes_.below(94));
          io.AddInputCharacter(static_cast<unsigned>(letter));
          model_ += letter;
        }
    }
    frame();
    if (model_.size() > longest_line) model_.resize(longest_line);
    check();
  }

  void enter() {
    const std::string before = state_.own.text;
    press(ImGuiKey_Enter);
    frame();
    if (state_.own.text.rfind(before, 0) != 0) say("Enter changed the lines that were there");
    if (state_.own.text.size() > before.size() && state_.own.text.find(model_, before.size()) == std::string::npos) {
      say("the line entered is not the line typed");
    }
    model_ = state_.own.typed;
  }

  void paste() {
    desk_.clipboard = bytes_.raw(60);
    const std::string before = state_.own.text + state_.own.typed;
    ImGui::GetIO().KeyCtrl = true;
    press(ImGuiKey_V);
    frame();
    ImGui::GetIO().KeyCtrl = false;
    if ((state_.own.text + state_.own.typed).size() < before.size()) say("pasting took something away");
    model_ = state_.own.typed;
    check();
  }

  void press(ImGuiKey key) {
    ImGui::GetIO().KeysDown[key] = true;
    pressed_ = key;
  }

  void frame() {
    ImGui::NewFrame();
    draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), desk_.fonts);
    std::vector<stage::Action> actions;
    interaction_.focus(entry);
    interaction_.begin(panels::input_from_imgui());
    motion_.begin(0.0, true);
    panels::Frame f{state_,       canvas,      look::palette(look::Room::bright),
                    desk_.words,  desk_.terms, desk_.shapes,
                    interaction_, motion_,     actions,
                    0.0};
    if (whole_page_) {
      panels::draw_own(f, {0, 0, 1100, 700});
    } else {
      const auto typed = panels::text_field(f, entry, {0, 0, 600, 30}, state_.own.typed, "hint");
      if (typed.changed) f.act(stage::TypeResult{typed.text});
      if (typed.entered) f.act(stage::AddTypedResult{});
    }
    interaction_.finish();
    ImGui::Render();
    for (const stage::Action& action : actions) state_ = rules_.reduce(std::move(state_), action).state;
    // The key comes up, seen by a frame of its own.
    if (pressed_ == ImGuiKey_COUNT) return;
    ImGui::GetIO().KeysDown[pressed_] = false;
    pressed_ = ImGuiKey_COUNT;
    frame();
  }

  void check() {
    if (state_.own.typed != model_) say("typed '" + model_ + "', in the line stands '" + state_.own.typed + "'");
    say(broken(state_));
  }
  void say(const std::string& what) {
    if (said_.empty()) said_ = what;
  }

  Desk& desk_;
  const TypingRules& rules_;
  Bytes bytes_;
  bool whole_page_;
  stage::AppState state_;
  panels::Interaction interaction_;
  panels::Motion motion_;
  std::string model_;
  std::string said_;
  ImGuiKey pressed_ = ImGuiKey_COUNT;
};

}  // namespace

std::string type_out(const std::string& bytes, const TypingRules& rules) {
  static Desk desk;
  return Typing(desk, bytes, rules).all();
}

}  // namespace drawdown::fuzz
