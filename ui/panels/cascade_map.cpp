#include "panels/cascade_map.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::panels {

using draw::Box;
using draw::Point;

namespace {

// A source at a bar: an opener, or several as one.
struct Inflow {
  Source source = Source::trigger;
  std::size_t part = 0;
  std::size_t main = 0;  // whose plate
  Amount width;
  float slot = 0;  // its middle at the bar
  bool shown = true;
};

class Layout {
 public:
  Layout(const CascadeFlows& flows, const MapSetting& setting)
      : f_(flows), p_(flows.parts()), s_(setting), em_(setting.em), plain_(setting.plate <= 0.0F) {}

  CascadeMap draw() {
    find_rows();
    find_columns();
    ends_.assign(p_.mains.size(), {});
    for (std::size_t i = 0; i < p_.mains.size(); ++i) reach(i);
    return std::move(m_);
  }

 private:
  [[nodiscard]] Amount pixels(const Amount& share) const {
    const auto k = static_cast<double>(m_.full);
    return {share.now * k, share.health * k};
  }
  static float thick(const Amount& w) { return static_cast<float>(std::max({w.now, w.health, 1.6})); }
  std::size_t part(MapPart::Kind kind, std::size_t main, std::size_t index, Point at) {
    m_.parts.push_back({kind, main, index, at});
    return m_.parts.size() - 1;
  }
  void stream(Stream::Kind kind, std::vector<Point> centre, const Amount& from, const Amount& to, std::size_t of) {
    const MapPart& p = m_.parts[of];
    const body::ProteinId protein =
        p.kind == MapPart::Kind::helper ? p_.helpers[p.index].protein : p_.mains[p.main].protein;
    m_.streams.push_back({kind, std::move(centre), from, to, protein, of});
  }

  void find_rows() {
    const Box& b = s_.box;
    float seats = 0.0F;
    for (const Main& main : p_.mains) seats = std::max(seats, static_cast<float>(main.seat));
    m_.full = std::clamp((b.h - s_.words - 1.9F * em_) / (3.2F + 0.6F * seats), 8.0F, 0.11F * b.w);
    upper_ = b.y + s_.words + m_.full / 2 + 0.3F * em_;
    lower_ = b.bottom() - 1.6F * em_ - 0.42F * m_.full;
    meet_ = upper_ + 0.36F * (lower_ - upper_);
  }

  void find_columns() {
    std::vector<float> ask(static_cast<std::size_t>(p_.columns), 1.6F * m_.full);
    for (const Main& main : p_.mains) {
      const bool fan = main.column + 1 < p_.columns;
      float wants = 0.6F * m_.full + (main.column > 0 ? 0.46F * m_.full : 0.0F) + (fan ? 0.46F * m_.full : 0.0F);
      wants += 0.5F * m_.full + (main.loop ? 1.5F * m_.full : s_.plate);
      auto& most = ask[static_cast<std::size_t>(main.column)];
      most = std::max({most, wants, 6.4F * em_});
    }
    float sum = 0.0F;
    for (const float a : ask) sum += a;
    const float from = s_.box.x + s_.triggers + 3.6F * em_ + (plain_ ? 0.5F * m_.full : 0.0F);
    float x = from;
    const float right = s_.box.right() - 0.4F * em_;
    for (const float a : ask) {
      columns_.push_back(x);
      x += a / sum * (right - from);
    }
    columns_.push_back(right);
  }

  [[nodiscard]] float row(const Main& main) const {
    return (main.upper ? upper_ : meet_) + 1.1F * m_.full * static_cast<float>(main.seat);
  }

