// The few controls all panels share.
#include <algorithm>
#include <cmath>

#include "panels/frame.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

void card(Frame& f, const Box& box) {
  const float radius = 0.6F * f.em();
  f.canvas.fill(box, f.palette.card, radius);
  f.canvas.outline(box, f.palette.line, radius, 1.0F);
}

Box page(Frame& f, const Box& window, float wide_em, float height) {
  const float em = f.em();
  const float w = std::min(wide_em * em, window.w - 2 * em);
  const float h = std::min(height, window.h - 2 * em);
  const Box b{window.middle_x() - w / 2, window.middle_y() - h / 2, w, h};
  card(f, b);
  return b;
}

float page_head(Frame& f, const Box& b, const std::string& key) {
  const float em = f.em();
  f.canvas.text({b.x + 1.5F * em, b.y + 1.1F * em}, f.words.at(key + ".title"), Type::title, f.palette.ink);
  const std::string& close = f.words.at(key + ".close");
  const float w = button_width(f, close);
  const float x = b.right() - 1.5F * em - w;
  if (button(f, key + ".close", {x, b.y + 1.0F * em, w, 2.1F * em}, close)) {
    f.act(stage::SetOverlay{stage::Overlay::none});
  }
  return x;
}

void focus_ring(Frame& f, const Box& box, float radius) {
  f.canvas.outline(box.inset(-0.16F * f.em()), f.palette.focus, radius, std::max(2.0F, 0.14F * f.em()));
}

ScrollArea::ScrollArea(Frame& f, const std::string& name, const Box& box, float total, const Box& wheel_over)
    : f_(f), box_(box), total_(total), scroll_(&f.interaction.scroll(name)) {
  const Input& input = f.interaction.input();
  by(f.interaction.enabled() && wheel_over.holds(input.mouse) ? -input.wheel * 3.0F * f.em() : 0);
}

void ScrollArea::by(float pixels) {
  *scroll_ = std::clamp(*scroll_ + pixels, 0.0F, std::max(0.0F, total_ - box_.h));
}

void ScrollArea::by_keys(const std::string& control) {
  if (total_ <= box_.h) return;
  const float em = f_.em();
  const auto r = f_.interaction.control(control, box_);
  if (r.focused) {
    if (f_.interaction.take(Key::down)) by(3 * em);
    if (f_.interaction.take(Key::up)) by(-3 * em);
    if (f_.interaction.take(Key::page_down)) by(box_.h * 0.9F);
    if (f_.interaction.take(Key::page_up)) by(-box_.h * 0.9F);
  }
  if (r.show_focus) focus_ring(f_, box_.inset(0.3F * em), 0.3F * em);
}

void ScrollArea::reveal(float from, float height, float margin) {
  if (from < *scroll_) by(from - margin - *scroll_);
  if (from + height > *scroll_ + box_.h) by(from + height + margin - box_.h - *scroll_);
}

void ScrollArea::draw_bar() const {
  const float most = total_ - box_.h;
  if (most <= 0) return;
  const float em = f_.em();
  const float bar = std::max(2 * em, box_.h * box_.h / total_);
  const float at = box_.y + (box_.h - bar) * *scroll_ / most;
  f_.canvas.fill({box_.right() - 0.3F * em, box_.y, 0.3F * em, box_.h}, f_.palette.raised, 0.15F * em);
  f_.canvas.fill({box_.right() - 0.3F * em, at, 0.3F * em, bar}, f_.palette.quiet, 0.15F * em);
}

float button_width(const Frame& f, const std::string& label, Type type) {
  return f.canvas.width(label, type) + 1.5F * f.em();
}

bool button(Frame& f, const std::string& name, const Box& box, const std::string& label, const ButtonStyle& style) {
  const auto r = f.interaction.control(name, box);
  const float radius = std::min(box.h / 2, 0.6F * f.em());
  look::Colour ground = style.chosen ? f.palette.select : f.palette.raised;
  look::Colour ink = style.chosen ? f.palette.select_ink : f.palette.ink;
  if (r.hovered && !style.chosen) ground = look::mix(ground, f.palette.quiet, 0.22F);
  if (r.held) ground = look::mix(ground, f.palette.quiet, 0.35F);
  if (!style.quiet || style.chosen || r.hovered) f.canvas.fill(box, ground, radius);
  if (r.show_focus) focus_ring(f, box, radius);
  const float pad = std::min(0.5F * f.em(), box.w * 0.1F);
  f.canvas.fitted({box.x + pad, box.middle_y() - f.canvas.line_height(style.type) / 2, box.w - 2 * pad, box.h}, label,
                  style.type, ink, style.align);
  return r.clicked;
}

float choice_width(const Frame& f, const std::vector<std::string>& labels, Type type) {
  float w = 0;
  for (const std::string& label : labels) w += button_width(f, label, type);
  return w;
}

