// The cascade: levels as filled circles, steps as arrows whose width is the flux, guards that hold them, and the
// amplification loop as a ring that tightens as its gain nears one. Pointing at a step, or walking to it by Tab, tells
// it in the chosen depth; the deepest shows its equation and source, read from the network.
#include <algorithm>
#include <cmath>

#include "panels/cascade_map.hpp"
#include "panels/panels.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

namespace {

class Map {
 public:
  Map(Frame& frame, const Box& b)
      : f(frame), run(*frame.state.runs.now), em(frame.em()), box(b), found(map_found(run.body().model)) {
    const double day = std::min(f.state.time.day, run.last_day());
    state = run.state(day);
    rates = body::reaction_rates(run.body(), state, run.levers(day));
    told_h = std::min((f.state.page.depth == look::Depth::mechanism ? 8.2F : 4.4F) * em, 0.3F * box.h);
    map = {box.x + 2.4F * em, box.y + 1.6F * em, box.w - 4.8F * em, box.h - told_h - 3.4F * em};
    radius = std::clamp(0.066F * std::min(map.w, 1.85F * map.h), 0.9F * em, 3.4F * em);
  }

  void draw() {
    find_pointed();
    draw_loop();
    const auto& arrows = map_arrows();
    for (std::size_t i = 0; i < arrows.size(); ++i) draw_arrow(i, static_cast<int>(i) == pointed);
    for (int i = 0; i < node_count; ++i) draw_node(i);
    tell();
  }

 private:
  [[nodiscard]] double flux(const std::vector<double>& of, std::size_t arrow) const {
    double sum = 0.0;
    for (const body::ReactionId id : found.reactions[arrow]) sum += of[id];
    return sum;
  }
  [[nodiscard]] Point at(int node) const {
    const MapNode& n = map_nodes()[static_cast<std::size_t>(node)];
    return {map.x + n.x * map.w, map.y + n.y * map.h};
  }
  [[nodiscard]] float size(int node) const {
    return map_nodes()[static_cast<std::size_t>(node)].regulator ? 0.72F * radius : radius;
  }

  // The arrow's line from rim to rim.
  [[nodiscard]] std::vector<Point> path(const MapArrow& arrow) const {
    const Point a = at(arrow.from);
    const Point b = at(arrow.to);
    const float dx = b.x - a.x;
    const float dy = b.y - a.y;
    const float length = std::max(1.0F, std::hypot(dx, dy));
    const Point middle{(a.x + b.x) / 2 + dy * arrow.bend, (a.y + b.y) / 2 - dx * arrow.bend};
    std::vector<Point> points;
    const float from = (size(arrow.from) + 0.2F * em) / length;
    const float to = 1.0F - (size(arrow.to) + 0.7F * em) / length;
    for (int i = 0; i <= 24; ++i) {
      const float s = from + (to - from) * static_cast<float>(i) / 24.0F;
      const float r = 1 - s;
      points.push_back(
          {r * r * a.x + 2 * r * s * middle.x + s * s * b.x, r * r * a.y + 2 * r * s * middle.y + s * s * b.y});
    }
    return points;
  }

  void find_pointed() {
    const auto& arrows = map_arrows();
    const Point mouse = f.interaction.input().mouse;
    float nearest = 0.9F * em;
    for (std::size_t i = 0; i < arrows.size(); ++i) {
      const auto points = path(arrows[i]);
      const Point middle = points[points.size() / 2];
      const Box spot{middle.x - 0.9F * em, middle.y - 0.9F * em, 1.8F * em, 1.8F * em};
      const auto r = f.interaction.control(std::string("cascade.") + arrows[i].key, spot);
      if (r.focused) pointed = static_cast<int>(i);
      if (r.show_focus) focus_ring(f, spot, 0.5F * em);
      if (!f.interaction.enabled()) continue;
      for (const Point& p : points) {
        const float d = std::hypot(p.x - mouse.x, p.y - mouse.y);
        if (d < nearest) {
          nearest = d;
          hovered = static_cast<int>(i);
        }
      }
    }
    if (hovered >= 0) pointed = hovered;
  }

  [[nodiscard]] look::Colour colour_of(const MapArrow& arrow) const {
    if (arrow.from == c4 || arrow.from == c2 || arrow.from == c1) return f.palette.c4;
    if (arrow.from == c5) return f.palette.complexes;
    return f.palette.c3;
  }