  // What comes to the bar, in the order it is stacked there.
  std::vector<Inflow> inflows(std::size_t i) {
    const Main& main = p_.mains[i];
    std::vector<Inflow> in;
    std::optional<std::size_t> together;
    for (std::size_t o = 0; o < main.openers.size(); ++o) {
      const Opener& opener = main.openers[o];
      const Amount w = pixels(f_.opened(main, opener));
      const bool outside = opener.source == Source::trigger || opener.source == Source::side;
      if (plain_ && outside) {
        if (!together) {
          together = in.size();
          in.push_back({Source::trigger, part(MapPart::Kind::triggers, i, 0, {}), 0, {}, 0, true});
        }
        in[*together].width.now += w.now;
        in[*together].width.health += w.health;
        continue;
      }
      const std::size_t of = part(MapPart::Kind::opener, i, o, {});
      in.push_back({outside ? Source::trigger : opener.source, of, opener.main, w, 0, true});
    }
    float tall = 0.0F;
    for (const Inflow& f : in) tall += f.width.now + f.width.health > 0.0 ? thick(f.width) : 0.0F;
    float y = row(main) - tall / 2;
    for (Inflow& f : in) {
      f.shown = f.width.now + f.width.health > 0.0;
      f.slot = y + thick(f.width) / 2;
      if (f.shown) y += thick(f.width);
    }
    m_.reaches.push_back({{columns_[static_cast<std::size_t>(main.column)], row(main)},
                          std::max(tall, 0.8F * em_),
                          columns_[static_cast<std::size_t>(main.column) + 1],
                          columns_[static_cast<std::size_t>(main.column) + 1],
                          part(MapPart::Kind::main, i, 0, {})});
    return in;
  }

  void trigger_streams(std::size_t i, std::vector<Inflow>& in);
  void ring(std::size_t i, const Inflow& f);
  void trunk(std::size_t i);
  void guards(std::size_t i, float x, float half, bool on_loop, float y);
  void helpers(std::size_t i, Point plate, float reach);

  void reach(std::size_t i) {
    const Main& main = p_.mains[i];
    std::vector<Inflow> in = inflows(i);
    const float x = m_.reaches.back().at.x;
    trigger_streams(i, in);
    for (const Inflow& f : in) {
      if (f.source == Source::plate) {
        const Point from = ends_[f.main];
        m_.parts[f.part].at = {(from.x + x) / 2, (from.y + f.slot) / 2};
        if (f.shown) stream(Stream::Kind::cause, draw::s_curve(from, {x, f.slot}, 20), f.width, f.width, f.part);
      }
      if (f.source == Source::loop) ring(i, f);
    }
    if (main.block >= 0 && f_.free(main.block) < 0.999) {
      const float h = 1.06F * m_.full;
      m_.dams.push_back(
          {{x - 1.15F * em_, row(main) - h / 2, 0.7F * em_, h}, main.block, static_cast<float>(f_.free(main.block))});
    }
    trunk(i);
  }

