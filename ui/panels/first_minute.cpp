// The first minute's bar: one lever at a time, large, with a hand that shows what to do; then the picture is watched.
#include <algorithm>
#include <cmath>

#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;
using stage::FirstMinute;

namespace {

constexpr std::size_t parts = stage::first_minute_names.size() - 1;  // the last one is the end

bool stacked(const Frame& f, float width) {
  return width < 62 * f.em();
}

// Where one is: a dot a part, the ones behind filled.
void draw_parts(Frame& f, draw::Point at) {
  const float em = f.em();
  const auto here = static_cast<std::size_t>(*f.state.first.step);
  for (std::size_t i = 0; i < parts; ++i) {
    const draw::Point p{at.x + static_cast<float>(i) * 1.1F * em, at.y};
    if (i <= here) f.canvas.dot(p, 0.32F * em, f.palette.select);
    f.canvas.ring(p, 0.32F * em, f.palette.select, 1.5F);
  }
}

// A pale knob that goes the way the hand should, again and again; an arrow where motion is not wanted.
void draw_hand(Frame& f, const Box& line, double value, const body::Lever& lever) {
  const float em = f.em();
  const float knob = 0.52F * em;
  const float span = line.w - 2 * knob;
  const auto x_of = [&](double share) { return line.x + knob + span * static_cast<float>(share); };
  const double from = (value - lever.least) / (lever.most - lever.least);
  const double goal = (stage::first_minute_goal(f.state) - lever.least) / (lever.most - lever.least);
  const double to = std::clamp(std::max(goal + 0.08, from + 0.25), from, 1.0);
  const double turn = f.seconds / 1.8;
  const double part = f.state.look.reduced_motion ? 1.0 : std::min(1.0, 1.35 * (turn - std::floor(turn)));
  const double eased = part * part * (3 - 2 * part);
  const float x = x_of(from + eased * (to - from));
  const float y = line.middle_y();
  const look::Colour ink = f.palette.mark.with_alpha(0.75F);
  f.canvas.line({{x_of(from) + knob, y}, {x, y}}, ink, 0.22F * em, 0.4F * em);
  f.canvas.shape({x, y}, {{x, y - 0.75F * em}, {x + 1.0F * em, y}, {x, y + 0.75F * em}}, ink);
}

}  // namespace

float first_minute_height(const Frame& f, float width) {
  return f.state.first.step ? (stacked(f, width) ? 6.0F : 4.2F) * f.em() : 0.0F;
}

void draw_first_minute(Frame& f, const Box& box) {
  if (!f.state.first.step) return;
  const float em = f.em();
  f.canvas.fill(box, f.palette.card, 0.6F * em);
  f.canvas.outline(box, f.palette.select, 0.6F * em, 2.0F);
  const Box inner = box.inset(1.2F * em, 0.7F * em);
  const bool two_rows = stacked(f, box.w);
  const float row = two_rows ? inner.h / 2 : inner.h;
  const bool over = *f.state.first.step == FirstMinute::done;
  float right = inner.right();
  const auto from_right = [&](const std::string& key) {
    const std::string& label = f.words.at(key);
    const float w = button_width(f, label);
    right -= w;
    const bool pressed = button(f, key, {right, inner.y + (row - 2.2F * em) / 2, w, 2.2F * em}, label);
    right -= 0.6F * em;
    return pressed;
  };
  if (from_right(over ? "first.go_on" : "first.skip")) f.act(stage::EndFirstMinute{});
  if (over && from_right("first.stories")) f.act(stage::SetOverlay{stage::Overlay::stories});
  draw_parts(f, {inner.x + 0.4F * em, inner.y + row / 2});
  const float words_x = inner.x + (static_cast<float>(parts) * 1.1F + 0.6F) * em;
  const auto lever_index = stage::first_minute_lever(f.state);
  const float slider_w = std::min(0.42F * inner.w, 34 * em);
  Box line{right - slider_w, inner.y, slider_w, row};
  if (two_rows) line = {inner.x, inner.y + row, inner.w, row};
  const float words_w = (lever_index && !two_rows ? line.x : right) - words_x - em;
  const std::string& said = f.words.at("first." + look::name_of(stage::first_minute_names, *f.state.first.step));
  Type type = Type::heading;
  if (f.canvas.paragraph_height(said, type, words_w) > row) type = Type::body;
  const float h = f.canvas.paragraph_height(said, type, words_w);
  f.canvas.paragraph({words_x, inner.y + (row - h) / 2, words_w, row}, said, type, f.palette.ink, 3);
  if (!lever_index) return;
  const body::Lever& lever = f.state.document.now.story.lever_rows()[*lever_index];
  const double value = stage::current_value(f.state, *lever_index);
  const SliderResult r =
      slider(f, "first.lever", line, value, lever.least, lever.most, (lever.most - lever.least) / 20.0, std::nan(""));
  const bool by_key = r.moved && !r.dragging;
  if (r.moved) f.act(stage::MoveLever{*lever_index, r.value, r.dragging});
  if (r.ended) f.act(stage::EndDrag{});
  if (!r.dragging && !by_key) draw_hand(f, line, value, lever);
}

}  // namespace drawdown::panels
