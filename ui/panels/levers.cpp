// The levers, grouped by the question they answer. Each shows its value and the story's; dragging redraws the course
// at once; a double click gives it back to the story.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

using body::LeverGroup;
using draw::Align;
using draw::Box;
using draw::Type;

namespace {

struct Row {
  bool heading = false;
  body::LeverId lever;
  LeverGroup group = LeverGroup::complexes;
  float height = 0;
};

const char* group_key(LeverGroup group) {
  switch (group) {
    case LeverGroup::complexes:
      return "group.complexes";
    case LeverGroup::production:
      return "group.production";
    case LeverGroup::inherited:
      return "group.inherited";
    case LeverGroup::treatment:
      return "group.treatment";
    case LeverGroup::laboratory:
    case LeverGroup::person:
      break;
  }
  return "group.laboratory";
}

bool used_by_story(const stage::AppState& s, body::LeverId lever) {
  if (s.document.now.story.levers[lever] != s.document.now.story.lever_rows()[lever].rest) return true;
  const auto& events = s.document.now.story.events;
  return std::any_of(events.begin(), events.end(), [&](const auto& e) { return e.lever == lever; });
}

class LeverList {
 public:
  LeverList(Frame& frame, const Box& b) : f(frame), box(b), em(frame.em()) {}

  void draw() {
    card(f, box);
    const Box inner = box.inset(0.9F * em, 0.7F * em);
    const float row = 2.1F * em;
    if (inner.w > 48 * em || inner.h < 13 * em) {
      // One row for everything: more of the list shows.
      const float gap = 0.5F * em;
      draw_row({inner.x, inner.y, inner.w, row}, gap);
      list = {inner.x, inner.y + row + gap, inner.w, inner.h - row - gap};
      collect();
      draw_rows();
      return;
    }
    draw_reach({inner.x, inner.y, inner.w, row});
    const float buttons = draw_buttons(inner, row);
    list = {inner.x, inner.y + row + 0.5F * em, inner.w, inner.h - row - buttons - 1.0F * em};
    collect();
    draw_rows();
  }

 private:
  [[nodiscard]] const std::vector<body::Lever>& levers() const { return f.state.document.now.story.lever_rows(); }
  void draw_reach(const Box& b) {
    const int pressed = choice(f, "levers.reach", b, {f.words.at("levers.whole"), f.words.at("levers.from_today")},
                               f.state.levers.from_today ? 1 : 0);
    if (pressed >= 0 && (pressed == 1) != f.state.levers.from_today) f.act(stage::ToggleFromToday{});
  }

  // Side by side, each as wide as its label; what finds no room is left to a higher window.
  void draw_row(const Box& line, float gap) {
    const float reach = choice_width(f, {f.words.at("levers.whole"), f.words.at("levers.from_today")});
    draw_reach({line.x, line.y, std::min(reach, line.w), line.h});
    float x = line.x + reach + gap;
    const auto place = [&](const char* key, void (LeverList::*put)(const Box&)) {
      const float w = button_width(f, f.words.at(key), Type::small);
      if (x + w > line.right()) return;
      (this->*put)({x, line.y, w, line.h});
      x += w + gap;
    };
    place("levers.undo", &LeverList::draw_undo);
    place("levers.keep", &LeverList::draw_keep);
    place(f.state.levers.all ? "levers.fewer" : "levers.more", &LeverList::draw_more);
    place("levers.reset", &LeverList::draw_reset);
    place("levers.redo", &LeverList::draw_redo);
  }

