// One protein's vessel with its tap and opening, and the streams through both.
#include <algorithm>
#include <cmath>

#include "panels/balance_parts.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Point;
using draw::Type;

namespace {

constexpr float quarter_turn = 1.5707963F;

// A band along a centre line whose width goes from one to another over a beginning part of it.
void funnel(Frame& f, const std::vector<Point>& centre, float from, float to, float share, const look::Colour& colour) {
  std::vector<Point> left;
  std::vector<Point> right;
  const draw::Edges unit = draw::ribbon_edges(centre, 2.0F);
  const auto n = static_cast<float>(centre.size() - 1);
  for (std::size_t i = 0; i < centre.size(); ++i) {
    const float t = std::clamp(static_cast<float>(i) / n / share, 0.0F, 1.0F);
    const float half = 0.5F * (from + (to - from) * t * t * (3 - 2 * t));
    left.push_back(
        {centre[i].x + half * (unit.left[i].x - centre[i].x), centre[i].y + half * (unit.left[i].y - centre[i].y)});
    right.push_back(
        {centre[i].x + half * (unit.right[i].x - centre[i].x), centre[i].y + half * (unit.right[i].y - centre[i].y)});
  }
  f.canvas.strip(left, right, colour);
}

// From the floor down and round to the plate, level on arrival.
std::vector<Point> towards_plate(Point from, Point to) {
  std::vector<Point> centre;
  constexpr int pieces = 28;
  for (int i = 0; i <= pieces; ++i) {
    const float t = quarter_turn * static_cast<float>(i) / static_cast<float>(pieces);
    centre.push_back({from.x + (to.x - from.x) * (1 - std::cos(t)), from.y + (to.y - from.y) * std::sin(t)});
  }
  return centre;
}

bool flows(const Frame& f) {
  return !f.state.look.reduced_motion && (f.state.time.playing || f.motion.lively());
}

// Light drops along a stream, evenly spaced: the pattern of what is extra. They drift while streams flow.
void drops(Frame& f, const std::vector<Point>& centre, float width, const look::Colour& colour) {
  if (width < 2.0F) return;
  const float em = f.em();
  std::vector<float> along{0};
  for (std::size_t i = 1; i < centre.size(); ++i) {
    along.push_back(along.back() + std::hypot(centre[i].x - centre[i - 1].x, centre[i].y - centre[i - 1].y));
  }
  const float gap = 0.62F * em;
  const auto shift = flows(f) ? static_cast<float>(std::fmod(f.seconds * 1.6, 1.0)) * gap : 0.35F * gap;
  const int rows = std::max(1, static_cast<int>(width / (0.6F * em)));
  const float radius = std::clamp(0.16F * width, 0.8F, 0.13F * em);
  std::size_t i = 0;
  int column = 0;
  for (float d = shift; d < along.back(); d += gap, ++column) {
    while (i + 2 < along.size() && along[i + 1] < d) i += 1;
    const float span = std::max(1e-3F, along[i + 1] - along[i]);
    const float s = (d - along[i]) / span;
    const Point a = centre[i];
    const Point b = centre[i + 1];
    const Point across{-(b.y - a.y) / span, (b.x - a.x) / span};
    for (int r = 0; r < rows; ++r) {
      const float off = ((static_cast<float>(r) + 0.5F) / static_cast<float>(rows) - 0.5F) * width;
      f.canvas.dot({a.x + s * (b.x - a.x) + off * across.x, a.y + s * (b.y - a.y) + off * across.y}, radius, colour);
    }
  }
}

// A zigzag of the ground's colour down the middle: what is drawn is cut here, the number goes on.
void break_mark(Frame& f, Point at, float width) {
  const float em = f.em();
  const float half = 0.55F * em;
  std::vector<Point> line;
  for (int k = 0; k <= 4; ++k) {
    line.push_back({at.x + (k % 2 == 0 ? -1.0F : 1.0F) * std::min(0.22F * em, 0.2F * width),
                    at.y - half + 2 * half * static_cast<float>(k) / 4.0F});
  }
  f.canvas.line(line, f.palette.card, std::max(2.0F, 0.22F * em));
}

void arrow(Frame& f, Point tip, float width, float way, const look::Colour& colour) {
  const float em = f.em();
  const float half = width / 2 + 0.22F * em;
  const float reach = std::min(0.4F * em + 0.35F * half, 0.9F * em);
  const Point back{tip.x - way * reach, tip.y};
  f.canvas.shape({tip.x - way * reach * 0.5F, tip.y}, {{back.x, tip.y - half}, tip, {back.x, tip.y + half}}, colour);
}

}  // namespace

