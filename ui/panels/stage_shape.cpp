// Boxes and widths of the opening picture.
#include "panels/stage_shape.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace drawdown::panels {

using draw::Box;

SideNumbers side_numbers(const readout::Tokens& tokens, const readout::AccountOf& account) {
  SideNumbers n;
  n.level = account.against_usual;
  n.made = account.tap;
  n.given = account.given;
  n.volume = account.volume;
  n.from_tissue = account.from_tissue;
  n.ordinary = 0.0;
  n.extra.assign(tokens.size(), 0.0);
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    const double usual = std::min(account.drain_parts[t], account.usual_parts[t]);
    n.ordinary += usual;
    n.extra[t] = account.drain_parts[t] - usual;
  }
  return n;
}

namespace {

constexpr float share_of_pipes = 0.21F;  // of the room under the verdict
constexpr float share_of_vessel = 0.42F;
constexpr float plate_most = 5.0F;  // em
constexpr float rim = 1.08F;        // the walls stand so much higher than the scale

struct Placing {
  const Box& area;
  const StageRoom& room;
  StageShape& s;
  float floor = 0, bottom = 0;

  void columns(const std::array<SideNumbers, 2>& of) {
    const float em = room.em;
    const float top = area.y + room.verdict + 0.4F * em;
    s.verdict = {area.x, area.y, area.w, room.verdict};
    bottom = area.bottom();
    if (room.texts.note) {
      s.note = {area.x, area.bottom() - 1.15F * em, area.w, 1.15F * em};
      bottom -= 1.5F * em;
    }
    const float rest = bottom - top;
    const float outer = std::clamp(0.14F * area.w, 5.6F * em, 10.5F * em);
    const float vessel = std::clamp(0.17F * area.w, 6.6F * em, 15 * em);
    s.unit = std::min(vessel / 4.5F, 0.5F * share_of_pipes * rest);
    s.pipes = {area.x, top, area.w, share_of_pipes * rest};
    const float rim_y = s.pipes.bottom() + 0.1F * em;
    floor = rim_y + share_of_vessel * rest;
    const float centre = area.w - 2 * (outer + vessel);
    const float liver = std::clamp(0.5F * centre, 6 * em, 15 * em);
    s.liver = {area.middle_x() - liver / 2, top, liver, std::min(0.62F * liver, s.pipes.h + 1.6F * em)};
    for (std::size_t i = 0; i < 2; ++i) {
      SideShape& side = s.side[i];
      side.mirrored = i == 1;
      // More plasma, a wider vessel, inwards as far as there is room.
      const float most = vessel + std::max(0.0F, 0.5F * (centre - 20 * em));
      const float w = std::clamp(vessel * static_cast<float>(of[i].volume), 0.6F * vessel, most);
      const float outside = side.mirrored ? area.right() - outer : area.x + outer;
      side.vessel = {side.mirrored ? outside - w : outside, rim_y, w, floor - rim_y};
      s.outer[i] = {side.mirrored ? outside + 0.5F * em : area.x, rim_y - 0.6F * em, outer - 0.5F * em, 0};
      s.outer[i].h = bottom - s.outer[i].y;
      const float inside = side.mirrored ? side.vessel.x - 0.7F * em : side.vessel.right() + 0.7F * em;
      const float middle = area.middle_x() + (side.mirrored ? 0.4F : -0.4F) * em;
      s.beside[i] = {std::min(inside, middle), rim_y, std::abs(middle - inside), side.vessel.h};
    }
  }

  void levels(SideShape& side, const SideNumbers& n) const {
    const float usual = side.vessel.h / (rim * most_high);
    side.usual_y = floor - usual;
    side.above_scale = n.level > static_cast<double>(most_high);
    side.surface_y = side.y_of(n.level);
    side.tick_from =
        side.mirrored ? side.vessel.right() - 0.08F * side.vessel.w : side.vessel.x + 0.08F * side.vessel.w;
    side.tick_to = side.tick_from + side.inwards() * s.unit;
    const double in = n.in();
    const float scale = in > static_cast<double>(most_open) ? most_open / static_cast<float>(in) : 1.0F;
    side.tap_broken = scale < 1.0F;
    side.tap_width = scale * s.unit * static_cast<float>(std::max(0.0, n.made));
    side.given_width = scale * s.unit * static_cast<float>(std::max(0.0, n.given));
  }

