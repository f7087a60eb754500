// The talk: a story's steps one after the other - say this, look here, ask, reveal - driven by arrow keys or a
// presenter's clicker. The note can be hidden; the picture stays free for what-ifs.
#include <algorithm>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

// A text of the step the talk is at.
const std::string& of_step(const Frame& f, const char* part, const std::string& as_written) {
  return f.told("talk" + std::to_string(*f.state.talk + 1) + "." + part, as_written);
}

// The mechanism depth shows the clinic's words: its own text is the equation and the flux on the cascade.
const std::string& said(const Frame& f, const scenario::TalkStep& step) {
  const bool plain = f.state.depth == look::Depth::plain || step.say.clinic.empty();
  return plain ? of_step(f, "plain", step.say.plain) : of_step(f, "clinic", step.say.clinic);
}

}  // namespace

float talk_height(const Frame& f, float width) {
  const stage::AppState& s = f.state;
  if (!s.talk) return 0.0F;
  const float em = f.em();
  const auto& talk = s.document.story.talk;
  if (s.note_hidden || *s.talk >= talk.size()) return 3.2F * em;
  const scenario::TalkStep& step = talk[*s.talk];
  const float words = width - 2.4F * em;
  float h = 3.4F * em + f.canvas.paragraph_height(said(f, step), Type::heading, words);
  if (!step.ask.empty()) h += f.canvas.paragraph_height(of_step(f, "ask", step.ask), Type::body, words) + 0.3F * em;
  if (s.revealed && !step.reveal.empty())
    h += f.canvas.paragraph_height(of_step(f, "reveal", step.reveal), Type::strong, words) + 0.3F * em;
  return h + 0.6F * em;
}

void draw_talk(Frame& f, const Box& box) {
  const stage::AppState& s = f.state;
  const float em = f.em();
  const auto& talk = s.document.story.talk;
  if (!s.talk || *s.talk >= talk.size()) return;
  const scenario::TalkStep& step = talk[*s.talk];
  f.canvas.fill(box, f.palette.card, 0.6F * em);
  f.canvas.outline(box, f.palette.select, 0.6F * em, 2.0F);
  const Box inner = box.inset(1.2F * em, 0.6F * em);
  // The row of buttons.
  const float row = 2.0F * em;
  float x = inner.right();
  const auto from_right = [&](const std::string& name, const std::string& label) {
    ButtonStyle style;
    style.type = Type::small;
    const float w = button_width(f, label, Type::small);
    x -= w;
    const bool pressed = button(f, name, {x, inner.y, w, row}, label, style);
    x -= 0.4F * em;
    return pressed;
  };
  if (from_right("talk.end", f.words.at("talk.end"))) f.act(stage::EndTalk{});
  if (from_right("talk.note", f.words.at(s.note_hidden ? "talk.show" : "talk.hide"))) f.act(stage::ToggleNote{});
  if (from_right("talk.next", f.words.at("talk.next"))) f.act(stage::StepTalk{1});
  if (from_right("talk.back", f.words.at("talk.back"))) f.act(stage::StepTalk{-1});
  if (!step.reveal.empty() && !s.revealed && from_right("talk.reveal", f.words.at("talk.reveal")))
    f.act(stage::Reveal{});
  f.canvas.fitted({inner.x, inner.y + 0.4F * em, x - inner.x, row},
                  f.words.fill("talk.step", {std::to_string(*s.talk + 1), std::to_string(talk.size())}), Type::small,
                  f.palette.quiet);
  if (s.note_hidden) return;
  float y = inner.y + row + 0.5F * em;
  y += f.canvas.paragraph({inner.x, y, inner.w, inner.h}, said(f, step), Type::heading, f.palette.ink) + 0.3F * em;
  if (!step.ask.empty())
    y += f.canvas.paragraph({inner.x, y, inner.w, inner.h}, of_step(f, "ask", step.ask), Type::body, f.palette.quiet) +
         0.3F * em;
  if (s.revealed && !step.reveal.empty())
    f.canvas.paragraph({inner.x, y, inner.w, inner.h}, of_step(f, "reveal", step.reveal), Type::strong, f.palette.ink);
}

}  // namespace drawdown::panels
