// The talk: a story's steps one after the other - say this, look here, ask, reveal - driven by arrow keys or a
// presenter's clicker. The note can be hidden; the picture stays free for what-ifs, and one button comes back from
// them. A word of the trade is explained under the step that uses it first.
#include <algorithm>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

// A text of a step of the talk.
const std::string& of_step(const Frame& f, std::size_t step, const char* part, const std::string& as_written) {
  return f.told("talk" + std::to_string(step + 1) + "." + part, as_written);
}

// The mechanism depth shows the clinic's words: its own text is the equation and the flux on the cascade.
const std::string& said(const Frame& f, std::size_t index) {
  const scenario::TalkStep& step = f.state.document.now.story.talk[index];
  const bool plain = f.state.page.depth == look::Depth::plain || step.say.clinic.empty();
  return plain ? of_step(f, index, "plain", step.say.plain) : of_step(f, index, "clinic", step.say.clinic);
}

std::vector<std::string> terms_of(const Frame& f, std::size_t index) {
  const scenario::TalkStep& step = f.state.document.now.story.talk[index];
  return f.terms.keys_in(said(f, index) + " \n " + of_step(f, index, "ask", step.ask) + " \n " +
                         of_step(f, index, "reveal", step.reveal));
}

// What the step's new words mean, each a line of its own.
std::vector<std::string> first_uses(const Frame& f, std::size_t index) {
  std::vector<std::string> before;
  for (std::size_t i = 0; i < index; ++i) {
    for (std::string& key : terms_of(f, i)) before.push_back(std::move(key));
  }
  std::vector<std::string> lines;
  for (const std::string& key : terms_of(f, index)) {
    if (std::find(before.begin(), before.end(), key) != before.end()) continue;
    const look::Meaning meaning = look::meaning_of(f.words, key);
    lines.push_back(meaning.name + ": " + meaning.text);
  }
  return lines;
}

// What stands under the buttons, in order; the panel's height and its drawing both come from here. What the step says,
// asks and reveals always stands there, in smaller letters if need be; the notes on its new words only where there is
// room (the words can be pointed at).
struct Part {
  std::string text;
  Type type;
  bool quiet;
  bool explained;
};
std::vector<Part> all_parts(const Frame& f) {
  const stage::AppState& s = f.state;
  const std::size_t index = *s.talk.step;
  const scenario::TalkStep& step = s.document.now.story.talk[index];
  std::vector<Part> parts{{said(f, index), Type::heading, false, true}};
  if (!step.ask.empty()) parts.push_back({of_step(f, index, "ask", step.ask), Type::body, true, true});
  if (s.talk.revealed && !step.reveal.empty()) {
    parts.push_back({of_step(f, index, "reveal", step.reveal), Type::strong, false, true});
  }
  for (std::string& line : first_uses(f, index)) parts.push_back({std::move(line), Type::small, true, false});
  return parts;
}

float gap_after(const Frame& f, const Part& part) {
  return (part.type == Type::small ? 0.1F : 0.35F) * f.em();
}

constexpr float buttons_em = 3.9F;  // the row of buttons and the space about it

float height_of(const Frame& f, const std::vector<Part>& parts, float width) {
  float h = buttons_em * f.em();
  for (const Part& part : parts) {
    h += f.canvas.paragraph_height(part.text, part.type, width - 2.4F * f.em()) + gap_after(f, part);
  }
  return h;
}

std::vector<Part> parts_of(const Frame& f, float width, float most) {
  std::vector<Part> parts = all_parts(f);
  const auto fits = [&] { return height_of(f, parts, width) <= most + 1.0F; };
  while (!fits() && parts.back().type == Type::small) parts.pop_back();
  for (const Type largest : {Type::strong, Type::body, Type::small}) {
    if (fits()) break;
    for (Part& part : parts) part.type = std::min(part.type, largest);
  }
  return parts;
}

}  // namespace

float talk_height(const Frame& f, float width, float most) {
  const stage::AppState& s = f.state;
  if (!s.talk.step) return 0.0F;
  const float em = f.em();
  if (s.talk.note_hidden || *s.talk.step >= s.document.now.story.talk.size()) return 3.2F * em;
  return height_of(f, parts_of(f, width, most), width);
}

void draw_talk(Frame& f, const Box& box) {
  const stage::AppState& s = f.state;
  const float em = f.em();
  const auto& talk = s.document.now.story.talk;
  if (!s.talk.step || *s.talk.step >= talk.size()) return;
  const scenario::TalkStep& step = talk[*s.talk.step];
  f.canvas.fill(box, f.palette.card, 0.6F * em);
  f.canvas.outline(box, f.palette.select, 0.6F * em, 2.0F);
  const Box inner = box.inset(1.2F * em, 0.6F * em);
  // The row of buttons.
  const float row = 2.0F * em;
  float x = inner.right();
  const auto from_right = [&](const std::string& name, const std::string& label, bool chosen = false) {
    ButtonStyle style;
    style.type = Type::small;
    style.chosen = chosen;
    const float w = button_width(f, label, Type::small);
    x -= w;
    const bool pressed = button(f, name, {x, inner.y, w, row}, label, style);
    x -= 0.4F * em;
    return pressed;
  };
  if (from_right("talk.end", f.words.at("talk.end"))) f.act(stage::EndTalk{});
  if (from_right("talk.note", f.words.at(s.talk.note_hidden ? "talk.show" : "talk.hide"))) f.act(stage::ToggleNote{});
  if (from_right("talk.next", f.words.at("talk.next"))) f.act(stage::StepTalk{1});
  if (from_right("talk.back", f.words.at("talk.back"))) f.act(stage::StepTalk{-1});
  if (!step.reveal.empty() && !s.talk.revealed && from_right("talk.reveal", f.words.at("talk.reveal")))
    f.act(stage::Reveal{});
  if (stage::branched(s) && from_right("talk.come_back", f.words.at("talk.come_back"), true)) f.act(stage::ComeBack{});
  const bool aside = !stage::branched(s) && !s.talk.aside.empty();
  if (aside && from_right("talk.aside", f.words.at("talk.aside"), true)) f.act(stage::TakeUpAside{});
  // The steps: each can be jumped to.
  float left = inner.x;
  for (std::size_t i = 0; i < talk.size(); ++i) {
    const float w = 1.9F * em;
    if (left + w > x) break;
    ButtonStyle style;
    style.type = Type::small;
    style.chosen = i == *s.talk.step;
    if (button(f, "talk.step/" + std::to_string(i), {left, inner.y, w, row}, std::to_string(i + 1), style)) {
      f.act(stage::JumpTalk{i});
    }
    left += w + 0.3F * em;
  }
  if (s.talk.note_hidden) return;
  float y = inner.y + row + 0.5F * em;
  for (const Part& part : parts_of(f, box.w, box.h)) {
    const Box at{inner.x, y, inner.w, inner.bottom() - y};
    const float h = f.canvas.paragraph_height(part.text, part.type, inner.w);
    const look::Colour& ink = part.quiet ? f.palette.quiet : f.palette.ink;
    if (part.explained) {
      explained_paragraph(f, at, part.text, part.type, ink);
    } else {
      f.canvas.paragraph(at, part.text, part.type, ink);
    }
    y += h + gap_after(f, part);
  }
}

}  // namespace drawdown::panels