  void draw_arrow(std::size_t index, bool chosen) {
    const MapArrow& arrow = map_arrows()[index];
    const auto points = path(arrow);
    const bool guard = map_nodes()[static_cast<std::size_t>(arrow.from)].regulator;
    look::Colour colour = guard ? f.palette.quiet : colour_of(arrow);
    // Fluxes span four decades: width goes with the fourth root.
    const double now = flux(rates, index);
    float width = arrow.acts ? std::max(1.5F, 0.1F * em)
                             : std::clamp(static_cast<float>(std::pow(std::max(now, 0.0) / 30.0, 0.25)) * 0.75F * em,
                                          1.5F, 1.3F * em);
    if (now < 1e-6) colour = look::mix(colour, f.palette.card, 0.6F);
    if (chosen) width += 0.22F * em;
    if (arrow.acts) {
      f.canvas.line(points, colour, width, 0.4F * em);
    } else {
      draw::ribbon(f.canvas, points, width, chosen ? colour : look::mix(colour, f.palette.card, 0.12F), nullptr, 1);
    }
    const Point tip = points.back();
    const Point before = points[points.size() - 4];
    const float length = std::max(0.1F, std::hypot(tip.x - before.x, tip.y - before.y));
    const Point along{(tip.x - before.x) / length, (tip.y - before.y) / length};
    if (guard) {
      // A guard holds: a bar across instead of a head.
      const float h = 0.55F * em;
      f.canvas.line({{tip.x - along.y * h, tip.y + along.x * h}, {tip.x + along.y * h, tip.y - along.x * h}}, colour,
                    std::max(2.0F, 0.2F * em));
    } else {
      const float h = width / 2 + 0.32F * em;
      const float reach = h * 1.25F;
      f.canvas.shape({tip.x + along.x * reach * 0.3F, tip.y + along.y * reach * 0.3F},
                     {{tip.x - along.y * h, tip.y + along.x * h},
                      {tip.x + along.x * reach, tip.y + along.y * reach},
                      {tip.x + along.y * h, tip.y - along.x * h}},
                     colour);
    }
    if (!arrow.acts && f.state.time.playing && !f.state.look.reduced_motion && now > 1e-6) {
      for (int k = 0; k < 3; ++k) {
        const double turn = f.seconds * 0.5 + k / 3.0;
        const auto s = static_cast<std::size_t>((turn - std::floor(turn)) * static_cast<double>(points.size() - 1));
        f.canvas.dot(points[s], std::max(1.5F, 0.16F * em), f.palette.card.with_alpha(0.85F));
      }
    }
  }

  // New C3b per C3b: what the loop adds over all C3b that is made.
  [[nodiscard]] double loop_gain(const std::vector<double>& of) const {
    double loop = 0.0;
    double all = 0.0;
    for (const body::ReactionId id : found.loop) loop += of[id];
    for (const body::ReactionId id : found.all_c3b) all += of[id];
    return all > 0.0 ? loop / all : 0.0;
  }

  // A ring round C3b and the enzyme it makes: narrower and stronger as the gain nears one.
  void draw_loop() {
    const double gain = loop_gain(rates);
    const Point a = at(c3b);
    const Point b = at(c3bbb);
    const Point centre{(a.x + b.x) / 2, (a.y + b.y) / 2};
    const float reach = std::hypot(b.x - a.x, b.y - a.y) / 2;
    const float loose = reach + radius + 1.5F * em;
    const float tight = reach + radius * 0.4F;
    const auto g = static_cast<float>(std::clamp(gain, 0.0, 1.0));
    const float r = loose + (tight - loose) * g;
    f.canvas.ring(centre, r, look::mix(f.palette.line, f.palette.mark, g * g),
                  std::max(1.5F, (0.12F + 0.4F * g * g) * em));
    const std::string text = f.words.fill("cascade.gain", {look::number(gain, 2)});
    // To the right of the ring, between the attack complex and factor H.
    const float w = f.canvas.width(text, Type::strong) + 0.8F * em;
    const float x = std::min(centre.x + r + 0.5F * em, box.right() - w);
    const float y = centre.y - 0.75F * em;
    f.canvas.fill({x, y, w, 1.5F * em}, f.palette.card.with_alpha(0.92F), 0.3F * em);
    f.canvas.text({x + 0.4F * em, y + 0.2F * em}, text, Type::strong, gain > 0.8 ? f.palette.mark : f.palette.ink);
  }