  const CascadeFlows& f_;
  const CascadeParts& p_;
  const MapSetting& s_;
  float em_;
  bool plain_;
  CascadeMap m_;
  float upper_ = 0, meet_ = 0, lower_ = 0;
  std::vector<float> columns_;
  std::vector<Point> ends_;  // of each main's reach
};

// Names at the left edge, a line apart, in the network's order; what is dry only where there is room. A stream to a
// later column keeps its row up to the column before, then rises.
void Layout::trigger_streams(std::size_t i, std::vector<Inflow>& in) {
  const Main& main = p_.mains[i];
  const float x = m_.reaches.back().at.x;
  const float left = s_.box.x + s_.triggers;
  const auto is_wet = [&](const Inflow& f) {
    return f.width.now + f.width.health > 1e-3 * static_cast<double>(m_.full);
  };
  std::vector<Inflow*> list;
  std::size_t live = 0;
  for (Inflow& f : in) {
    if (f.source != Source::trigger) continue;
    list.push_back(&f);
    if (is_wet(f)) live += 1;
  }
  if (list.empty()) return;
  if (main.column > 0 && !main.loop) {
    // From below, beside the bar: the left edge is another column's.
    for (Inflow* f : list) {
      const Point from{x - 0.42F * m_.full, row(main) + 0.95F * m_.full};
      m_.parts[f->part].at = from;
      if (!f->shown) continue;
      stream(Stream::Kind::cause, draw::s_curve(from, {x, f->slot}, 20), f->width, f->width, f->part);
      m_.triggers.push_back({{from.x, from.y + 0.5F * thick(f->width) + 0.7F * em_}, f->part, false});
    }
    return;
  }
  const float step = 1.3F * em_;
  const float high = main.upper ? s_.box.y + 0.2F * em_ : meet_ + 0.15F * m_.full;
  const float low = main.upper ? lower_ - 4.6F * step : lower_ - (plain_ ? 0.2F : 1.3F) * em_;
  const auto slots = static_cast<std::size_t>(std::max(1.0F, std::floor((low - high) / step)));
  const bool all = list.size() <= slots;
  const std::size_t count = all ? list.size() : std::min(live, slots);
  const auto room = [&](const Inflow& f) { return std::max(step, f.shown ? thick(f.width) + 0.2F * em_ : 0.0F); };
  float block = 0.0F;
  float loop_half = 0.0F;
  std::size_t counted = 0;
  for (const Inflow* f : list) {
    if ((all || is_wet(*f)) && counted++ < count) block += room(*f);
  }
  for (const Inflow& f : in) loop_half = f.source == Source::loop ? thick(f.width) / 2 : loop_half;
  float y = main.upper ? std::clamp(row(main) - block / 2, high, std::max(high, low)) : low - block;
  if (plain_) y = (main.upper ? row(main) : lower_) - block / 2;
  std::size_t named = 0;
  for (Inflow* f : list) {
    const bool name = (all || is_wet(*f)) && named < count;
    if (name) y += room(*f) / 2;
    const Point from{left + 0.4F * em_, y};
    m_.parts[f->part].at = {left + 1.2F * em_, y};
    if (f->shown) {
      std::vector<Point> path;
      if (main.column > 0) {
        // Up before the ring begins.
        const float ring = x - (lower_ - f->slot) / 2 - loop_half;
        const float up = std::max(from.x + 3.0F * em_, ring - 0.1F * m_.full);
        const float turn = std::max(from.x + 0.5F * em_, up - 1.8F * m_.full);
        path = {from};
        for (const Point& p : draw::s_curve({turn, y}, {up, f->slot}, 24)) path.push_back(p);
        path.push_back({x, f->slot});
      } else {
        path = draw::s_curve(from, {x, f->slot}, 24);
      }
      stream(Stream::Kind::cause, std::move(path), f->width, f->width, f->part);
    }
    if (!name) continue;
    m_.triggers.push_back({{left, y}, f->part, f->width.now < 1e-3 * static_cast<double>(m_.full)});
    named += 1;
    y += room(*f) / 2;
  }
}

// As wide as what the loop opens, from the trunk round and back to the bar: over the trunk it is the gain.
void Layout::ring(std::size_t i, const Inflow& f) {
  const Reach& reach = m_.reaches.back();
  const float x = reach.at.x;
  const float r = (lower_ - f.slot) / 2;
  const float left = x + 0.1F * m_.full;
  const float right = x + std::max(1.1F * m_.full, 0.34F * (reach.end - x));
  const float middle = (lower_ + f.slot) / 2;
  std::vector<Point> path{{left, f.slot}, {right, f.slot}};
  const auto turn = [&](float cx, float from) {
    for (int k = 1; k <= 24; ++k) {
      const float a = from + 3.14159265F * static_cast<float>(k) / 24.0F;
      path.push_back({cx + r * std::sin(a), middle - r * std::cos(a)});
    }
  };
  turn(right, 0.0F);
  path.push_back({left, lower_});
  turn(left, 3.14159265F);
  m_.parts[f.part].at = {right + r, middle};
  m_.ring = m_.streams.size();
  stream(Stream::Kind::cause, std::move(path), f.width, f.width, f.part);
  const float inner = std::max(0.0F, r - thick(f.width) / 2);
  m_.loop = Box{left - 0.5F * inner, middle - 0.8F * inner, right - left + inner, 1.6F * inner};
  if (plain_) return;
  const float plate = std::max(s_.plate, 0.3F * m_.full);
  const Point at{left - 0.28F * m_.full, lower_};
  m_.plates.push_back({{at.x - plate / 2, at.y - 1.35F * em_, plate, 2.7F * em_}, i, true});
  guards(i, left + 0.62F * (right - left) + plate / 4, thick(f.width) / 2, true, lower_);
  const float edge = s_.box.x + s_.triggers + 0.4F * em_;
  float y = lower_;
  for (std::size_t h = 0; h < p_.helpers.size(); ++h) {
    if (p_.helpers[h].main != i) continue;
    const std::size_t of = part(MapPart::Kind::helper, i, h, {edge + 3 * em_, y});
    const Amount w = pixels(f_.used(p_.helpers[h]));
    stream(Stream::Kind::helper, {{edge, y}, {at.x - plate / 2, lower_}}, w, w, of);
    m_.helpers.push_back({{edge - 0.4F * em_, y}, of, false});
    if (p_.helpers[h].block >= 0 && f_.free(p_.helpers[h].block) < 0.999) {
      m_.dams.push_back({{at.x - plate / 2 - 1.2F * em_, y - 0.45F * m_.full, 0.7F * em_, 0.9F * m_.full},
                         p_.helpers[h].block,
                         static_cast<float>(f_.free(p_.helpers[h].block))});
    }
    y += 1.3F * em_;
  }
  for (std::size_t a = 0; a < p_.aides.size(); ++a) {
    if (p_.aides[a].main != i) continue;
    const std::size_t of = part(MapPart::Kind::aide, i, a, {edge, y + 1.3F * em_});
    m_.aides.push_back({{edge - 0.4F * em_, y + 1.3F * em_}, of, false});
    y += 1.3F * em_;
  }
}

void Layout::guards(std::size_t i, float x, float half, bool on_loop, float y) {
  for (std::size_t g = 0; g < p_.guards.size(); ++g) {
    if (p_.guards[g].main != i || p_.guards[g].on_loop != on_loop) continue;
    part(MapPart::Kind::guard, i, g, {x, y - half - 0.8F * em_});
    m_.narrows.push_back({{x, y}, half, g});
    x += 2.4F * em_;
  }
}

// Used molecules; what does not become the next form seeps away; the rest goes on to the plate.
void Layout::trunk(std::size_t i) {
  const Main& main = p_.mains[i];
  const Reach reach = m_.reaches.back();
  const std::size_t of = reach.part;
  const float x = reach.at.x;
  const float y = reach.at.y;
  const bool last = main.column + 1 == p_.columns;
  const Amount use = pixels(f_.used(main));
  const Amount on = pixels(f_.goes_on(main));
  const bool plate = !plain_ && !main.loop && (last || !main.enzymes.empty() || !main.goes_on.empty());
  const float stop = reach.end - (last ? 0.0F : 0.46F * m_.full) - (plate ? s_.plate : 0.0F);
  const float length = stop - x;
  const float seep = x + (main.loop ? 0.5F : 0.42F) * length;
  const float thread = std::min(stop, seep + std::min(0.5F * m_.full, 0.34F * length));
  m_.parts[of].at = {(x + seep) / 2, y};
  stream(Stream::Kind::used, {{x, y}, {seep, y}}, use, use, of);
  stream(Stream::Kind::seeps, {{seep, y}, {thread, y}}, use, on, of);
  stream(Stream::Kind::used, {{seep, y}, {stop, y}}, on, on, of);
  if (plate) {
    m_.plates.push_back({{stop, y - 1.35F * em_, s_.plate, 2.7F * em_}, i, false});
    helpers(i, {stop + s_.plate / 2, y}, 1.35F * em_);
    const bool crossed =
        main.upper && std::any_of(p_.helpers.begin(), p_.helpers.end(), [&](const Helper& h) { return h.main == i; });
    if (crossed) m_.reaches[i].words = stop + s_.plate / 2 - std::min(s_.plate / 2, 0.4F * m_.full);
  }
  ends_[i] = {stop + (plate ? s_.plate : 0.0F), y};
  const bool narrow = main.loop;
  guards(i,
         narrow ? thread + 0.9F * em_
                : std::max(x + em_, std::min((thread + stop) / 2, stop - (plain_ ? 2.6F : 1.0F) * em_)),
         thick(on) / 2, false, y);
}

// They come from the outer side of the bed to the plate.
void Layout::helpers(std::size_t i, Point plate, float reach) {
  const Main& main = p_.mains[i];
  for (std::size_t h = 0; h < p_.helpers.size(); ++h) {
    if (p_.helpers[h].main != i) continue;
    const float far = main.upper ? s_.box.y : plate.y + reach + 0.9F * m_.full;
    const float near = plate.y + (main.upper ? -reach : reach);
    const std::size_t of = part(MapPart::Kind::helper, i, h, {plate.x, (far + near) / 2});
    const Amount w = pixels(f_.used(p_.helpers[h]));
    stream(Stream::Kind::helper, {{plate.x, far}, {plate.x, near}}, w, {0.5 * w.now, 0.5 * w.health}, of);
    m_.helpers.push_back({{plate.x + (main.upper ? 1.0F : -1.0F) * (thick(w) / 2 + 0.5F * em_), far}, of, false});
    plate.x += 1.2F * em_;
  }
}

}  // namespace

CascadeMap lay_out(const CascadeFlows& flows, const MapSetting& setting) {
  return Layout(flows, setting).draw();
}

}  // namespace drawdown::panels
