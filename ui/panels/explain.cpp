// Words of the trade explained where they stand, and what a part of a picture that is pointed at says.
#include <algorithm>

#include "panels/frame.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {
constexpr std::size_t most_marked = 60;  // of one paragraph; a text that names more of them needs no more lines
}

float explained_paragraph(Frame& f, const Box& box, const std::string& words, Type type, const look::Colour& colour,
                          int most_lines) {
  const float em = f.em();
  const float step = f.canvas.line_height(type) * 1.15F;
  float y = box.y;
  int line_number = 0;
  std::size_t marked = 0;
  for (const std::string& line : f.canvas.wrapped(words, type, box.w)) {
    if (++line_number > most_lines) break;
    float x = box.x;
    std::size_t at = 0;  // x is where this byte stands
    for (const look::Terms::Found& term : f.terms.in(line)) {
      x += f.canvas.width(line.substr(at, term.from - at), type);
      const Box place{x, y, f.canvas.width(line.substr(term.from, term.length), type), step};
      x = place.right();
      at = term.from + term.length;
      if (++marked > most_marked) break;
      const float under = y + f.canvas.line_height(type) + 0.02F * em;
      f.canvas.line({{place.x, under}, {place.right(), under}}, f.palette.quiet, 1.0F, 0.16F * em);
      if (f.interaction.enabled() && place.holds(f.interaction.input().mouse)) {
        f.interaction.point_at(term.key, place);
      }
    }
    y += step;
  }
  return f.canvas.paragraph(box, words, type, colour, most_lines);
}

void draw_pointed_term(Frame& f, const Box& window) {
  const Interaction::Pointed& at = f.interaction.pointed();
  if (!at.any()) return;
  const float em = f.em();
  const look::Meaning meaning = at.key.empty() ? look::Meaning{at.name, at.text} : look::meaning_of(f.words, at.key);
  const float w = std::min(24 * em, window.w - 2 * em);
  const float text = w - 1.6F * em;
  const float h = 2.6F * em + f.canvas.paragraph_height(meaning.text, Type::body, text);
  Box b{std::clamp(at.box.middle_x() - w / 2, window.x + 0.5F * em, window.right() - w - 0.5F * em),
        at.box.y - h - 0.4F * em, w, h};
  if (b.y < window.y) b.y = at.box.bottom() + 0.4F * em;
  f.canvas.cover(b);
  f.canvas.fill(b, f.palette.card, 0.5F * em);
  f.canvas.outline(b, f.palette.select, 0.5F * em, 1.5F);
  f.canvas.fitted({b.x + 0.8F * em, b.y + 0.6F * em, text, em}, meaning.name, Type::strong, f.palette.ink);
  f.canvas.paragraph({b.x + 0.8F * em, b.y + 1.9F * em, text, h}, meaning.text, Type::body, f.palette.ink);
}

}  // namespace drawdown::panels