  void draw_node(int index) {
    const MapNode& n = map_nodes()[static_cast<std::size_t>(index)];
    const Point c = at(index);
    const float r = size(index);
    const body::SpeciesId species = found.nodes[static_cast<std::size_t>(index)];
    const double usual = run.usual_state()[species];
    f.canvas.dot(c, r, f.palette.card);
    if (!n.product && usual > 0.0) {
      // Filled from the bottom to its share of the usual level (full = one and a half).
      const auto share = static_cast<float>(std::clamp(state[species] / usual / 1.5, 0.0, 1.0));
      std::vector<Point> left;
      std::vector<Point> right;
      const float top = c.y + r - 2 * r * share;
      for (int i = 0; i <= 16; ++i) {
        const float y = top + (c.y + r - top) * static_cast<float>(i) / 16.0F;
        const float half = std::sqrt(std::max(0.0F, r * r - (y - c.y) * (y - c.y)));
        left.push_back({c.x - half, y});
        right.push_back({c.x + half, y});
      }
      const look::Colour ink = index == c4 || index == c2 || index == c1 ? f.palette.c4 : f.palette.c3;
      f.canvas.strip(left, right, look::mix(n.regulator ? f.palette.quiet : ink, f.palette.card, 0.68F));
    } else {
      f.canvas.dot(c, r, look::mix(f.palette.raised, f.palette.card, 0.3F));
    }
    f.canvas.ring(c, r, n.regulator ? f.palette.quiet : f.palette.ink, std::max(1.5F, 0.12F * em));
    const bool figure = !n.product && r > 2.1F * em;
    const Type type = f.canvas.width(n.name, Type::strong) < 1.8F * r ? Type::strong : Type::small;
    const float lh = f.canvas.line_height(type);
    // On a plate where the name is wider than its circle.
    const float w = f.canvas.width(n.name, type) + 0.3F * em;
    if (w > 1.9F * r) f.canvas.fill({c.x - w / 2, c.y - lh / 2, w, lh}, f.palette.card.with_alpha(0.85F), 0.2F * em);
    f.canvas.text({c.x, c.y - (figure ? lh : lh / 2)}, n.name, type, f.palette.ink, Align::centre);
    if (figure) {
      f.canvas.text({c.x, c.y + 0.1F * em},
                    f.words.fill("numbers.percent", {look::number(100 * state[species] / usual, 0)}), Type::small,
                    f.palette.ink, Align::centre);
    }
  }

  // What the pointed step is, below the map.
  void tell() {
    const Box told{box.x, box.bottom() - told_h, box.w, told_h};
    f.canvas.fill(told, f.palette.notice, 0.5F * em);
    const Box inner = told.inset(1.0F * em, 0.6F * em);
    if (pointed < 0) {
      f.canvas.paragraph(inner, f.word("cascade.hint"), Type::body, f.palette.quiet, 3);
      return;
    }
    const auto index = static_cast<std::size_t>(pointed);
    const MapArrow& arrow = map_arrows()[index];
    const double now = flux(rates, index);
    std::string text = f.words.at(std::string("cascade.") + arrow.key);
    if (f.state.page.depth != look::Depth::plain) {
      const double usual = flux(body::reaction_rates(run.body(), run.usual_state(), run.usual_levers()), index);
      text += " " + f.words.fill("cascade.flux",
                                 {look::number(now, now < 10 ? 2 : 0), look::number(usual, usual < 10 ? 2 : 0)});
    }
    float y = inner.y + f.canvas.paragraph(inner, text, Type::strong, f.palette.ink, 3) + 0.3F * em;
    if (f.state.page.depth != look::Depth::mechanism) return;
    for (const body::ReactionId id : found.reactions[index]) {
      const network::Reaction& reaction = run.body().network.reactions[id];
      const std::string line = reaction.name + " = " + network::rate_text(run.body().network, reaction) + "  [" +
                               reaction.constant.source + "]";
      const float h = f.canvas.line_height(Type::small) * 1.2F;
      if (y + h > inner.bottom() + 0.2F * em) return;
      f.canvas.fitted({inner.x, y, inner.w, h}, line, Type::small, f.palette.quiet);
      y += h;
    }
  }

  Frame& f;
  const Run& run;
  float em;
  Box box, map;
  float told_h = 0, radius = 0;
  std::vector<double> state, rates;
  const MapFound& found;
  int pointed = -1;
  int hovered = -1;
};

}  // namespace

void draw_cascade(Frame& f, const Box& box) {
  card(f, box);
  Map(f, box.inset(0.9F * f.em(), 0.7F * f.em())).draw();
}

}  // namespace drawdown::panels
