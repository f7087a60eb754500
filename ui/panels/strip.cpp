// Under the picture: one sentence that says what slope and level mean today, and the numbers behind it.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

constexpr int number_rows = 4;

float row_height(const Frame& f) {
  return f.canvas.line_height(Type::small) * 1.32F;
}
float table_width(const Frame& f) {
  float label = 0;
  for (const char* key : {"numbers.made", "numbers.back", "numbers.used", "numbers.share"}) {
    label = std::max(label, f.canvas.width(f.words.at(key, f.state.depth), Type::small));
  }
  return label + 21.6F * f.em();
}
bool side_by_side(const Frame& f, float width) {
  return width > table_width(f) + 23 * f.em();
}

void draw_table(Frame& f, const Box& box) {
  const Run& run = *f.state.run;
  const readout::FlowPair now = run.flows(f.state.day);
  const readout::FlowPair& usual = run.usual_flows();
  struct Row {
    const char* key;
    double c3, c4, usual_c3, usual_c4;
    const char* unit;
    int decimals;
  };
  const Row rows[number_rows] = {
      {"numbers.made", now.c3.made, now.c4.made, usual.c3.made, usual.c4.made, "numbers.grams", 2},
      {"numbers.back", 1000 * now.c3.net_back(), 1000 * now.c4.net_back(), 1000 * usual.c3.net_back(),
       1000 * usual.c4.net_back(), "numbers.milligrams", 0},
      {"numbers.used", now.c3.used(), now.c4.used(), usual.c3.used(), usual.c4.used(), "numbers.grams", 2},
      {"numbers.share", 100 * now.c3.share_used(), 100 * now.c4.share_used(), 100 * usual.c3.share_used(),
       100 * usual.c4.share_used(), "numbers.percent", 0}};
  const float em = f.em();
  const float row = row_height(f);
  const float c4_right = box.right();
  const float c3_right = box.right() - 10.8F * em;
  float y = box.y;
  const auto header = [&](float right, const char* name, const look::Colour& colour) {
    f.canvas.text({right - 5.4F * em, y}, name, Type::strong, colour, Align::right);
    f.canvas.text({right, y + 0.05F * em}, f.words.fill("numbers.usually", {""}), Type::small, f.palette.quiet,
                  Align::right);
  };
  header(c3_right, "C3", f.palette.c3);
  header(c4_right, "C4", f.palette.c4);
  y += row;
  for (const Row& r : rows) {
    f.canvas.fitted({box.x, y, c3_right - 9.6F * em - box.x, row}, f.words.at(r.key, f.state.depth), Type::small,
                    f.palette.quiet);
    const auto cell = [&](float right, double value, double before, const look::Colour& colour) {
      f.canvas.text({right - 5.4F * em, y - 0.07F * em}, f.words.fill(r.unit, {look::number(value, r.decimals)}),
                    Type::strong, colour, Align::right);
      f.canvas.text({right, y}, f.words.fill(r.unit, {look::number(before, r.decimals)}), Type::small, f.palette.quiet,
                    Align::right);
    };
    cell(c3_right, r.c3, r.usual_c3, f.palette.c3);
    cell(c4_right, r.c4, r.usual_c4, f.palette.c4);
    y += row;
  }
}

}  // namespace

float strip_height(const Frame& f, float width) {
  const float em = f.em();
  const float table = row_height(f) * (number_rows + 1);
  if (side_by_side(f, width)) return table + 1.4F * em;
  return table + 1.6F * em + 3 * f.canvas.line_height(Type::body) * 1.15F;
}

void draw_strip(Frame& f, const Box& box) {
  const float em = f.em();
  f.canvas.fill(box, f.palette.notice, 0.6F * em);
  f.canvas.outline(box, look::mix(f.palette.notice_edge, f.palette.notice, 0.35F), 0.6F * em, 1.0F);
  const Box inner = box.inset(1.1F * em, 0.7F * em);
  const std::string sentence = stage::balance_sentence(*f.state.run, f.state.day, f.words, f.state.depth);
  const float table = row_height(f) * (number_rows + 1);
  if (side_by_side(f, box.w)) {
    const float w = table_width(f);
    const Box words{inner.x, inner.y, inner.w - w - 2 * em, inner.h};
    Type type = Type::heading;
    if (f.canvas.paragraph_height(sentence, type, words.w) > words.h) type = Type::body;
    if (f.canvas.paragraph_height(sentence, type, words.w) > words.h) type = Type::small;
    const float h = f.canvas.paragraph_height(sentence, type, words.w);
    explained_paragraph(f, {words.x, words.y + std::max(0.0F, (words.h - h) / 2), words.w, words.h}, sentence, type,
                        f.palette.ink, 6);
    draw_table(f, {inner.right() - w, inner.y + std::max(0.0F, (inner.h - table) / 2), w, table});
  } else {
    const float room = inner.h - table - 0.4F * em;
    Type type = Type::body;
    if (f.canvas.paragraph_height(sentence, type, inner.w) > room) type = Type::small;
    explained_paragraph(f, {inner.x, inner.y, inner.w, room}, sentence, type, f.palette.ink, 4);
    const float w = std::min(inner.w, table_width(f) + 6 * em);
    draw_table(f, {inner.x, inner.bottom() - table, w, table});
  }
}

}  // namespace drawdown::panels