  // At the foot; returns the height used.
  float draw_buttons(const Box& inner, float row) {
    const float gap = 0.4F * em;
    const float half = (inner.w - gap) / 2;
    const float y = inner.bottom() - row;
    const float third = (inner.w - 2 * gap) / 3;
    draw_more({inner.x, y - row - gap, third, row});
    draw_undo({inner.x + third + gap, y - row - gap, third, row});
    draw_redo({inner.x + 2 * (third + gap), y - row - gap, third, row});
    draw_keep({inner.x, y, half, row});
    draw_reset({inner.x + half + gap, y, half, row});
    return 2 * row + gap;
  }
  void draw_more(const Box& b) {
    const char* key = f.state.levers.all ? "levers.fewer" : "levers.more";
    if (fitted_button(key, b)) f.act(stage::ToggleAllLevers{});
  }
  void draw_undo(const Box& b) {
    if (fitted_button("levers.undo", b)) f.act(stage::Undo{});
  }
  void draw_redo(const Box& b) {
    if (fitted_button("levers.redo", b)) f.act(stage::Redo{});
  }
  void draw_keep(const Box& b) {
    if (fitted_button("levers.keep", b)) f.act(stage::KeepRun{});
  }
  void draw_reset(const Box& b) {
    if (fitted_button("levers.reset", b)) f.act(stage::ResetAll{});
  }
  // In smaller type where the label would not fit.
  bool fitted_button(const char* key, const Box& b) {
    ButtonStyle style;
    if (button_width(f, f.words.at(key)) > b.w) style.type = Type::small;
    return button(f, key, b, f.words.at(key), style);
  }

  void collect() {
    LeverGroup last = LeverGroup::person;
    for (std::size_t at = 0; at < levers().size(); ++at) {
      const body::LeverId i(at);
      const body::Lever& lever = levers()[i];
      if (lever.group == LeverGroup::person) continue;
      const bool shown = f.state.levers.all || lever.main || used_by_story(f.state, i) || stage::is_edited(f.state, i);
      if (!shown) continue;
      if (lever.group != last) {
        rows.push_back({true, {}, lever.group, 2.1F * em});
        last = lever.group;
      }
      const float words = f.canvas.paragraph_height(f.words.at("lever." + lever.name), Type::body, label_width());
      rows.push_back({false, i, lever.group, words + (lever.kind == body::LeverKind::dated ? 2.5F : 1.75F) * em});
    }
  }
  [[nodiscard]] float label_width() const {
    return list.w - 0.8F * em - f.canvas.width("8 copies", Type::strong) - 0.6F * em;
  }

  void draw_rows() {
    float total = 0;
    for (const Row& row : rows) total += row.height;
    ScrollArea scrolled(f, "levers", list, total, list);
    if (f.interaction.focus_moved() && f.interaction.focused().rfind("lever.", 0) == 0) scroll_to_focus(scrolled);
    f.canvas.clip(list);
    f.interaction.reach(&list);
    float y = scrolled.top();
    for (const Row& row : rows) {
      const Box b{list.x, y, list.w - 0.8F * em, row.height};
      const bool visible = b.bottom() > list.y && b.y < list.bottom();
      if (row.heading) {
        if (visible) {
          f.canvas.fitted({b.x, b.y + 0.75F * em, b.w, em}, f.words.at(group_key(row.group)), Type::strong,
                          f.palette.ink);
        }
      } else {
        draw_lever(b, row.lever, visible);
      }
      y += row.height;
    }
    f.interaction.reach(nullptr);
    f.canvas.unclip();
    scrolled.draw_bar();
  }

  void scroll_to_focus(ScrollArea& scrolled) const {
    float y = 0;
    for (const Row& row : rows) {
      if (!row.heading && f.interaction.focused() == "lever." + levers()[row.lever].name) {
        scrolled.reveal(y, row.height, em);
      }
      y += row.height;
    }
  }