  // What a plate takes of the opening, and what of it is drawn: all of it, but for the widest where the whole would be
  // over most_open; a way under least_way is not drawn.
  struct Drawn {
    double ordinary = 0.0;
    std::vector<double> by_plate;
    double cut = 1.0;  // the widest is drawn so much narrower
    std::size_t widest = 0;
  };
  [[nodiscard]] Drawn drawn_of(const SideNumbers& n) const {
    Drawn d;
    d.ordinary = std::max(0.0, n.ordinary);
    double all = d.ordinary;
    for (const Plate& plate : s.plates) {
      double share = 0.0;
      for (const std::size_t token : plate.tokens) share += n.extra[token];
      if (share < least_way) share = 0.0;
      if (!d.by_plate.empty() && share > d.by_plate[d.widest]) d.widest = d.by_plate.size();
      d.by_plate.push_back(share);
      all += share;
    }
    // What is too small to be drawn is in no plate: the opening as a whole stays true.
    d.ordinary += n.drain() - all;
    all = std::max(0.0, n.drain());
    const double over = std::max(all, n.stream(all)) - static_cast<double>(most_open);
    if (over > 0.0 && !d.by_plate.empty() && d.by_plate[d.widest] > 0.0) {
      const double left = all - over > 0.0 ? d.by_plate[d.widest] - over : 0.0;
      d.cut = std::max(left, 0.5) / d.by_plate[d.widest];
    }
    return d;
  }

  void ways(SideShape& side, const SideNumbers& n) const {
    const Drawn d = drawn_of(n);
    side.opening_broken = d.cut < 1.0;
    float x = side.tick_from;
    const auto way = [&](double share) {
      Way w;
      w.from = x;
      x += side.inwards() * s.unit * static_cast<float>(share);
      w.to = x;
      w.width = s.unit * static_cast<float>(n.stream(share));
      return w;
    };
    side.opening_from = x;
    side.ordinary = way(d.ordinary);
    // The lowest plate's opening is the outermost: so the streams do not cross.
    for (std::size_t p = s.plates.size(); p-- > 0;) {
      if (d.by_plate[p] <= 0.0) continue;
      Way w = way(d.by_plate[p] * (p == d.widest ? d.cut : 1.0));
      w.plate = p;
      w.broken = p == d.widest && d.cut < 1.0;
      w.arrives = s.plates[p].box.middle_y();
      if (w.broken) w.width = std::min(w.width, 1.2F * s.plates[p].box.h);
      side.extra.push_back(w);
    }
    side.opening_to = x;
  }

  void plates(const std::array<SideNumbers, 2>& of) {
    const float em = room.em;
    const float inner = s.side[1].vessel.x - s.side[0].vessel.right();
    const float w = std::clamp(0.56F * inner, 9.5F * em, 19 * em);
    s.heading = {area.middle_x() - inner / 2, floor + 0.1F * em, inner, 1.3F * em};
    const float top = room.texts.heading ? s.heading.bottom() + 0.25F * em : floor + 0.7F * em;
    const float gap = 0.4F * em;
    const auto n = static_cast<float>(std::max<std::size_t>(1, s.plates.size()));
    const float height = (bottom - top - gap * (n - 1)) / n;
    std::vector<float> wants;
    while (wants.size() < s.plates.size()) {
      float widest = 0;
      for (std::size_t i = 0; i < 2; ++i) {
        const Drawn d = drawn_of(of[i]);
        const std::size_t p = wants.size();
        const double share = d.by_plate[p] * (p == d.widest ? d.cut : 1.0);
        widest = std::max(widest, s.unit * static_cast<float>(of[i].stream(share)));
      }
      wants.push_back(std::clamp(widest + 0.4F * em, 2.6F * em, plate_most * em));
    }
    const float all = std::accumulate(wants.begin(), wants.end(), gap * (n - 1));
    const float shrink = std::min(1.0F, (bottom - top) / std::max(1.0F, all));
    float y = top;
    for (std::size_t p = 0; p < s.plates.size(); ++p) {
      const float h = shrink < 1.0F ? std::min(wants[p] * shrink, std::max(height, wants[p] * shrink)) : wants[p];
      s.plates[p].box = {area.middle_x() - w / 2, y, w, h};
      y += h + gap * shrink;
    }
    for (std::size_t i = 0; i < 2; ++i) {
      const SideShape& side = s.side[i];
      const float wide = std::min(8.4F * em, side.vessel.w + 1.2F * em);
      const float middle = (side.tick_from + side.tick_to) / 2;
      const float x = std::clamp(middle - wide / 2, area.x, area.right() - wide);
      s.wear[i] = {x, room.texts.wear ? bottom - 1.55F * em : bottom, wide, 1.5F * em};
    }
  }
};

}  // namespace

StageShape shape_of(const SideNumbers& c3, const SideNumbers& c4, std::vector<Plate> plates, const Box& area,
                    const StageRoom& room) {
  StageShape s;
  s.plates = std::move(plates);
  const std::array<SideNumbers, 2> of{c3, c4};
  Placing placing{area, room, s};
  placing.columns(of);
  for (std::size_t i = 0; i < 2; ++i) placing.levels(s.side[i], of[i]);
  placing.plates(of);
  for (std::size_t i = 0; i < 2; ++i) placing.ways(s.side[i], of[i]);
  return s;
}

}  // namespace drawdown::panels
