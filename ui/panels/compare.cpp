// Keep and compare: every kept run against the present one, in words, above the charts that show both.
#include <algorithm>

#include "panels/balance_parts.hpp"
#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

namespace {

// The run kept last and the present one on the same day, each against its own usual, on one scale.
void draw_both(Frame& f, const Box& box) {
  const float em = f.em();
  const float half = (box.w - 0.7F * em) / 2;
  const stage::KeptRun& kept = f.state.runs.kept.back();
  const Box left{box.x, box.y, half, box.h};
  const Box right{box.right() - half, box.y, half, box.h};
  const float head = 1.6F * em;
  const auto under = [&](const Box& b) { return Box{b.x, b.y + head, b.w, b.h - head}; };
  draw_stage(f, under(left), *kept.run, *kept.account, "compare.");
  draw_stage(f, under(right), *f.state.runs.now, *f.state.runs.account, "stage.");
  const auto name = [&](const Box& b, const std::string& text) {
    f.canvas.fitted({b.x + 0.3F * em, b.y + 0.1F * em, b.w - 0.6F * em, 1.3F * em}, text, Type::heading, f.palette.ink);
  };
  name(left, kept.given.empty() ? kept.name : kept.name + "  " + kept.given);
  name(right, f.words.at("compare.now"));
}

}  // namespace

void draw_compare(Frame& f, const Box& box) {
  const float em = f.em();
  const float gap = 0.7F * em;
  const Run& run = *f.state.runs.now;
  struct Entry {
    std::string words;
    float height;
  };
  std::vector<Entry> entries;
  const float button_w = button_width(f, f.words.at("compare.drop"), Type::small);
  const float side_w = std::max(button_w, std::min(13 * em, 0.28F * box.w));  // its name, and under it the button
  const float words_w = box.w - 2.2F * em - side_w - 4.2F * em;
  float height = 2.6F * em;
  for (const stage::KeptRun& kept : f.state.runs.kept) {
    std::string words =
        f.words.fill("compare.now_against", {kept.name}) +
        stage::difference_in_words(kept, run, *f.state.runs.account, f.state.time.day, f.words, f.state.page.unit);
    const float h = std::max(4.6F * em, f.canvas.paragraph_height(words, Type::body, words_w) + 0.6F * em);
    entries.push_back({std::move(words), h});
    height += h;
  }
  if (entries.empty())
    height += f.canvas.paragraph_height(f.words.at("compare.empty"), Type::body, box.w - 2.2F * em) + 3.2F * em;
  height += 0.6F * em;
  // Words first; the charts only where they have room to be read.
  const bool charts = box.h - height - gap > 12 * em;
  if (!charts) height = box.h;
  const Box top{box.x, box.y, box.w, height};
  card(f, top);
  f.canvas.clip(top);
  float y = top.y + 0.8F * em;
  f.canvas.text({top.x + 1.1F * em, y}, f.words.at("compare.title"), Type::heading, f.palette.ink);
  y += 1.9F * em;
  if (entries.empty()) {
    y += f.canvas.paragraph({top.x + 1.1F * em, y, top.w - 2.2F * em, top.h}, f.words.at("compare.empty"), Type::body,
                            f.palette.quiet);
    const std::string& keep = f.words.at("levers.keep");
    if (button(f, "compare.keep", {top.x + 1.1F * em, y + 0.5F * em, button_width(f, keep), 2.1F * em}, keep)) {
      f.act(stage::KeepRun{});
    }
  }
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const float x = top.x + 1.1F * em;
    f.canvas.ring({x + 0.9F * em, y + 0.7F * em}, 0.85F * em, f.palette.ink, 1.5F);
    f.canvas.text({x + 0.9F * em, y + 0.7F * em - f.canvas.line_height(Type::strong) / 2}, f.state.runs.kept[i].name,
                  Type::strong, f.palette.ink, draw::Align::centre);
    f.canvas.paragraph({x + 2.4F * em, y, words_w, entries[i].height}, entries[i].words, Type::body, f.palette.ink);
    ButtonStyle style;
    style.type = Type::small;
    const float side = top.right() - 1.1F * em - side_w;
    const TextResult given = text_field(f, "compare.name" + std::to_string(i), {side, y - 0.1F * em, side_w, 1.9F * em},
                                        f.state.runs.kept[i].given, f.words.at("compare.name"));
    if (given.changed && given.ended.empty()) f.act(stage::NameKept{i, given.text});
    if (button(f, "compare.drop" + std::to_string(i),
               {top.right() - 1.1F * em - button_w, y + 2.1F * em, button_w, 1.8F * em}, f.words.at("compare.drop"),
               style)) {
      f.act(stage::DropKept{i});
    }
    y += entries[i].height;
  }
  f.canvas.unclip();
  if (!charts) return;
  Box rest{box.x, top.bottom() + gap, box.w, box.bottom() - top.bottom() - gap};
  if (!entries.empty() && rest.h > 33 * em && rest.w > 56 * em) {
    const float h = std::min(26 * em, rest.h - 13 * em);
    draw_both(f, {rest.x, rest.y, rest.w, h});
    rest.y += h + gap;
    rest.h -= h + gap;
  }
  draw_course(f, rest);
}

}  // namespace drawdown::panels