  void draw_lever(const Box& b, body::LeverId index, bool visible) {
    const body::Lever& lever = levers()[index];
    const double value = stage::current_value(f.state, index);
    const double story = stage::story_value(f.state, index);
    const std::string name = "lever." + lever.name;
    const float words = b.h - 1.75F * em;
    const Box line{b.x, b.y + words + 0.1F * em, b.w, 1.5F * em};
    if (!visible) {
      f.interaction.control(name, {-1e5F, -1e5F, 0, 0});  // keeps its place in the Tab order
      return;
    }
    if (lever.kind == body::LeverKind::dated) {
      draw_dated(b, index);
      return;
    }
    const bool edited = stage::is_edited(f.state, index);
    f.canvas.paragraph({b.x, b.y, label_width(), words}, f.words.at(name), Type::body, f.palette.ink);
    f.canvas.text({b.right(), b.y}, value_text(f, lever, value), Type::strong,
                  edited ? f.palette.mark : f.palette.quiet, Align::right);
    if (f.state.levers.dragged == index && f.state.levers.before) say_difference({b.x, b.y, b.w, words});
    const double span = lever.most - lever.least;
    const double step = lever.kind == body::LeverKind::counted ? 1.0 : span / 40.0;
    const SliderResult r = slider(f, name, line, value, lever.least, lever.most, step, story);
    if (r.reset) {
      f.act(stage::ResetLever{index});
    } else if (r.moved) {
      f.act(stage::MoveLever{index, r.value, r.dragging});
    }
    if (r.ended) f.act(stage::EndDrag{});
  }

  // What the drag has done so far to both levels on the day shown.
  void say_difference(const Box& b) {
    const auto change = [&](std::size_t p, stage::Which which) {
      const double hour = 24.0 * f.state.time.day;
      const double level = f.state.runs.account->at(p, hour).level;
      const double before = f.state.levers.before->at(p, hour).level;
      return stage::level_text(before, which, f.state.page.unit) + " → " +
             stage::level_text(level, which, f.state.page.unit);
    };
    const std::string said = "C3 " + change(c3_in_account, stage::Which::c3) + "   C4 " +
                             change(c4_in_account, stage::Which::c4) + " " + stage::unit_text(f.state.page.unit);
    const float w = std::min(label_width(), f.canvas.width(said, Type::small) + 0.8F * em);
    const Box plate{b.x, b.y, label_width(), b.h};
    f.canvas.cover(plate);
    f.canvas.fill(plate, f.palette.card);
    f.canvas.fill({b.x, b.y - 0.1F * em, w, 1.4F * em}, f.palette.select, 0.3F * em);
    f.canvas.fitted({b.x + 0.4F * em, b.y + 0.1F * em, w - 0.6F * em, em}, said, Type::small, f.palette.select_ink);
  }

  // Something done on a day: a button that places it where the playhead stands.
  void draw_dated(const Box& b, body::LeverId index) {
    const std::string name = "lever." + levers()[index].name;
    const float words = b.h - 2.5F * em;
    f.canvas.paragraph({b.x, b.y, b.w, words}, f.words.at(name), Type::body, f.palette.ink);
    ButtonStyle style;
    style.type = Type::small;
    const std::string label = f.words.fill("levers.place", {look::number(std::floor(f.state.time.day), 0)});
    const float w = std::min(b.w, button_width(f, label, Type::small));
    if (button(f, name, {b.x, b.y + words + 0.2F * em, w, 1.8F * em}, label, style)) f.act(stage::PlaceDated{index});
    if (!stage::is_edited(f.state, index)) return;
    const std::string& drop = f.words.at("compare.drop");
    const Box drop_box{b.x + w + 0.5F * em, b.y + words + 0.2F * em, button_width(f, drop, Type::small), 1.8F * em};
    if (button(f, name + "/drop", drop_box, drop, style)) f.act(stage::ResetLever{index});
  }

  Frame& f;
  Box box;
  float em;
  Box list;
  std::vector<Row> rows;
};

}  // namespace

std::string value_text(const Frame& f, const body::Lever& lever, double value) {
  switch (lever.shown()) {
    case body::Shown::copies:
      return f.words.fill("levers.copies", {look::number(value, 0)});
    case body::Shown::percent:
      if (value < 0.005) return f.words.at("levers.off");
      return f.words.fill("numbers.percent", {look::number(100 * value, 0)});
    case body::Shown::plain:
      return look::number(value, 1);
    case body::Shown::times:
      break;
  }
  return f.words.fill("levers.relative", {look::number(value, 2)});
}

void draw_levers(Frame& f, const Box& box) {
  LeverList(f, box).draw();
}

}  // namespace drawdown::panels
