// What must be said: the foot's caution, the banner when something is wrong, and the pages that cover the screen
// (cautions before the start, keys, glossary).
#include <algorithm>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

void draw_foot(Frame& f, const Box& box) {
  f.canvas.paragraph(box, f.words.at("caution.foot"), Type::small, f.palette.quiet);
}

void draw_banner(Frame& f, const Box& box) {
  const float em = f.em();
  f.canvas.fill(box, f.palette.notice, 0.6F * em);
  f.canvas.outline(box, f.palette.mark, 0.6F * em, 2.0F);
  const std::string& dismiss = f.words.at("banner.dismiss");
  const float w = button_width(f, dismiss);
  f.canvas.clip(box);
  const Box inner = box.inset(em, 0.5F * em);
  f.canvas.fitted({inner.x, inner.y, inner.w - w - em, em}, f.words.at("banner.title"), Type::strong, f.palette.mark);
  f.canvas.paragraph({inner.x, inner.y + 1.4F * em, inner.w - w - em, inner.h}, stage::banner_text(f.state, f.words),
                     Type::small, f.palette.ink, 6);
  f.canvas.unclip();
  if (button(f, "banner.dismiss", {inner.right() - w, inner.y, w, 2.0F * em}, dismiss)) f.act(stage::DismissProblem{});
}

void draw_cautions(Frame& f, const Box& window) {
  const float em = f.em();
  static constexpr const char* keys[] = {"caution.model", "caution.lab", "caution.talk", "caution.urgent"};
  const float width = std::min(46 * em, window.w - 2 * em) - 4 * em;
  float height = 2 * em + 2.8F * em + 3.6F * em;
  for (const char* key : keys) height += f.canvas.paragraph_height(f.words.at(key), Type::body, width) + 0.8F * em;
  const Box b = page(f, window, 46, height);
  const float x = b.x + 2 * em;
  float y = b.y + 1.6F * em;
  f.canvas.text({x, y}, f.words.at("caution.title"), Type::title, f.palette.ink);
  y += 2.8F * em;
  for (const char* key : keys) {
    const bool urgent = key == keys[3];
    y += f.canvas.paragraph({x, y, width, b.h}, f.words.at(key), Type::body, urgent ? f.palette.mark : f.palette.ink);
    y += 0.8F * em;
  }
  const std::string& accept = f.words.at("caution.accept");
  ButtonStyle style;
  style.chosen = true;
  const float w = button_width(f, accept) + em;
  const Box accept_box{b.right() - 2 * em - w, b.bottom() - 3.4F * em, w, 2.3F * em};
  if (f.interaction.focused().empty()) f.interaction.focus("caution.accept");
  if (button(f, "caution.accept", accept_box, accept, style) || f.interaction.take(Key::enter)) {
    f.act(stage::SetOverlay{stage::Overlay::none});
  }
}

void draw_keys(Frame& f, const Box& window) {
  const float em = f.em();
  static constexpr const char* keys[] = {"keys.play",     "keys.step",     "keys.tab",    "keys.depth", "keys.text",
                                         "keys.room",     "keys.views",    "keys.keep",   "keys.undo",  "keys.unit",
                                         "keys.track",    "keys.stories",  "keys.motion", "keys.talk",  "keys.jump",
                                         "keys.language", "keys.glossary", "keys.first"};
  const float line = 1.75F * em;
  const Box b = page(f, window, 50, 5.2F * em + line * static_cast<float>(std::size(keys)));
  const float close_x = page_head(f, b, "keys");
  const std::string& glossary = f.words.at("glossary.open");
  const float wide = button_width(f, glossary);
  if (button(f, "keys.glossary", {close_x - 0.5F * em - wide, b.y + 1.0F * em, wide, 2.1F * em}, glossary)) {
    f.act(stage::SetOverlay{stage::Overlay::glossary});
  }
  float widest = 0;
  for (const char* key : keys) {
    const std::string& text = f.words.at(key);
    widest = std::max(widest, f.canvas.width(text.substr(0, text.find('|')), Type::strong));
  }
  float y = b.y + 4.1F * em;
  const float step = std::min(line, (b.bottom() - y - 0.6F * em) / static_cast<float>(std::size(keys)));
  const Type type = step < 1.3F * em ? Type::small : Type::body;
  for (const char* key : keys) {
    const std::string& text = f.words.at(key);
    const std::size_t bar = text.find('|');
    f.canvas.text({b.x + 1.5F * em, y}, text.substr(0, bar), Type::strong, f.palette.ink);
    f.canvas.fitted({b.x + 2.5F * em + widest, y, b.right() - b.x - 4 * em - widest, em}, text.substr(bar + 1), type,
                    f.palette.quiet);
    y += step;
  }
}

void draw_glossary(Frame& f, const Box& window) {
  const float em = f.em();
  // In the order one would explain them.
  static constexpr const char* keys[] = {
      "complement", "c3",     "c4",        "antibody",   "complex",      "deposit",     "classical", "alternative",
      "convertase", "guards", "synthesis", "catabolism", "fcr",          "acute_phase", "ch50",      "c4d",
      "range",      "low",    "usual",     "noise",      "change_value", "tracer"};
  const float wide = std::min(56 * em, window.w - 2 * em);
  const float width = wide - 3 * em;
  std::vector<std::pair<std::string, std::string>> entries;
  float names = 0;  // width of the column of words
  for (const char* key : keys) {
    const look::Meaning meaning = look::meaning_of(f.words, key);
    entries.emplace_back(meaning.name, meaning.text);
    names = std::max(names, f.canvas.width(meaning.name, Type::strong));
  }
  names = std::min(names, 0.32F * width);
  const float said = width - names - 1.5F * em;
  std::vector<float> heights;
  float total = 0;
  for (const auto& [name, meaning] : entries) {
    heights.push_back(0.9F * em + std::max(f.canvas.paragraph_height(name, Type::strong, names + 1),
                                           f.canvas.paragraph_height(meaning, Type::body, said)));
    total += heights.back();
  }
  const Box b = page(f, window, 56, total + 5.4F * em);
  page_head(f, b, "glossary");
  const Box list{b.x + 1.5F * em, b.y + 3.9F * em, b.w - 3 * em, b.h - 5.2F * em};
  ScrollArea scrolled(f, "glossary", {list.x, list.y, list.w + 0.9F * em, list.h}, total, window);
  f.canvas.clip(list);
  f.interaction.reach(&list);
  const float start = scrolled.top();
  float y = start;
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const Box row{list.x, y, list.w, heights[i]};
    const auto r = f.interaction.control("glossary." + std::to_string(i), row);
    if (r.focused && f.interaction.focus_moved()) scrolled.reveal(row.y - start, row.h);
    if (r.show_focus) focus_ring(f, row.inset(0.1F * em), 0.4F * em);
    f.canvas.paragraph({row.x, row.y + 0.3F * em, names + 1, row.h}, entries[i].first, Type::strong, f.palette.ink);
    f.canvas.paragraph({row.x + names + 1.5F * em, row.y + 0.3F * em, said, row.h}, entries[i].second, Type::body,
                       f.palette.quiet);
    y += heights[i];
  }
  f.interaction.reach(nullptr);
  f.canvas.unclip();
  scrolled.draw_bar();
}

}  // namespace drawdown::panels
