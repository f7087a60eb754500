// The tools of the head as a page, for windows in which they have no room there: one row a tool, as large as the rest.
#include <algorithm>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

class Tools {
 public:
  Tools(Frame& frame, const Box& window) : f(frame), em(frame.em()) {
    const float width = choice_width(f, depths()) + label_width() + 5 * em;
    const float rows = 4 * row_h() + 2 * (2.2F * em + 0.6F * em);
    box = page(f, window, std::max(34.0F, width / em), 4.2F * em + rows + 1.2F * em);
    page_head(f, box, "tools");
    y = box.y + 4.2F * em;
  }

  void draw() {
    const stage::AppState& s = f.state;
    const Box words = row("tools.words");
    const int depth = choice(f, "head.depth", {words.x, words.y, std::min(words.w, choice_width(f, depths())), words.h},
                             depths(), static_cast<int>(s.page.depth));
    if (depth >= 0) f.act(stage::SetDepth{static_cast<look::Depth>(depth)});
    const Box text = row("tools.text");
    float x = text.x;
    if (place("head.smaller", x, text, f.words.at("head.smaller")))
      f.act(stage::SetTextPercent{s.look.text_percent - 10});
    const std::string percent = f.words.fill("numbers.percent", {look::number(s.look.text_percent, 0)});
    f.canvas.text({x, text.middle_y() - f.canvas.line_height(Type::strong) / 2}, percent, Type::strong, f.palette.ink);
    x += f.canvas.width(percent, Type::strong) + 0.5F * em;
    if (place("head.larger", x, text, f.words.at("head.larger")))
      f.act(stage::SetTextPercent{s.look.text_percent + 10});
    const Box light = row("tools.light");
    x = light.x;
    if (place("head.room", x, light, f.words.at("head." + look::name_of(look::room_names, s.look.room)))) {
      f.act(stage::SetRoom{look::next(s.look.room)});
    }
    const Box language = row("tools.language");
    x = language.x;
    const auto next = stage::next_language(s);
    if (place("head.language", x, language, next ? next->name : std::string())) f.act(stage::ToggleLanguage{});
    Box last{box.x + 1.5F * em, y + 0.3F * em, box.w - 3 * em, 2.2F * em};
    x = last.x;
    if (place("head.stories", x, last, f.words.at("head.stories"))) f.act(stage::SetOverlay{stage::Overlay::stories});
    if (place("head.talk", x, last, f.words.at(s.talk.step ? "tools.end_talk" : "tools.talk"))) {
      f.act(stage::SetOverlay{stage::Overlay::none});
      f.act(s.talk.step ? stage::Action{stage::EndTalk{}} : stage::Action{stage::StartTalk{}});
    }
    last.y += 2.8F * em;
    x = last.x;
    if (place("head.keys", x, last, f.words.at("keys.title"))) f.act(stage::SetOverlay{stage::Overlay::keys});
    if (place("tools.glossary", x, last, f.words.at("glossary.open")))
      f.act(stage::SetOverlay{stage::Overlay::glossary});
  }

 private:
  [[nodiscard]] float row_h() const { return 2.7F * em; }
  [[nodiscard]] std::vector<std::string> depths() const {
    return {f.words.at("depth.plain"), f.words.at("depth.clinic"), f.words.at("depth.mechanism")};
  }
  [[nodiscard]] float label_width() const {
    float w = 0;
    for (const char* key : {"tools.words", "tools.text", "tools.light", "tools.language"}) {
      w = std::max(w, f.canvas.width(f.words.at(key), Type::body));
    }
    return w;
  }
  // The room for a row's controls, beside its label.
  Box row(const char* key) {
    const float x = box.x + 1.5F * em;
    const float h = 2.2F * em;
    f.canvas.text({x, y + (h - f.canvas.line_height(Type::body)) / 2}, f.words.at(key), Type::body, f.palette.quiet);
    const float from = x + label_width() + em;
    const Box controls{from, y, box.right() - 1.5F * em - from, h};
    y += row_h();
    return controls;
  }
  bool place(const std::string& name, float& x, const Box& line, const std::string& label) {
    const float w = button_width(f, label);
    const bool pressed = button(f, name, {x, line.y, w, line.h}, label);
    x += w + 0.5F * em;
    return pressed;
  }

  Frame& f;
  float em;
  Box box;
  float y = 0;
};

}  // namespace

void draw_tools(Frame& f, const Box& window) {
  Tools(f, window).draw();
}

}  // namespace drawdown::panels