void draw_streams(Frame& f, const StageShape& shape, const Side& side, std::size_t i) {
  const SideShape& s = shape.side[i];
  const float em = f.em();
  const float floor = s.vessel.bottom();
  const float wall = wall_of(f);
  const look::Colour pale = look::mix(side.colour, f.palette.card, 0.66F);
  const bool is_c4 = side.which == stage::Which::c4;
  const look::Colour stripe = look::mix(pale, f.palette.card, 0.6F);
  // Ordinary wear, straight down.
  const float x = (s.ordinary.from + s.ordinary.to) / 2;
  std::vector<Point> down;
  const float end = shape.wear[i].y - 0.1F * em;
  const float throat = floor + throat_of(f);
  for (int k = 0; k <= 24; ++k) down.push_back({x, throat + (end - throat) * static_cast<float>(k) / 24.0F});
  funnel(f, down, s.ordinary.opening(), s.ordinary.width, 0.3F, pale);
  if (is_c4)
    draw::ribbon(f.canvas, {{x, floor + 0.3F * (end - floor)}, {x, end}}, s.ordinary.width, pale, &stripe, 0.6F * em);
  if (flows(f)) drops(f, {{x, floor + wall}, {x, end - 0.2F * em}}, s.ordinary.width, f.palette.card.with_alpha(0.8F));
  // What is beyond the usual opening.
  for (const Way& way : s.extra) {
    const Box& plate = shape.plates[way.plate].box;
    const float edge = s.mirrored ? plate.right() : plate.x;
    const float tip = edge - s.inwards() * 0.12F * em;
    const float stop = tip - s.inwards() * std::min(0.4F * em + 0.35F * (way.width / 2), 0.8F * em);
    // Out of the throat along its inner side, so that what opens wide and passes little still turns in one curve.
    const float width = std::max(1.0F, way.width);
    const float slope = 0.6F * em;
    const float start = way.to - s.inwards() * width / 2;
    const std::vector<Point> centre = towards_plate({start, throat + 0.5F * slope}, {stop, way.arrives});
    f.canvas.strip({{way.from, throat - 1}, {start - s.inwards() * width / 2, throat + slope}},
                   {{way.to, throat - 1}, {start + s.inwards() * width / 2, throat + slope}}, f.palette.complexes);
    funnel(f, centre, width, width, 1.0F, f.palette.complexes);
    drops(f, centre, way.width, f.palette.card.with_alpha(0.85F));
    arrow(f, {tip, way.arrives}, std::max(1.0F, way.width), s.inwards(), f.palette.complexes);
  }
}

