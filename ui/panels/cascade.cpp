// The cascade as a river: streams as wide as what is used of each protein, as a share of what the healthy body makes;
// guards as narrows, a block as a dam, the loop as a ring beside the trunk it feeds. Pointing at a part, or walking to
// it by Tab, tells it in the chosen depth; the deepest shows its equations and sources, read from the network.
#include <algorithm>
#include <cmath>

#include "panels/cascade_draw.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Point;
using draw::Type;

namespace {

// The edges of a stream whose width goes evenly from one end to the other. A broad one on a short way is measured
// upright: across its course it would fold.
draw::Edges edges_of(const std::vector<Point>& centre, double from, double to) {
  draw::Edges thin = draw::ribbon_edges(centre, 2.0F);  // one pixel to each side
  const bool forward = std::is_sorted(centre.begin(), centre.end(), [](Point a, Point b) { return a.x < b.x; });
  const auto length = static_cast<double>(centre.back().x - centre.front().x);
  if (forward && length > 1.0 && std::max(from, to) > 0.3 * length) {
    for (std::size_t i = 0; i < centre.size(); ++i) {
      thin.left[i] = {centre[i].x, centre[i].y - 1.0F};
      thin.right[i] = {centre[i].x, centre[i].y + 1.0F};
    }
  }
  const std::size_t n = centre.size();
  for (std::size_t i = 0; i < n; ++i) {
    const double s = n > 1 ? static_cast<double>(i) / static_cast<double>(n - 1) : 0.0;
    const auto half = static_cast<float>((from + (to - from) * s) / 2.0);
    const Point c = centre[i];
    thin.left[i] = {c.x + (thin.left[i].x - c.x) * half, c.y + (thin.left[i].y - c.y) * half};
    thin.right[i] = {c.x + (thin.right[i].x - c.x) * half, c.y + (thin.right[i].y - c.y) * half};
  }
  return thin;
}

float distance(Point p, Point a, Point b) {
  const float dx = b.x - a.x;
  const float dy = b.y - a.y;
  const float length = std::max(1e-3F, dx * dx + dy * dy);
  const float s = std::clamp(((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0.0F, 1.0F);
  return std::hypot(p.x - a.x - s * dx, p.y - a.y - s * dy);
}

}  // namespace

CascadeView::CascadeView(Frame& frame, const Box& whole)
    : f(frame),
      run(*frame.state.runs.now),
      flows(cascade_flows(frame.state.runs.now, std::min(frame.state.time.day, run.last_day()))),
      parts(flows.parts()),
      em(frame.em()),
      plain(frame.state.page.depth == look::Depth::plain),
      box(whole) {
  told_h = std::min((f.state.page.depth == look::Depth::mechanism ? 7.4F : 4.0F) * em, 0.26F * box.h);
  told = {box.x, box.bottom() - told_h, box.w, told_h};
  const float room = box.h - told_h - 0.6F * em;
  scale_h = room > 15.0F * em ? 1.7F * em : 0.0F;
  map = {box.x, box.y, box.w, room - scale_h};
  lines = map.h > 21.0F * em ? 3 : map.h > 13.5F * em ? 2 : 1;
  MapSetting setting;
  setting.box = map;
  setting.em = em;
  const float line = 1.15F * f.canvas.line_height(Type::strong);
  setting.words = f.canvas.line_height(Type::heading) + static_cast<float>(lines - 1) * line + 0.3F * em;
  float widest = 0.0F;
  for (std::size_t i = 0; i < parts.mains.size(); ++i) {
    if (plain) {
      if (i == 0) widest = std::max(widest, f.canvas.width(f.word("cascade.triggers"), Type::strong));
      for (const std::string& name : biggest(i)) widest = std::max(widest, f.canvas.width(name, Type::body));
      continue;
    }
    for (const Opener& opener : parts.mains[i].openers) {
      if (opener.source == Source::plate || opener.source == Source::loop) continue;
      widest = std::max(widest, f.canvas.width(opener_name(i, opener), Type::small));
    }
    for (const Helper& helper : parts.helpers)
      widest = std::max(widest, f.canvas.width(name_of(helper.key, helper.species), Type::small));
  }
  setting.triggers = std::min(widest + 0.6F * em, 0.25F * map.w);
  setting.plate = 0.0F;
  if (!plain && map.w > 40.0F * em) {
    for (const Main& main : parts.mains) {
      for (const std::string& row :
           f.canvas.wrapped(said("cascade.plate." + main.key, main.key), Type::small, 4.2F * em))
        setting.plate = std::max(setting.plate, f.canvas.width(row, Type::small) + 0.8F * em);
    }
    setting.plate = std::min(setting.plate, 6.0F * em);
  }
  plain = setting.plate <= 0.0F;
  m = lay_out(flows, setting);
}

void CascadeView::draw() {
  find_pointed();
  f.canvas.clip(box);
  for (const auto kind : {Stream::Kind::helper, Stream::Kind::cause, Stream::Kind::seeps, Stream::Kind::used}) {
    for (const Stream& s : m.streams) {
      if (s.kind == kind) draw_stream(s, static_cast<int>(s.part) == pointed);
    }
  }
  if (m.loop) draw_ring_heads();
  for (const Stream& s : m.streams) draw_motion(s);
  for (const Reach& r : m.reaches) {
    const float h = std::max(r.bar, 1.1F * em) + 0.4F * em;
    f.canvas.fill({r.at.x - 0.16F * em, r.at.y - h / 2, 0.32F * em, h}, f.palette.ink, 0.1F * em);
  }
  if (plain) draw_mouth();
  for (const Narrows& n : m.narrows) draw_narrows(n);
  for (const Dam& d : m.dams) draw_dam(d);
  if (focus) focus_ring(f, *focus, 0.5F * em);
  f.canvas.unclip();
  write_plates();
  for (std::size_t i = 0; i < parts.mains.size(); ++i) write_reach(i);
  write_dams();
  write_triggers();
  write_loop();
  write_guards();
  write_helpers();
  write_scale();
  tell();
}

void CascadeView::find_pointed() {
  const Point mouse = f.interaction.input().mouse;
  for (std::size_t i = 0; i < m.parts.size(); ++i) {
    const Point at = m.parts[i].at;
    if (at.x == 0 && at.y == 0) continue;
    const Box spot{at.x - 0.8F * em, at.y - 0.8F * em, 1.6F * em, 1.6F * em};
    const auto r = f.interaction.control("cascade." + part_key(m.parts[i]), spot);
    if (r.focused) pointed = static_cast<int>(i);
    if (r.show_focus) focus = spot;
  }
  if (!f.interaction.enabled() || !box.holds(mouse)) return;
  float nearest = 0.7F * em;
  int hovered = -1;
  const auto offer = [&](float d, std::size_t part) {
    if (!(d < nearest)) return;
    nearest = d;
    hovered = static_cast<int>(part);
  };
  for (const Stream& s : m.streams) {
    const auto half = static_cast<float>(std::max(s.from.now, s.from.health) / 2);
    for (std::size_t k = 1; k < s.centre.size(); ++k) {
      const float d = distance(mouse, s.centre[k - 1], s.centre[k]) - half;
      // Inside, the thinner one of two that lie on each other.
      offer(d < 0 ? 0.01F * half : d, s.part);
    }
  }
  for (std::size_t i = 0; i < m.parts.size(); ++i) {
    const MapPart::Kind kind = m.parts[i].kind;
    if (kind != MapPart::Kind::guard && kind != MapPart::Kind::aide) continue;
    offer(0.5F * std::hypot(mouse.x - m.parts[i].at.x, mouse.y - m.parts[i].at.y), i);
  }
  if (hovered >= 0) pointed = hovered;
}

look::Colour CascadeView::colour_of(body::ProteinId protein) const {
  const auto& known = parts.model->known();
  if (protein == known.c3) return f.palette.c3;
  if (protein == known.c4) return f.palette.c4;
  return look::mix(f.palette.quiet, f.palette.card, 0.15F);
}

// Light where it opens, full where it is used. Where there is less than in health the dry bed shows; where there is
// more, dashes in the water mark how wide it is in health.
void CascadeView::draw_stream(const Stream& s, bool chosen) {
  const look::Colour full = colour_of(s.protein);
  const bool helper = s.kind == Stream::Kind::helper;
  look::Colour colour = s.kind == Stream::Kind::used ? full : look::mix(full, f.palette.card, helper ? 0.72F : 0.45F);
  if (s.kind == Stream::Kind::seeps) colour = full;
  const look::Colour bed = look::mix(full, f.palette.card, 0.84F);
  const auto band = [&](double from, double to, const look::Colour& c) {
    const draw::Edges e = edges_of(s.centre, from, to);
    f.canvas.strip(e.left, e.right, c);
  };
  const bool c4 = s.protein == parts.model->known().c4;
  if (s.kind == Stream::Kind::seeps) {
    // By slices, each fainter than the one before.
    const int n = 20;
    const Point a = s.centre.front();
    const Point b = s.centre.back();
    const double low = std::max(s.to.now, 0.25 * s.from.now);
    // Ends on whole pixels, so that no two lie on each other.
    const auto at = [&](float t) { return std::round(a.x + (b.x - a.x) * t); };
    const auto width = [&](float along) {
      const auto t = static_cast<double>(along);
      return s.from.now + (low - s.from.now) * t * t * (3 - 2 * t);
    };
    for (int k = 0; k < n && s.from.now > 1.5; ++k) {
      const float t0 = static_cast<float>(k) / n;
      const float t1 = static_cast<float>(k + 1) / n;
      if (at(t1) - at(t0) < 1.0F) continue;
      const draw::Edges e = edges_of({{at(t0), a.y}, {at(t1), a.y}}, width(t0), width(t1));
      f.canvas.strip(e.left, e.right, colour.with_alpha(1.0F - 0.94F * t0));
    }
    return;
  }
  if (s.from.health > s.from.now + 0.5) band(s.from.health, s.to.health, bed);
  if (std::max(s.from.now, s.from.health) < 1.2) {
    f.canvas.line(s.centre, full, std::max(1.2F, 0.08F * em), 0.25F * em);
  } else if (s.from.now > 0.3) {
    const double from = std::max(s.from.now, 1.2);
    if (c4 && s.from.now == s.to.now && from > 0.4 * static_cast<double>(em)) {
      const look::Colour stripe =
          s.kind == Stream::Kind::cause ? look::mix(f.palette.hatch, f.palette.card, 0.3F) : f.palette.hatch;
      draw::ribbon(f.canvas, s.centre, static_cast<float>(from), colour, &stripe, 0.8F * em);
    } else {
      band(from, std::max(s.to.now, 1.0), colour);
    }
    if (helper) {
      const draw::Edges e = edges_of(s.centre, from, std::max(s.to.now, 1.0));
      f.canvas.line(e.left, look::mix(full, f.palette.card, 0.3F), 1.2F);
      f.canvas.line(e.right, look::mix(full, f.palette.card, 0.3F), 1.2F);
    }
    if (s.from.now > 1.15 * s.from.health && s.from.now - s.from.health > 3.0) {
      const draw::Edges e = edges_of(s.centre, s.from.health, s.to.health);
      const look::Colour bank = s.kind == Stream::Kind::used ? f.palette.card : full;
      f.canvas.line(e.left, bank, std::max(1.5F, 0.1F * em), 0.35F * em);
      if (s.from.health > 4.0) f.canvas.line(e.right, bank, std::max(1.5F, 0.1F * em), 0.35F * em);
    }
  }
  if (!chosen) return;
  const draw::Edges e = edges_of(s.centre, std::max(s.from.now, 2.0) + 4.0, std::max(s.to.now, 2.0) + 4.0);
  f.canvas.line(e.left, f.palette.ink, std::max(1.5F, 0.12F * em));
  f.canvas.line(e.right, f.palette.ink, std::max(1.5F, 0.12F * em));
}

// Specks drift along while time plays: the same pace and spacing everywhere, for the width says how much.
void CascadeView::draw_motion(const Stream& s) {
  if (!f.state.time.playing || f.state.look.reduced_motion) return;
  if (s.kind == Stream::Kind::seeps || s.from.now < 1.2) return;
  const float gap = 2.4F * em;
  const auto pace = static_cast<float>(std::fmod(f.seconds * 1.6, 2.4)) * em;
  const float size = std::clamp(static_cast<float>(s.from.now) * 0.12F, 1.0F, 0.17F * em);
  float along = -pace;
  for (std::size_t k = 1; k < s.centre.size(); ++k) {
    const Point a = s.centre[k - 1];
    const Point b = s.centre[k];
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    // The next speck lies where what was walked so far is a whole number of gaps.
    float at = std::ceil(along / gap) * gap - along;
    for (; at < length; at += gap) {
      const float t = at / std::max(1e-3F, length);
      f.canvas.dot({a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t}, size, f.palette.card.with_alpha(0.9F));
    }
    along += length;
  }
}

void CascadeView::draw_ring_heads() {
  const Stream& ring = m.streams[m.ring];
  const std::size_t n = ring.centre.size();
  const float z = std::clamp(static_cast<float>(ring.from.now) * 0.3F, 0.28F * em, 0.75F * em);
  for (const std::size_t k : {std::size_t{13}, n - 13}) {
    const Point a = ring.centre[k - 1];
    const Point b = ring.centre[k];
    const float length = std::max(1e-3F, std::hypot(b.x - a.x, b.y - a.y));
    const Point u{(b.x - a.x) / length * z, (b.y - a.y) / length * z};
    f.canvas.shape({b.x, b.y},
                   {{b.x - 0.7F * u.x - u.y, b.y - 0.7F * u.y + u.x},
                    {b.x + u.x, b.y + u.y},
                    {b.x - 0.7F * u.x + u.y, b.y - 0.7F * u.y - u.x}},
                   f.palette.ink);
  }
}

// Where no plate ends the river, a head says which way it runs.
void CascadeView::draw_mouth() {
  for (std::size_t i = 0; i < m.reaches.size(); ++i) {
    if (parts.mains[i].column + 1 != parts.columns) continue;
    const Reach& r = m.reaches[i];
    const float h = 0.5F * em + static_cast<float>(flows.goes_on(parts.mains[i]).now) * m.full / 2;
    const Point tip{r.end + 0.2F * em, r.at.y};
    f.canvas.shape({tip.x - 0.4F * em, tip.y}, {{tip.x - 0.8F * em, tip.y - h}, tip, {tip.x - 0.8F * em, tip.y + h}},
                   colour_of(parts.mains[i].protein));
  }
}

// Two points of land: as large as the guard is plentiful, and the further off the longer what it ends lasts.
void CascadeView::draw_narrows(const Narrows& n) {
  const Guard& guard = parts.guards[n.guard];
  const auto lasts = static_cast<float>(std::clamp(flows.lasts(guard), 0.3, 6.0));
  if (plain && flows.of_healthy(guard.species) > 0.75 && lasts < 1.5F) return;
  const auto k = static_cast<float>(std::sqrt(std::clamp(flows.of_healthy(guard.species), 0.1, 1.8)));
  const float off = 0.22F * em * lasts;
  const float large = std::clamp(0.35F * m.full, 0.5F * em, em);
  const bool chosen = pointed >= 0 && m.parts[static_cast<std::size_t>(pointed)].kind == MapPart::Kind::guard &&
                      m.parts[static_cast<std::size_t>(pointed)].index == n.guard;
  const look::Colour land = chosen ? f.palette.ink : f.palette.quiet;
  for (const float side : {-1.0F, 1.0F}) {
    const auto point = [&](float o, float size, std::vector<Point>& out) {
      const float tip = n.at.y + side * (n.half + o);
      const float base = tip + side * large * size;
      out = {{n.at.x - 0.75F * large * size, base}, {n.at.x, tip}, {n.at.x + 0.75F * large * size, base}};
    };
    std::vector<Point> usual;
    point(0.22F * em, 1.0F, usual);
    if (std::abs(k - 1.0F) > 0.05F || lasts > 1.3F) f.canvas.line(usual, f.palette.quiet, 1.2F, 0.2F * em);
    std::vector<Point> now;
    point(off, k, now);
    f.canvas.shape({n.at.x, (now[0].y * 2 + now[1].y) / 3}, now, land);
  }
}

void CascadeView::draw_dam(const Dam& dam) {
  const Box& b = dam.box;
  const float gap = dam.free * b.h;
  const float wall = (b.h - gap) / 2;
  f.canvas.fill({b.x, b.y, b.w, wall}, f.palette.ink, 0.12F * em);
  f.canvas.fill({b.x, b.bottom() - wall, b.w, wall}, f.palette.ink, 0.12F * em);
  for (float y = b.y + 0.5F * em; y < b.bottom() - 0.3F * em; y += 0.6F * em) {
    if (std::abs(y - b.middle_y()) < gap / 2) continue;
    f.canvas.fill({b.x, y, b.w, std::max(1.0F, 0.1F * em)}, f.palette.card.with_alpha(0.6F));
  }
}

void draw_cascade(Frame& f, const Box& box) {
  card(f, box);
  CascadeView(f, box.inset(0.9F * f.em(), 0.7F * f.em())).draw();
}

}  // namespace drawdown::panels
