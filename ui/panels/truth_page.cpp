// The ledger of truth as a list: the independent figures counted, what is not met, then every row by what it is worth.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "panels/study.hpp"
#include "study/truth/reach.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using study::TruthEntry;
using study::TruthKind;

namespace {

// One thing below the other: a heading, a paragraph, or a row with its range drawn.
struct Item {
  std::string text;
  std::string small;
  const TruthEntry* entry = nullptr;
  bool head = false;
  float height = 0.0F;
};

std::string figure_of(double value) {
  return look::number(value, std::abs(value) < 10 ? 2 : 0);
}

std::string worth_of(const Frame& f, const TruthEntry& e) {
  std::string text = f.words.fill("study.published", {e.published}) + ". " + e.source;
  if (!e.note.empty()) text += ". " + e.note;
  if (!e.constant.empty()) text += ". " + f.words.fill("study.set_by", {e.constant});
  if (!e.breaks.empty()) {
    text += ". " + f.words.fill(e.kind == TruthKind::holds_anyway ? "study.tried" : "study.leaves", {e.breaks});
  }
  return text;
}

// The known limit without the id it begins with.
std::string told(const TruthEntry& e) {
  const std::string limit = study::told_limit(e);
  return limit.empty() ? limit : limit.substr(e.id.size() + 2);
}

std::vector<Item> items_of(const Frame& f, const std::vector<TruthEntry>& truth) {
  const study::TruthCount count = study::counted(truth);
  std::vector<Item> items;
  const auto head = [&](const std::string& text) { items.push_back({text, "", nullptr, true}); };
  const auto line = [&](const std::string& text) { items.push_back({text, "", nullptr, false}); };
  head(f.words.fill("study.count",
                    {std::to_string(count.inside), std::to_string(count.independent), std::to_string(count.calibrated),
                     std::to_string(count.wiring), std::to_string(count.anyway)}));
  if (!count.not_met.empty()) head(f.words.at("study.not_met"));
  for (const TruthEntry* e : count.not_met) {
    line(f.words.fill("study.not_met_line", {e->id, e->situation, figure_of(e->model) + " " + e->unit,
                                             figure_of(e->low), figure_of(e->high)}) +
         " " + told(*e));
  }
  if (!count.disputed.empty()) head(f.words.at("study.disagree"));
  for (const TruthEntry* e : count.disputed) line(e->id + ": " + e->disputed);
  const std::pair<TruthKind, const char*> kinds[] = {{TruthKind::independent, "study.kind_independent"},
                                                     {TruthKind::calibrated, "study.kind_calibrated"},
                                                     {TruthKind::wiring, "study.kind_wiring"},
                                                     {TruthKind::holds_anyway, "study.kind_anyway"}};
  for (const auto& [kind, key] : kinds) {
    head(f.words.at(key));
    for (const TruthEntry& e : truth) {
      if (e.kind == kind) items.push_back({e.id + "  " + e.situation, worth_of(f, e), &e, false});
    }
  }
  head(f.words.at("study.least"));
  line(f.words.at("study.least_intro"));
  for (const std::string& name : study::truth::least_supported()) line(name);
  head(f.words.at("study.limits"));
  for (const std::string& limit : study::known_limits()) line(limit);
  return items;
}

// The accepted range as a bar, the model as a dot on it.
void draw_range(Frame& f, const Box& g, const TruthEntry& e) {
  const float em = f.em();
  const double span = (e.high - e.low) * 1.8;
  const double left = e.low - (e.high - e.low) * 0.4;
  const auto x_of = [&](double v) { return g.x + g.w * static_cast<float>(std::clamp((v - left) / span, 0.0, 1.0)); };
  f.canvas.line({{g.x, g.middle_y()}, {g.right(), g.middle_y()}}, f.palette.line, 1.0F);
  f.canvas.fill({x_of(e.low), g.middle_y() - 0.32F * em, x_of(e.high) - x_of(e.low), 0.64F * em}, f.palette.range,
                0.2F * em);
  const look::Colour& ink = e.inside() ? f.palette.range_ink : f.palette.mark;
  // Of sampled people the verdict goes by the whole interval, so that is drawn too.
  if (e.people > 0) {
    f.canvas.line({{x_of(e.model_low), g.middle_y()}, {x_of(e.model_high), g.middle_y()}}, ink, 0.16F * em);
    for (const double end : {e.model_low, e.model_high}) {
      f.canvas.line({{x_of(end), g.middle_y() - 0.3F * em}, {x_of(end), g.middle_y() + 0.3F * em}}, ink, 0.1F * em);
    }
  }
  f.canvas.dot({x_of(e.model), g.middle_y()}, 0.36F * em, ink);
  const std::string figure = f.words.fill("study.model", {figure_of(e.model) + " " + e.unit}) + ", " +
                             f.words.at(e.inside() ? "study.inside_yes" : "study.inside_no");
  f.canvas.fitted({g.x, g.bottom() + 0.15F * em, g.w + 0.8F * em, f.canvas.line_height(Type::small)}, figure,
                  Type::small, ink);
}

}  // namespace

void draw_truth_page(Frame& f, const Box& box) {
  const float em = f.em();
  const auto& truth = f.state.study.truth;
  if (truth.empty()) return;
  const float graphic = std::clamp(0.22F * box.w, 8 * em, 16 * em);
  const float words_w = box.w - graphic - 2.6F * em;
  const float whole_w = box.w - 2 * em;
  std::vector<Item> items = items_of(f, truth);
  float total = 0.6F * em;
  for (Item& item : items) {
    if (item.entry != nullptr) {
      item.height = f.canvas.paragraph_height(item.text, Type::body, words_w) +
                    f.canvas.paragraph_height(item.small, Type::small, words_w) + 1.0F * em;
    } else {
      const Type type = item.head ? Type::strong : Type::body;
      item.height = f.canvas.paragraph_height(item.text, type, whole_w) + (item.head ? 1.2F : 0.4F) * em;
    }
    total += item.height;
  }
  ScrollArea scrolled(f, "truth", box, total, box);
  scrolled.by_keys("study.list");
  float y = scrolled.top();
  for (const Item& item : items) {
    if (y + item.height > box.y && y < box.bottom()) {
      if (item.entry != nullptr) {
        float line = y;
        line += f.canvas.paragraph({box.x, line, words_w, item.height}, item.text, Type::body, f.palette.ink);
        f.canvas.paragraph({box.x, line, words_w, item.height}, item.small, Type::small, f.palette.quiet);
        draw_range(f, {box.right() - graphic - 1.2F * em, y + 0.2F * em, graphic, 1.2F * em}, *item.entry);
        const float below = y + item.height - 0.5F * em;
        f.canvas.line({{box.x, below}, {box.right() - 1.2F * em, below}}, f.palette.line, 1.0F);
      } else {
        const float down = item.head ? 0.6F * em : 0.0F;
        f.canvas.paragraph({box.x, y + down, whole_w, item.height}, item.text, item.head ? Type::strong : Type::body,
                           item.head ? f.palette.ink : f.palette.quiet);
      }
    }
    y += item.height;
  }
  scrolled.draw_bar();
}

}  // namespace drawdown::panels
