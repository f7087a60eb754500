#include "fuzz/typing.hpp"

#include <imgui.h>

#include <memory>
#include <utility>

#include "draw/imgui_canvas.hpp"
#include "fuzz/broken.hpp"
#include "fuzz/bytes.hpp"
#include "fuzz/world.hpp"
#include "panels/views.hpp"
#include "shell/input_imgui.hpp"
#include "support/stories.hpp"

namespace drawdown::fuzz {

namespace {

constexpr int most_frames = 40;
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
    state_.page.view = stage::View::own;
    ImGui::SetCurrentContext(desk.context);
  }

  std::string all() {
    frame();
    for (int i = 0; i < most_frames && !bytes_.over() && said_.empty(); ++i) one_frame();
    return said_;
  }

 private:
  using Kind = panels::Typed::Kind;

  // One frame's events, in order: letters of one to four bytes, Backspace, Enter, a caret that moves, mixed.
  void one_frame() {
    if (whole_page_ && bytes_.below(8) == 0) return paste();
    for (std::size_t n = 1 + bytes_.below(6); n > 0; --n) {
      switch (bytes_.below(8)) {
        case 0:
          typed_.push_back({Kind::backspace, ""});
          break;
        case 1:
          typed_.push_back({Kind::enter, ""});
          break;
        case 2:
          typed_.push_back({bytes_.below(2) == 0 ? Kind::left : Kind::home, ""});
          break;
        case 3:
          typed_.push_back({bytes_.below(2) == 0 ? Kind::right : Kind::end, ""});
          break;
        case 4:
          typed_.push_back({Kind::text, panels::utf8(static_cast<char32_t>(32 + bytes_.below(0x1F000)))});
          break;
        default:
          typed_.push_back({Kind::text, std::string(1, static_cast<char>(32 + bytes_.below(95)))});
      }
    }
    // The model: the same line edited by itself, and the lines ended put under those that were there.
    panels::EditedLine line{model_, caret_};
    const std::string before = state_.own.text;
    const auto ended = panels::edit_line(line, typed_);
    model_ = line.text;
    caret_ = line.caret;
    frame();
    if (state_.own.text.rfind(before, 0) != 0) say("Enter changed the lines that were there");
    std::size_t from = before.size();
    for (const panels::Ended& one : ended) {
      if (one.text.find_first_not_of(" \t\r\n") == std::string::npos) continue;
      const std::size_t at = state_.own.text.find(one.text, from);
      if (at == std::string::npos) return say("the line entered is not the line typed");
      from = at + one.text.size();
    }
    check();
  }

  void paste() {
    const std::string pasted = bytes_.raw(60);
    const std::string before = state_.own.text + state_.own.typed;
    typed_.push_back({Kind::paste, pasted});
    panels::EditedLine line{model_, caret_};
    (void)panels::edit_line(line, typed_);
    model_ = line.text;
    caret_ = line.caret;
    frame();
    if ((state_.own.text + state_.own.typed + state_.own.pending).size() < before.size())
      say("pasting took something away");
    check();
  }

  void frame() {
    ImGui::NewFrame();
    draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), desk_.fonts);
    std::vector<stage::Action> actions;
    interaction_.focus(entry);
    interaction_.begin(shell::input_from_imgui(std::exchange(typed_, {})));
    motion_.begin(0.0, true);
    panels::Frame f{state_,       canvas,      look::palette(look::Room::bright),
                    desk_.words,  desk_.terms, desk_.shapes,
                    interaction_, motion_,     actions,
                    views_,       0.0};
    if (whole_page_) {
      panels::draw_own(f, {0, 0, 1100, 700});
    } else {
      const auto typed = panels::text_field(f, entry, {0, 0, 600, 30}, state_.own.typed, "hint");
      for (const panels::Ended& ended : typed.ended) {
        f.act(stage::TypeResult{ended.text});
        f.act(stage::AddTypedResult{});
      }
      if (typed.changed) f.act(stage::TypeResult{typed.text});
    }
    interaction_.finish();
    ImGui::Render();
    for (const stage::Action& action : actions) state_ = rules_.reduce(std::move(state_), action).state;
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
  std::vector<panels::ViewRow> views_ = panels::standard_views();
  std::string model_;
  std::string said_;
  std::size_t caret_ = 0;
  std::vector<panels::Typed> typed_;  // for the next frame
};

}  // namespace

std::string type_out(const std::string& bytes, const TypingRules& rules) {
  static Desk desk;
  return Typing(desk, bytes, rules).all();
}

}  // namespace drawdown::fuzz