int choice(Frame& f, const std::string& name, const Box& box, const std::vector<std::string>& labels, int chosen,
           Type type) {
  const float radius = std::min(box.h / 2, 0.6F * f.em());
  f.canvas.fill(box, f.palette.raised, radius);
  const float natural = choice_width(f, labels, type);
  float x = box.x;
  int pressed = -1;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const float w = button_width(f, labels[i], type) * box.w / natural;
    const bool is_chosen = static_cast<int>(i) == chosen;
    ButtonStyle style;
    style.chosen = is_chosen;
    style.quiet = true;
    style.type = type;
    if (button(f, name + "/" + std::to_string(i), {x, box.y, w, box.h}, labels[i], style)) {
      pressed = static_cast<int>(i);
    }
    x += w;
  }
  return pressed;
}

TextResult text_field(Frame& f, const std::string& name, const Box& box, const std::string& text,
                      const std::string& hint) {
  TextResult result;
  const float em = f.em();
  std::size_t& caret = f.interaction.caret(name);
  EditedLine line{text, std::min(caret, text.size())};
  // What Enter and the space bar mean here is decided before the control takes them as a press.
  if (f.interaction.enabled() && f.interaction.focused() == name) {
    result.ended = edit_line(line, f.interaction.take_typed());
  }
  result.text = line.text;
  caret = line.caret;
  const auto r = f.interaction.control(name, box);
  f.interaction.takes_letters(name);
  result.changed = result.text != text || !result.ended.empty();
  f.canvas.fill(box, f.palette.card, 0.4F * em);
  f.canvas.outline(box, r.focused ? f.palette.select : look::mix(f.palette.line, f.palette.quiet, 0.5F), 0.4F * em,
                   r.focused ? 2.0F : 1.0F);
  if (r.show_focus) focus_ring(f, box, 0.5F * em);
  const float y = box.middle_y() - f.canvas.line_height(Type::body) / 2;
  const float w = box.w - 1.4F * em;
  if (result.text.empty()) {
    f.canvas.fitted({box.x + 0.9F * em, box.middle_y() - f.canvas.line_height(Type::small) / 2, w, em}, hint,
                    Type::small, f.palette.quiet);
    if (!r.focused) return result;
  }
  // Of a long line one sees what is around the caret: as much before it as fits, then what follows.
  std::size_t from = line.caret;
  while (from > 0 && f.canvas.width(line.text.substr(before(line.text, from), line.caret - before(line.text, from)),
                                    Type::body) <= w) {
    from = before(line.text, from);
  }
  std::size_t to = line.caret;
  while (to < line.text.size() &&
         f.canvas.width(line.text.substr(from, after(line.text, to) - from), Type::body) <= w) {
    to = after(line.text, to);
  }
  const float x = box.x + 0.7F * em;
  if (to > from) f.canvas.text({x, y}, line.text.substr(from, to - from), Type::body, f.palette.ink);
  if (r.focused) {
    const float at = x + f.canvas.width(line.text.substr(from, line.caret - from), Type::body);
    f.canvas.fill({at + 1, y, std::max(1.5F, 0.1F * em), f.canvas.line_height(Type::body)}, f.palette.ink, 0);
  }
  return result;
}

SliderResult slider(Frame& f, const std::string& name, const Box& box, double value, double least, double most,
                    double step, double mark) {
  SliderResult result;
  result.value = value;
  const auto r = f.interaction.control(name, box, false);
  const float knob = 0.52F * f.em();
  const float left = box.x + knob;
  const float span = std::max(1.0F, box.w - 2 * knob);
  const auto place = [&](double v) {
    return left + span * static_cast<float>(std::clamp((v - least) / (most - least), 0.0, 1.0));
  };
  if (r.hovered && f.interaction.input().double_click) {
    result.reset = true;
  } else if (r.held) {
    const double s = static_cast<double>(std::clamp((f.interaction.input().mouse.x - left) / span, 0.0F, 1.0F));
    result.value = least + s * (most - least);
    if (step >= 1.0) result.value = std::round(result.value);
    result.moved = result.value != value;
    result.dragging = true;
  }
  result.ended = r.released;
  if (r.focused) {
    double delta = 0.0;
    if (f.interaction.take(Key::left)) delta -= step;
    if (f.interaction.take(Key::right)) delta += step;
    if (delta != 0.0) {
      result.value = std::clamp(value + delta, least, most);
      result.moved = result.value != value;
    }
  }
  const float y = box.middle_y();
  const float thick = std::max(3.0F, 0.28F * f.em());
  f.canvas.fill({left, y - thick / 2, span, thick}, look::mix(f.palette.raised, f.palette.quiet, 0.25F), thick / 2);
  const float at = place(result.value);
  f.canvas.fill({left, y - thick / 2, at - left, thick}, f.palette.select, thick / 2);
  // The story's own value: a tick above the line.
  if (std::isfinite(mark)) {
    const float tick = place(mark);
    f.canvas.fill({tick - 0.09F * f.em(), y - 0.76F * f.em(), 0.18F * f.em(), 0.46F * f.em()}, f.palette.mark, 0);
  }
  f.canvas.dot({at, y}, knob, f.palette.select);
  f.canvas.dot({at, y}, knob * 0.68F, f.palette.card);
  if (r.hovered || r.held) f.canvas.dot({at, y}, knob * 0.34F, f.palette.select);
  if (r.show_focus) focus_ring(f, {box.x, y - 0.8F * f.em(), box.w, 1.6F * f.em()}, 0.6F * f.em());
  return result;
}

}  // namespace drawdown::panels
