#include "fuzz/painter.hpp"

#include <algorithm>
#include <map>

#include "draw/imgui_canvas.hpp"
#include "panels/panels.hpp"
#include "panels/views.hpp"
#include "shell/shell.hpp"

namespace drawdown::fuzz {

namespace {

// Whole words that are numbers gone wrong.
bool no_number(const std::string& text) {
  for (const char* word : {"nan", "-nan", "inf", "-inf"}) {
    const std::string w = word;
    for (std::size_t at = text.find(w); at != std::string::npos; at = text.find(w, at + 1)) {
      const auto letter = [&](std::size_t i) {
        const auto c = static_cast<unsigned char>(i < text.size() ? text[i] : ' ');
        return std::isalnum(c) != 0 || c >= 0x80;
      };
      if ((at == 0 || !letter(at - 1)) && !letter(at + w.size())) return true;
    }
  }
  return false;
}

}  // namespace

std::string wrong_with(const std::vector<draw::TextRecord>& texts, bool pages) {
  const auto top = [](const draw::TextRecord& r) { return std::max(r.box.y, r.clip.y); };
  const auto bottom = [](const draw::TextRecord& r) { return std::min(r.box.bottom(), r.clip.bottom()); };
  for (std::size_t i = 0; i < texts.size(); ++i) {
    const draw::TextRecord& t = texts[i];
    if (bottom(t) <= top(t)) continue;  // scrolled out of sight
    if (t.text.size() > 2 && t.text.front() == '<' && t.text.back() == '>') return "no words for " + t.text;
    if (no_number(t.text) && t.text.find("zwirbel7") == std::string::npos) return "no number: " + t.text;
    if (pages) continue;
    for (std::size_t j = i + 1; j < texts.size(); ++j) {
      const draw::TextRecord& u = texts[j];
      const float x = std::min(t.box.right(), u.box.right()) - std::max(t.box.x, u.box.x);
      const float y = std::min(bottom(t), bottom(u)) - std::max(top(t), top(u));
      // Line boxes carry some air above and below the letters.
      if (x > 2 && y > 0.22F * std::min(t.box.h, u.box.h)) {
        return "'" + t.text + "' lies on '" + u.text + "' at " + std::to_string(static_cast<int>(u.box.x)) + ", " +
               std::to_string(static_cast<int>(u.box.y));
      }
    }
  }
  return {};
}

struct Painter::Held {
  explicit Held(const std::string& assets) : library(assets), shapes(draw::Shapes::load(assets + "/shapes.toml")) {}
  look::Library library;
  draw::Shapes shapes;
  std::vector<panels::ViewRow> views = panels::standard_views();
  struct Letters {
    ImFontAtlas atlas;
    draw::FontSet fonts;
  };
  std::map<float, std::unique_ptr<Letters>> letters;  // by em
  ImFontAtlas first;                                  // the context is made with one
  ImGuiContext* context = nullptr;
};

Painter::Painter(const std::string& assets) : held_(std::make_unique<Held>(assets)) {
  held_->context = ImGui::CreateContext(&held_->first);
  ImGui::SetCurrentContext(held_->context);  // another may be the current one
  ImGui::GetIO().IniFilename = nullptr;
}

Painter::~Painter() {
  ImGui::SetCurrentContext(held_->context);
  ImGui::DestroyContext(held_->context);
}

std::vector<draw::TextRecord> Painter::draw(const stage::AppState& state, bool small, bool* acted) {
  ImGui::SetCurrentContext(held_->context);
  const float width = small ? 1100 : 1600;
  const float height = small ? 700 : 900;
  const float em = shell::em_for(width, height, state.look.text_percent);
  auto& letters = held_->letters[em];
  if (!letters) {
    letters = std::make_unique<Held::Letters>();
    letters->fonts = draw::load_fonts(letters->atlas, em);
  }
  ImGuiIO& io = ImGui::GetIO();
  io.Fonts = &letters->atlas;
  io.DisplaySize = {width, height};
  io.DeltaTime = 1.0F / 60.0F;
  ImGui::NewFrame();
  draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), letters->fonts);
  panels::Interaction interaction;
  panels::Motion motion;
  std::vector<stage::Action> actions;
  interaction.begin({});
  motion.begin(0.0, true);
  panels::Frame f{state,
                  canvas,
                  look::palette(state.look.room),
                  held_->library.words(state.look.language),
                  held_->library.terms(state.look.language),
                  held_->shapes,
                  interaction,
                  motion,
                  actions,
                  held_->views,
                  0.0};
  panels::draw_screen(f, {0, 0, width, height});
  interaction.finish();
  ImGui::Render();
  if (acted != nullptr) *acted = !actions.empty();
  return canvas.texts();
}

}  // namespace drawdown::fuzz
