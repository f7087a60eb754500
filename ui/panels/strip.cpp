// Under the picture: one sentence that says what slope and level mean today, and the numbers behind it.
#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Type;

namespace {

float row_height(const Frame& f) {
  return f.canvas.line_height(Type::small) * 1.32F;
}
// Plasma exchange has a row of its own where there is any.
bool has_exchange(const Frame& f) {
  if (!f.state.runs.now) return false;
  const readout::FlowPair now = f.state.runs.now->flows(f.state.time.day);
  return std::abs(now.c3.exchanged) + std::abs(now.c4.exchanged) > 5e-4;
}
bool has_grams(const Frame& f) {
  return f.state.page.depth != look::Depth::plain;
}
float table_height(const Frame& f) {
  return row_height(f) * (has_exchange(f) ? 6.0F : 5.0F);
}
float table_width(const Frame& f) {
  float label = 0;
  for (const char* key :
       {"numbers.in_a_day", "numbers.out_a_day", "numbers.drain", "numbers.tap", "numbers.exchange"}) {
    label = std::max(label, f.canvas.width(f.words.at(key, f.state.page.depth), Type::small));
  }
  return label + 21.6F * f.em();
}
bool side_by_side(const Frame& f, float width) {
  return width > table_width(f) + 23 * f.em();
}

// The figures of one protein, from the account that the sentence is made from: against usual, and from the clinic's
// depth on in grams.
struct Figures {
  std::string in, out, exchange, drain, tap;
};
std::pair<Figures, Figures> figures_of(const Frame& f, stage::Which which) {
  const Run& run = *f.state.runs.now;
  const bool c3 = which == stage::Which::c3;
  const readout::Account& account = *f.state.runs.account;
  const readout::AccountOf now = account.at(c3 ? c3_in_account : c4_in_account, 24.0 * f.state.time.day);
  const double usual_made = (c3 ? run.usual_flows().c3 : run.usual_flows().c4).made;
  const auto times = [&](double share) { return f.words.fill("picture.times", {look::number(share, 2)}); };
  const auto flow = [&](double share) {
    if (!has_grams(f)) return times(share);
    return f.words.fill("numbers.grams", {look::number(share * usual_made, 2)});
  };
  const auto exchange = [&](double taken, double given) {
    const double grams = (taken - given) * usual_made / 24.0;  // a session lasts hours
    return f.words.fill(grams >= 0 ? "numbers.out" : "numbers.in", {look::number(std::abs(grams), 2)});
  };
  const double taken = now.drain_parts[account.tokens().taken_out] * now.against_usual * now.volume;
  return {{flow(now.in), flow(now.out), exchange(taken, now.given), times(now.drain), times(now.tap)},
          {flow(1.0), flow(1.0), exchange(0.0, 0.0), times(1.0), times(1.0)}};
}

void draw_table(Frame& f, const Box& box) {
  const auto c3 = figures_of(f, stage::Which::c3);
  const auto c4 = figures_of(f, stage::Which::c4);
  struct Row {
    const char* key;
    std::string Figures::*figure;
  };
  std::vector<Row> rows{{"numbers.tap", &Figures::tap}, {"numbers.drain", &Figures::drain}};
  rows.push_back({"numbers.in_a_day", &Figures::in});
  if (has_exchange(f)) rows.push_back({"numbers.exchange", &Figures::exchange});
  rows.push_back({"numbers.out_a_day", &Figures::out});
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
    f.canvas.fitted({box.x, y, c3_right - 9.6F * em - box.x, row}, f.words.at(r.key, f.state.page.depth), Type::small,
                    f.palette.quiet);
    const auto cell = [&](float right, const std::pair<Figures, Figures>& of, const look::Colour& colour) {
      f.canvas.fitted({right - 10.2F * em, y - 0.07F * em, 4.8F * em, row}, of.first.*(r.figure), Type::strong, colour,
                      Align::right);
      f.canvas.fitted({right - 5.2F * em, y, 5.2F * em, row}, of.second.*(r.figure), Type::small, f.palette.quiet,
                      Align::right);
    };
    cell(c3_right, c3, f.palette.c3);
    cell(c4_right, c4, f.palette.c4);
    y += row;
  }
}

}  // namespace

// As high as the table, or as the sentences in small letters.
float strip_height(const Frame& f, float width) {
  const float em = f.em();
  const float table = table_height(f);
  if (!f.state.runs.now) return table + 1.4F * em;
  const std::string sentence =
      stage::balance_sentence(*f.state.runs.now, *f.state.runs.account, f.state.time.day, f.words, f.state.page.depth);
  const bool beside = side_by_side(f, width);
  const float words = width - 2.2F * em - (beside ? table_width(f) + 2 * em : 0.0F);
  const float said = f.canvas.paragraph_height(sentence, Type::small, words) + 0.2F * em;
  if (beside) return std::max(table, said) + 1.4F * em;
  return table + 1.6F * em + std::max(said, 3 * f.canvas.line_height(Type::body) * 1.15F);
}

void draw_strip(Frame& f, const Box& box) {
  const float em = f.em();
  f.canvas.fill(box, f.palette.notice, 0.6F * em);
  f.canvas.outline(box, look::mix(f.palette.notice_edge, f.palette.notice, 0.35F), 0.6F * em, 1.0F);
  const Box inner = box.inset(1.1F * em, 0.7F * em);
  const std::string sentence =
      stage::balance_sentence(*f.state.runs.now, *f.state.runs.account, f.state.time.day, f.words, f.state.page.depth);
  const float table = table_height(f);
  if (side_by_side(f, box.w)) {
    const float w = table_width(f);
    const Box words{inner.x, inner.y, inner.w - w - 2 * em, inner.h};
    Type type = Type::heading;
    if (f.canvas.paragraph_height(sentence, type, words.w) > words.h) type = Type::body;
    if (f.canvas.paragraph_height(sentence, type, words.w) > words.h) type = Type::small;
    const float h = f.canvas.paragraph_height(sentence, type, words.w);
    explained_paragraph(f, {words.x, words.y + std::max(0.0F, (words.h - h) / 2), words.w, words.h}, sentence, type,
                        f.palette.ink, 99);
    draw_table(f, {inner.right() - w, inner.y + std::max(0.0F, (inner.h - table) / 2), w, table});
  } else {
    const float room = inner.h - table - 0.4F * em;
    Type type = Type::body;
    if (f.canvas.paragraph_height(sentence, type, inner.w) > room) type = Type::small;
    explained_paragraph(f, {inner.x, inner.y, inner.w, room}, sentence, type, f.palette.ink, 99);
    const float w = std::min(inner.w, table_width(f) + 6 * em);
    draw_table(f, {inner.x, inner.bottom() - table, w, table});
  }
}

}  // namespace drawdown::panels
