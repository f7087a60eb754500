// What is written on the river, and what is told of the part that is pointed at.
#include <algorithm>
#include <cmath>
#include <set>

#include "panels/cascade_draw.hpp"

namespace drawdown::panels {

using draw::Align;
using draw::Box;
using draw::Point;
using draw::Type;

namespace {
std::string figure(double value) {
  return look::number(value, value < 9.95 ? 1 : 0);
}
}  // namespace

const std::string& CascadeView::said(const std::string& key, const std::string& otherwise) const {
  const std::string& text = f.word(key);
  return !text.empty() && text.front() != '<' ? text : otherwise;
}

std::string CascadeView::name_of(const std::string& key, body::SpeciesId species) const {
  const auto& proteins = parts.model->proteins();
  for (std::size_t p = 0; p < proteins.size(); ++p) {
    if (parts.model->in_plasma(body::ProteinId(p)) == species) return said("cascade.name." + key, proteins[p].label);
  }
  return said("cascade.name." + key, parts.model->network().species[species].label);
}

std::string CascadeView::name_of(const network::Symbol& symbol, std::size_t main) const {
  const auto& net = parts.model->network();
  if (symbol.index < 0)
    return f.words.fill("cascade.itself", {name_of(parts.mains[main].key, parts.mains[main].species)});
  const auto at = static_cast<std::size_t>(symbol.index);
  if (symbol.is_input) return said("cascade.name." + net.inputs[at].name, f.word("lever." + net.inputs[at].name));
  const auto& tissues = parts.model->tissue_ids();
  for (std::size_t t = 0; t < tissues.size(); ++t) {
    if (tissues[t].deposit != at) continue;
    const std::string& tissue = parts.model->tissues()[t].name;
    return f.words.fill("cascade.deposit", {said("tissue." + tissue + "_short", f.word("tissue." + tissue))});
  }
  return name_of(net.species[at].name, body::SpeciesId(at));
}

std::string CascadeView::opener_name(std::size_t main, const Opener& opener) const {
  const Main& from = parts.mains[opener.main];
  if (opener.source == Source::plate || opener.source == Source::loop)
    return said("cascade.plate." + from.key, name_of(from.key, from.species));
  if (opener.source == Source::side) return said("cascade.side." + from.key, name_of(opener.symbol, main));
  return name_of(opener.symbol, main);
}

std::string CascadeView::percent(double share) const {
  const double of = 100.0 * share;
  return f.words.fill("numbers.percent", {look::number(of, of < 9.95 && of >= 0.05 ? 1 : 0)});
}

// Against health; nothing where there is none to compare with, or at plain depth where there is hardly any.
std::string CascadeView::times(const Amount& a) const {
  if (a.health < 1e-5) return {};
  if (f.state.page.depth == look::Depth::plain && (a.now < 0.05 || a.health < 0.01)) return {};
  const double v = a.now / a.health;
  if (v > 0.87 && v < 1.15) return f.word("cascade.as_health");
  if (v < 0.005) return f.word("cascade.nothing");
  return f.words.fill("cascade.times", {figure(v)});
}

// The up to three triggers that open most of it.
std::vector<std::string> CascadeView::biggest(std::size_t main) const {
  std::vector<std::pair<double, std::string>> all;
  double sum = 0.0;
  for (const Opener& opener : parts.mains[main].openers) {
    if (opener.source == Source::plate || opener.source == Source::loop) continue;
    const double now = flows.opened(parts.mains[main], opener).now;
    sum += now;
    all.emplace_back(now, opener_name(main, opener));
  }
  std::stable_sort(all.begin(), all.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  std::vector<std::string> names;
  for (const auto& [now, name] : all) {
    if (names.empty() || (names.size() < 3 && now > 0.08 * sum)) names.push_back(name);
  }
  return names;
}

bool CascadeView::free_of_words(const Box& b) const {
  return std::none_of(taken.begin(), taken.end(), [&](const Box& t) {
    return b.x < t.right() && b.right() > t.x && b.y < t.bottom() && b.bottom() > t.y;
  });
}

bool CascadeView::on_water(const Box& b) const {
  for (const Stream& s : m.streams) {
    if (s.from.now < 3.0) continue;
    for (std::size_t k = 1; k < s.centre.size(); ++k) {
      const Point p = s.centre[k - 1];
      const Point q = s.centre[k];
      const auto steps = static_cast<int>(std::hypot(q.x - p.x, q.y - p.y) / (0.5F * em)) + 1;
      for (int i = 0; i <= steps; ++i) {
        const float t = static_cast<float>(i) / static_cast<float>(steps);
        const auto half = static_cast<float>(s.from.now + (s.to.now - s.from.now) * static_cast<double>(t)) / 2;
        const float x = std::clamp(p.x + (q.x - p.x) * t, b.x, b.right());
        const float y = std::clamp(p.y + (q.y - p.y) * t, b.y, b.bottom());
        if (std::hypot(p.x + (q.x - p.x) * t - x, p.y + (q.y - p.y) * t - y) < half - 1.0F) return true;
      }
    }
  }
  return false;
}

bool CascadeView::put(Point at, const std::string& words, Type type, const look::Colour& colour, Align align) {
  if (words.empty()) return true;
  const float w = f.canvas.width(words, type);
  const float h = f.canvas.line_height(type);
  const float x = align == Align::left ? at.x : align == Align::right ? at.x - w : at.x - w / 2;
  const Box b{x, at.y, w, h};
  if (b.x < box.x || b.right() > box.right() || b.y < box.y - 0.3F * em || b.bottom() > told.y) return false;
  if (!free_of_words(b)) return false;
  f.canvas.fill(b.inset(-0.15F * em, 0.1F * h), f.palette.card.with_alpha(0.82F), 0.2F * em);
  f.canvas.text(at, words, type, colour, align);
  taken.push_back(b);
  return true;
}

// Over the reach, clear of its widest, so that it never moves: name, what is left in the blood, what is used.
void CascadeView::write_reach(std::size_t i) {
  const Main& main = parts.mains[i];
  const Reach& r = m.reaches[i];
  const float line = 1.15F * f.canvas.line_height(Type::strong);
  const float head = f.canvas.line_height(Type::heading);
  const float x = r.at.x;
  float y = r.at.y - m.full / 2 - 0.2F * em - head - static_cast<float>(lines - 1) * line;
  std::string name = said("cascade.name." + main.key, parts.model->proteins()[main.protein].label);
  const std::string share = percent(flows.level(main.species));
  const std::string& brief = f.words.at("cascade.name." + main.key, look::Depth::clinic);
  const float needs =
      f.canvas.width(name, Type::heading) + (lines < 2 ? f.canvas.width(share, Type::strong) + em : 0.3F * em);
  if (needs > r.words - x && brief.front() != '<') name = brief;
  if (!put({x, y}, name, Type::heading, colour_of(main.protein), Align::left) &&
      !put({x, r.at.y + m.full / 2 + 0.1F * em}, name, Type::strong, colour_of(main.protein), Align::left)) {
    put({x, r.at.y + r.bar / 2 + 0.2F * em}, name, Type::small, colour_of(main.protein), Align::left);
  }
  const float after = x + f.canvas.width(name, Type::heading) + 0.5F * em;
  const std::string blood = f.words.fill("cascade.blood", {share});
  const std::string used = f.words.fill("cascade.used", {percent(flows.used(main).now)});
  const bool beside = after + f.canvas.width(blood, Type::strong) < r.words - 0.5F * em;
  if (beside)
    put({after, y + head - f.canvas.line_height(Type::strong) - 0.1F * em}, blood, Type::strong, f.palette.ink,
        Align::left);
  if (!beside && lines < 2) {
    put({after, y + head - f.canvas.line_height(Type::strong) - 0.1F * em}, share, Type::strong, f.palette.ink,
        Align::left);
  }
  y += head + 0.1F * em;
  if (lines < 2) return;
  const std::string& second = beside ? used : blood;
  const bool fits = f.canvas.width(second, Type::strong) < r.words - x;
  put({x, y}, second, fits ? Type::strong : Type::small, f.palette.ink, Align::left);
  if (lines < 3) return;
  const std::string against = times(flows.used(main));
  if (beside) {
    put({x, y + line}, against, Type::small, f.palette.quiet, Align::left);
  } else {
    std::string both = used;
    if (!against.empty()) both.append(", ").append(against);
    const bool short_enough = f.canvas.width(both, Type::small) < r.words - x - 0.3F * em;
    put({x, y + line}, short_enough ? both : used, Type::small, f.palette.quiet, Align::left);
  }
}

void CascadeView::write_plates() {
  for (const MapPlate& plate : m.plates) {
    const Main& main = parts.mains[plate.main];
    f.canvas.fill(plate.box, f.palette.card, 0.5F * em);
    f.canvas.outline(plate.box, f.palette.ink, 0.5F * em, std::max(1.2F, 0.1F * em));
    const std::string words = said("cascade.plate." + main.key, name_of(main.key, main.species));
    const auto rows = f.canvas.wrapped(words, Type::small, plate.box.w - 0.3F * em);
    const float lh = f.canvas.line_height(Type::small);
    const auto n = std::min<std::size_t>(rows.size(), 2);
    float y = plate.box.middle_y() - static_cast<float>(n) * lh / 2;
    for (std::size_t k = 0; k < n; ++k, y += lh) {
      f.canvas.fitted({plate.box.x + 0.1F * em, y, plate.box.w - 0.2F * em, lh}, rows[k], Type::small, f.palette.ink,
                      Align::centre);
    }
    taken.push_back(plate.box);
  }
}

void CascadeView::write_triggers() {
  const float lh = f.canvas.line_height(Type::small);
  for (const TriggerName& t : m.triggers) {
    const MapPart& part = m.parts[t.part];
    if (part.kind == MapPart::Kind::triggers) {
      const float body = f.canvas.line_height(Type::body);
      const auto names = biggest(part.main);
      const bool head = part.main == 0;
      float y = t.at.y - body * (head ? 1.6F : 0.5F) * 1.05F;
      if (head && put({map.x, y}, f.word("cascade.triggers"), Type::strong, f.palette.ink, Align::left))
        y += 1.1F * body;
      for (const std::string& name : names) {
        if (!put({map.x, y}, name, Type::body, f.palette.ink, Align::left))
          put({map.x, y}, name, Type::small, f.palette.ink, Align::left);
        y += 1.1F * body;
      }
      continue;
    }
    const Main& main = parts.mains[part.main];
    // Those that come from below their bar have no edge to stand at.
    const bool below = main.column > 0 && !main.loop;
    put({t.at.x, t.at.y - lh / 2}, opener_name(part.main, main.openers[part.index]), Type::small,
        t.dry ? f.palette.quiet : f.palette.ink, below ? Align::left : Align::right);
  }
}

void CascadeView::write_helpers() {
  const float lh = f.canvas.line_height(Type::small);
  for (const TriggerName& t : m.helpers) {
    const Helper& helper = parts.helpers[m.parts[t.part].index];
    const Main& main = parts.mains[helper.main];
    const std::string name = name_of(helper.key, helper.species);
    const std::string blood = f.words.fill("cascade.blood", {percent(flows.level(helper.species))});
    const std::string used = f.words.fill("cascade.used", {percent(flows.used(helper).now)});
    if (main.loop) {
      put({t.at.x, t.at.y - lh / 2}, name, Type::small, f.palette.ink, Align::right);
      std::string both = blood;
      both += ", ";
      both += used;
      const auto half = static_cast<float>(flows.used(helper).now) * m.full / 2;
      put({t.at.x + 0.6F * em, t.at.y - half - lh - 0.05F * em}, both, Type::small, f.palette.quiet, Align::left);
      continue;
    }
    // Beside the stream above, under its end below.
    const Align align = main.upper ? Align::left : Align::right;
    const Point at = main.upper ? t.at : Point{map.right(), t.at.y + 0.2F * em};
    put(at, name, Type::strong, f.palette.quiet, align);
    put({at.x, at.y + 1.1F * f.canvas.line_height(Type::strong)}, blood, Type::small, f.palette.quiet, align);
    put({at.x, at.y + 1.1F * f.canvas.line_height(Type::strong) + 1.1F * lh}, used, Type::small, f.palette.quiet,
        align);
  }
  for (const TriggerName& t : m.aides) {
    const Aide& aide = parts.aides[m.parts[t.part].index];
    const std::string name = name_of(aide.key, aide.species);
    const Point at{t.at.x, t.at.y - lh / 2};
    if (put(at, name, Type::small, f.palette.ink, Align::right)) {
      put({at.x + 0.6F * em, at.y}, percent(flows.of_healthy(aide.species)), Type::small, f.palette.quiet, Align::left);
    }
  }
}

void CascadeView::write_guards() {
  const float lh = f.canvas.line_height(Type::small);
  for (const Narrows& n : m.narrows) {
    const Guard& guard = parts.guards[n.guard];
    const double level = flows.of_healthy(guard.species);
    const double lasts = flows.lasts(guard);
    if (plain) {
      if (level > 0.75 && lasts < 1.5) continue;
      const bool over = parts.mains[guard.main].loop;
      put({n.at.x, over ? n.at.y - n.half - 2.0F * em - lh : n.at.y + n.half + 2.0F * em}, f.word("cascade.weak_guard"),
          Type::small, f.palette.ink, Align::centre);
      continue;
    }
    const std::string name = name_of(guard.key, guard.species) + " " + percent(level);
    const std::string life =
        lasts > 1.15 || lasts < 0.87 ? f.words.fill("cascade.lasts", {look::number(lasts, lasts < 9.95 ? 1 : 0)}) : "";
    const float reach = n.half + (0.22F * static_cast<float>(std::clamp(lasts, 0.3, 6.0)) + 1.4F) * em;
    const bool above = parts.mains[guard.main].loop && !guard.on_loop;
    const float y = above ? n.at.y - reach - 2.0F * lh : n.at.y + reach;
    const Point side{n.at.x + 1.2F * em, n.at.y + n.half + 0.4F * em};
    const bool there = guard.on_loop && put(side, name, Type::small, f.palette.quiet, Align::left);
    if (there) {
      put({side.x, side.y + 1.05F * lh}, life, Type::small, f.palette.ink, Align::left) ||
          put({side.x + f.canvas.width(name, Type::small) + 0.5F * em, side.y}, life, Type::small, f.palette.ink,
              Align::left);
      continue;
    }
    // Where it lies on no water: near, else clear of the widest; else it is only told.
    const float w = std::max(f.canvas.width(name, Type::small), f.canvas.width(life, Type::small));
    const float clear = above ? n.at.y - m.full / 2 - 2.1F * lh : n.at.y + m.full / 2 + 0.1F * em;
    for (const float top : {y, clear}) {
      if (on_water({n.at.x - w / 2, top, w, (life.empty() ? 1.0F : 2.0F) * lh})) continue;
      if (!put({n.at.x, top}, name, Type::small, f.palette.quiet, Align::centre)) continue;
      put({n.at.x, top + 1.05F * lh}, life, Type::small, f.palette.ink, Align::centre);
      break;
    }
  }
}

void CascadeView::write_loop() {
  if (!m.loop) return;
  const MapPart& part = m.parts[m.streams[m.ring].part];
  const Main& main = parts.mains[part.main];
  const Amount gain = flows.gain(main);
  const bool simple = f.state.page.depth == look::Depth::plain;
  const std::string first = simple ? f.word("cascade.loop") : f.words.fill("cascade.gain", {look::number(gain.now, 2)});
  const std::string second =
      simple ? f.words.fill("cascade.opens_of", {look::number(100 * gain.now, 0), name_of(main.key, main.species)})
             : f.words.fill("cascade.gain_health", {look::number(gain.health, 2)});
  const float sh = f.canvas.line_height(Type::strong);
  const float lh = f.canvas.line_height(Type::small);
  const Box& inner = *m.loop;
  const look::Colour ink = gain.now > 0.8 ? f.palette.mark : f.palette.ink;
  const bool two = inner.h > sh + lh && f.canvas.width(second, Type::small) < inner.w;
  if (f.canvas.width(first, Type::strong) < inner.w && inner.h > 0.8F * sh) {
    const float y = inner.middle_y() - (two ? (sh + lh) / 2 : sh / 2);
    put({inner.middle_x(), y}, first, Type::strong, ink, Align::centre);
    if (two) put({inner.middle_x(), y + sh}, second, Type::small, f.palette.quiet, Align::centre);
    if (two) return;
  } else {
    const float x = part.at.x + static_cast<float>(m.streams[m.ring].from.now) / 2 + 0.6F * em;
    put({x, part.at.y}, first, Type::strong, ink, Align::left) ||
        put({x, part.at.y + sh}, first, Type::small, ink, Align::left) ||
        put({inner.middle_x(), inner.middle_y() - lh / 2}, first, Type::small, ink, Align::centre);
  }
  const float under = inner.bottom() + static_cast<float>(m.streams[m.ring].from.now) + 0.6F * em;
  put({inner.middle_x(), under}, second, Type::small, f.palette.quiet, Align::centre);
}

void CascadeView::write_dams() {
  const auto& inputs = parts.model->network().inputs;
  for (const Dam& dam : m.dams) {
    const std::string& lever = inputs[static_cast<std::size_t>(dam.block)].name;
    std::string words = said("cascade.dam." + lever, f.word("lever." + lever));
    if (dam.free > 0.005F) words += " " + percent(1.0 - static_cast<double>(dam.free));
    const float sh = f.canvas.line_height(Type::strong);
    const float x = dam.box.middle_x();
    put({x, dam.box.bottom() + 0.2F * em}, words, Type::strong, f.palette.ink, Align::centre) ||
        put({dam.box.x - 0.3F * em, dam.box.y}, words, Type::strong, f.palette.ink, Align::right) ||
        put({x, dam.box.y - sh - 0.1F * em}, words, Type::small, f.palette.ink, Align::centre) ||
        put({dam.box.right() + 0.3F * em, dam.box.bottom() - sh}, words, Type::small, f.palette.ink, Align::left);
  }
}

void CascadeView::write_scale() {
  if (scale_h <= 0.0F) return;
  const float y = told.y - 0.5F * em - scale_h / 2;
  const float x = map.x;
  const float w = std::max(1.5F, 0.12F * em);
  f.canvas.line({{x, y}, {x + m.full, y}}, f.palette.ink, w);
  for (const float end : {x, x + m.full}) f.canvas.line({{end, y - 0.4F * em}, {end, y + 0.4F * em}}, f.palette.ink, w);
  const float lh = f.canvas.line_height(Type::small);
  const Point at{x + m.full + 0.7F * em, y - lh / 2};
  const std::string& words = f.word("cascade.scale");
  if (!put(at, words, Type::small, f.palette.ink, Align::left))
    put(at, f.word("cascade.scale_short"), Type::small, f.palette.ink, Align::left);
  const std::string& banks = f.word("cascade.banks");
  put({map.right(), at.y}, banks, Type::small, f.palette.quiet, Align::right);
}

}  // namespace drawdown::panels