void draw_side(Frame& f, const StageShape& shape, const Side& side, std::size_t i, const StageTexts& texts) {
  const SideShape& s = shape.side[i];
  const float em = f.em();
  const float wall = wall_of(f);
  const Box& v = s.vessel;
  const bool is_c4 = side.which == stage::Which::c4;
  const look::Colour stripe = look::mix(side.colour, f.palette.card, 0.45F);
  const look::Colour stone = look::mix(f.palette.line, f.palette.quiet, 0.45F);
  // What is gone, and the liquid.
  if (s.surface_y > s.usual_y) {
    f.canvas.fill({v.x, s.usual_y, v.w, s.surface_y - s.usual_y}, look::mix(f.palette.card, side.colour, 0.12F));
  }
  const Box liquid{v.x, s.surface_y, v.w, v.bottom() - s.surface_y};
  f.canvas.fill(liquid, side.colour);
  if (is_c4) draw::hatch(f.canvas, liquid, stripe, 0.75F * em, std::max(1.0F, 0.14F * em));
  if (s.above_scale) break_mark(f, {v.middle_x(), s.surface_y + 0.9F * em}, v.w);
  // The tap: from the liver along and down to the mouth, then falling to just above the liquid.
  const float x = s.tick_from + s.inwards() * shape.unit / 2;
  const float mouth = v.y + 0.3F * em;
  const float pipe = std::min(s.tap_width, shape.pipes.h);
  const float middle = shape.pipes.middle_y();
  const float from = shape.liver.x + (s.mirrored ? 0.6F : 0.3F) * shape.liver.w;
  const float bend = std::min(pipe / 2 + 0.35F * em, std::max(1.0F, mouth - middle - 1.0F));
  std::vector<Point> way{{from, middle}};
  for (int k = 0; k <= 12; ++k) {
    const float t = quarter_turn * static_cast<float>(k) / 12.0F;
    way.push_back({x + s.inwards() * bend * (1 - std::sin(t)), middle + bend * (1 - std::cos(t))});
  }
  way.push_back({x, mouth});
  draw::ribbon(f.canvas, way, pipe, side.colour, is_c4 ? &stripe : nullptr, 0.75F * em);
  const look::Colour falling = look::mix(side.colour, f.palette.card, 0.48F);
  const look::Colour faint = look::mix(falling, f.palette.card, 0.5F);
  const float end = std::max(mouth + 0.5F * em, s.surface_y - 0.18F * em);
  const auto fall = [&](float at, float width) {
    if (width < 1.0F) return;
    draw::ribbon(f.canvas, {{at, mouth}, {at, end}}, width, falling, is_c4 ? &faint : nullptr, 0.75F * em);
    if (flows(f)) drops(f, {{at, mouth}, {at, end}}, width, f.palette.card.with_alpha(0.7F));
  };
  fall(x, s.tap_width);
  if (s.given_width >= 1.0F) fall(x + s.inwards() * ((s.tap_width + s.given_width) / 2 + 0.5F * em), s.given_width);
  if (s.tap_broken) break_mark(f, {x, mouth + 0.8F * em}, s.tap_width + s.given_width);
  // Walls, and the floor but for the opening.
  f.canvas.fill({v.x - wall, v.y, wall, v.h + wall}, stone);
  f.canvas.fill({v.right(), v.y, wall, v.h + wall}, stone);
  const float a = std::min(s.opening_from, s.opening_to);
  const float b = std::max(s.opening_from, s.opening_to);
  f.canvas.fill({v.x, v.bottom(), a - v.x, wall}, stone);
  f.canvas.fill({b, v.bottom(), v.right() - b, wall}, stone);
  // Through the floor the parts of the opening show their colours.
  const look::Colour pale = look::mix(side.colour, f.palette.card, 0.66F);
  const auto gap = [&](const Way& w, const look::Colour& colour) {
    f.canvas.fill({std::min(w.from, w.to), v.bottom() - 0.5F, w.opening(), throat_of(f) + 1.0F}, colour);
    if (w.broken) break_mark(f, {(w.from + w.to) / 2, v.bottom() + throat_of(f) / 2}, w.opening());
  };
  gap(s.ordinary, pale);
  for (const Way& w : s.extra) gap(w, f.palette.complexes);
  // The same pair of ticks at tap and opening: one unit apart.
  for (const float y : {mouth - 0.15F * em, v.bottom() + throat_of(f) - 0.35F * em}) {
    for (const float tick : {s.tick_from, s.tick_to}) {
      f.canvas.line({{tick, y - 0.55F * em}, {tick, y + 0.75F * em}}, f.palette.ink, std::max(2.0F, 0.15F * em));
    }
  }
  // Said once on each side, inside the rim beside the tap.
  const std::string& label = f.words.at("picture.usual_width");
  const float edge = x + s.inwards() * (std::max(shape.unit, s.tap_width) / 2 + 0.5F * em);
  const float room = s.mirrored ? edge - v.x : v.right() - edge;
  if (texts.width && s.given_width < 1.0F && f.canvas.width(label, Type::small) + 0.3F * em <= room &&
      mouth + 1.3F * em < std::min(s.surface_y, s.usual_y)) {
    f.canvas.text({edge, mouth - 0.55F * em}, label, Type::small, f.palette.quiet,
                  s.mirrored ? draw::Align::right : draw::Align::left);
  }
  // The usual level, one height for both.
  f.canvas.line({{v.x - wall - 0.3F * em, s.usual_y}, {v.right() + wall + 0.3F * em, s.usual_y}}, f.palette.usual,
                std::max(1.5F, 0.13F * em), 0.4F * em);
}

void draw_before(Frame& f, const StageShape& now, const StageShape& before, std::size_t i) {
  const SideShape& s = now.side[i];
  const SideShape& old = before.side[i];
  const float em = f.em();
  const float thin = std::max(1.5F, 0.12F * em);
  const auto differ = [](float a, float b) { return std::abs(a - b) > 1.5F; };
  if (differ(s.surface_y, old.surface_y)) {
    f.canvas.line({{s.vessel.x, old.surface_y}, {s.vessel.right(), old.surface_y}}, f.palette.ink, thin);
  }
  const auto frame = [&](float a, float b, float top, float bottom) {
    f.canvas.line({{a, top}, {a, bottom}, {b, bottom}, {b, top}}, f.palette.ink, thin);
  };
  if (differ(s.opening_to, old.opening_to)) {
    frame(old.opening_from, old.opening_to, s.vessel.bottom(), s.vessel.bottom() + throat_of(f));
  }
  if (differ(s.tap_width, old.tap_width)) {
    const float x = (s.tick_from + s.tick_to) / 2;
    frame(x - old.tap_width / 2, x + old.tap_width / 2, s.vessel.y - 0.3F * em, s.vessel.y + 1.3F * em);
  }
}

}  // namespace drawdown::panels
