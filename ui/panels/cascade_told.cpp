// What is told of the part of the river that is pointed at.
#include <algorithm>
#include <set>

#include "panels/cascade_draw.hpp"

namespace drawdown::panels {

using draw::Box;
using draw::Type;

std::string CascadeView::part_key(const MapPart& part) const {
  const Main& main = parts.mains[part.main];
  switch (part.kind) {
    case MapPart::Kind::opener:
      return main.openers[part.index].key;
    case MapPart::Kind::triggers:
      return main.key + ".triggers";
    case MapPart::Kind::helper:
      return parts.helpers[part.index].key;
    case MapPart::Kind::guard:
      return parts.guards[part.index].key + "." + main.key;
    case MapPart::Kind::aide:
      return parts.aides[part.index].key;
    case MapPart::Kind::main:
      break;
  }
  return main.key;
}

std::vector<body::ReactionId> CascadeView::reactions_of(const MapPart& part) const {
  std::vector<body::ReactionId> out;
  const Main& main = parts.mains[part.main];
  const auto add = [&](const Opener& opener) {
    for (const std::size_t u : opener.uses) out.push_back(main.uses[u].reaction);
    for (const std::size_t u : opener.strengthens) out.push_back(main.uses[u].reaction);
  };
  switch (part.kind) {
    case MapPart::Kind::opener:
      add(main.openers[part.index]);
      break;
    case MapPart::Kind::triggers:
      for (const Opener& o : main.openers) {
        if (o.source == Source::trigger || o.source == Source::side) add(o);
      }
      break;
    case MapPart::Kind::helper:
      for (const Use& use : parts.helpers[part.index].uses) out.push_back(use.reaction);
      break;
    case MapPart::Kind::guard:
      out = parts.guards[part.index].own;
      break;
    case MapPart::Kind::aide:
      out = parts.aides[part.index].own;
      break;
    case MapPart::Kind::main:
      for (const Use& use : main.uses) out.push_back(use.reaction);
      break;
  }
  std::set<std::size_t> seen;
  std::vector<body::ReactionId> once;
  for (const body::ReactionId r : out) {
    if (seen.insert(r).second) once.push_back(r);
  }
  return once;
}

// Molecules of the protein lost an hour; for guards and aides the steps they have a part in.
Amount CascadeView::flux(const MapPart& part) const {
  const Main& main = parts.mains[part.main];
  Amount share;
  body::ReactionId made = main.made;
  switch (part.kind) {
    case MapPart::Kind::guard:
    case MapPart::Kind::aide:
      return flows.events(reactions_of(part));
    case MapPart::Kind::main:
      share = flows.used(main);
      break;
    case MapPart::Kind::opener:
      share = flows.opened(main, main.openers[part.index]);
      break;
    case MapPart::Kind::triggers:
      for (const Opener& o : main.openers) {
        if (o.source != Source::trigger && o.source != Source::side) continue;
        const Amount one = flows.opened(main, o);
        share.now += one.now;
        share.health += one.health;
      }
      break;
    case MapPart::Kind::helper:
      share = flows.used(parts.helpers[part.index]);
      made = parts.helpers[part.index].made;
      break;
  }
  const double all = flows.health().rates[made];
  return {share.now * all, share.health * all};
}

std::string CascadeView::sentence(const MapPart& part) const {
  const Main& main = parts.mains[part.main];
  const std::string name = name_of(main.key, main.species);
  switch (part.kind) {
    case MapPart::Kind::opener: {
      const Opener& opener = main.openers[part.index];
      if (opener.source == Source::loop) return f.word("cascade.say_loop");
      if (opener.source == Source::trigger && opener.symbol.index < 0)
        return f.words.fill("cascade.say_itself", {name});
      return f.words.fill("cascade.say_opens", {opener_name(part.main, opener), name});
    }
    case MapPart::Kind::triggers: {
      std::string all;
      for (const std::string& one : biggest(part.main)) all += (all.empty() ? "" : "; ") + one;
      return f.words.fill("cascade.say_opens", {all, name});
    }
    case MapPart::Kind::helper: {
      const Helper& helper = parts.helpers[part.index];
      return said("cascade.say." + helper.key,
                  f.words.fill("cascade.say_helper", {name_of(helper.key, helper.species), name}));
    }
    case MapPart::Kind::guard: {
      const Guard& guard = parts.guards[part.index];
      return said("cascade.say." + guard.key,
                  f.words.fill("cascade.say_guard", {name_of(guard.key, guard.species), name}));
    }
    case MapPart::Kind::aide: {
      const Aide& aide = parts.aides[part.index];
      return said("cascade.say." + aide.key, f.words.fill("cascade.say_aide", {name_of(aide.key, aide.species), name}));
    }
    case MapPart::Kind::main:
      break;
  }
  return said("cascade.say." + main.key, f.words.fill("cascade.say_main", {name}));
}

std::string CascadeView::verdict() const {
  for (const Dam& dam : m.dams) {
    const std::string& lever = parts.model->network().inputs[static_cast<std::size_t>(dam.block)].name;
    return f.words.fill("cascade.dammed", {said("cascade.dam." + lever, f.word("lever." + lever))});
  }
  for (const Main& main : parts.mains) {
    const Amount used = flows.used(main);
    const std::string name = name_of(main.key, main.species);
    if (std::max(used.now, used.health) < 0.02) continue;
    if (used.now < 0.5 * used.health) return f.words.fill("cascade.dry", {name});
    if (used.now < 2.0 * used.health) continue;
    const auto most = std::max_element(main.openers.begin(), main.openers.end(), [&](const Opener& a, const Opener& b) {
      return flows.opened(main, a).now < flows.opened(main, b).now;
    });
    const double times = used.now / std::max(used.health, 1e-9);
    return f.words.fill(
        "cascade.swollen",
        {name, look::number(times, times < 9.95 ? 1 : 0),
         most->source == Source::loop ? f.word("cascade.own_loop")
                                      : opener_name(static_cast<std::size_t>(&main - parts.mains.data()), *most)});
  }
  return f.word("cascade.nearly");
}

void CascadeView::tell() {
  f.canvas.fill(told, f.palette.notice, 0.5F * em);
  const Box inner = told.inset(1.0F * em, 0.5F * em);
  const float line = f.canvas.line_height(Type::body) * 1.15F;
  const int most = std::max(1, static_cast<int>(inner.h / line));
  if (pointed < 0) {
    const float y = inner.y + f.canvas.paragraph(inner, verdict(), Type::strong, f.palette.ink, 1);
    if (most < 2) return;
    const bool whole =
        f.canvas.wrapped(f.word("cascade.hint"), Type::body, inner.w).size() < static_cast<std::size_t>(most);
    f.canvas.paragraph({inner.x, y, inner.w, inner.bottom() - y},
                       whole ? f.word("cascade.hint") : f.word("cascade.hint_short"), Type::body, f.palette.quiet,
                       most - 1);
    return;
  }
  const MapPart& part = m.parts[static_cast<std::size_t>(pointed)];
  std::string text = sentence(part);
  if (f.state.page.depth != look::Depth::plain) {
    const Amount now = flux(part);
    if (part.kind == MapPart::Kind::guard || part.kind == MapPart::Kind::aide) {
      const body::SpeciesId species =
          part.kind == MapPart::Kind::guard ? parts.guards[part.index].species : parts.aides[part.index].species;
      text += " " + f.words.fill("cascade.of_healthy", {percent(flows.of_healthy(species))});
    }
    text += " " + f.words.fill("cascade.flux", {look::number(now.now, now.now < 10 ? 2 : 0),
                                                look::number(now.health, now.health < 10 ? 2 : 0)});
    if (part.kind == MapPart::Kind::opener) {
      const Main& main = parts.mains[part.main];
      const Opener& opener = main.openers[part.index];
      const double each = opener.source == Source::plate ? flows.opened_by_one(main, opener) : 0.0;
      if (each >= 1.0)
        text += " " + f.words.fill("cascade.each", {name_of(main.key, main.species), look::number(each, 0)});
    }
  }
  float y = inner.y + f.canvas.paragraph(inner, text, Type::strong, f.palette.ink, std::min(3, most)) + 0.3F * em;
  if (f.state.page.depth != look::Depth::mechanism) return;
  const float h = f.canvas.line_height(Type::small) * 1.2F;
  for (const body::ReactionId id : reactions_of(part)) {
    const network::Reaction& reaction = run.body().network.reactions[id];
    if (y + h > inner.bottom() + 0.2F * em) return;
    f.canvas.fitted({inner.x, y, inner.w, h},
                    reaction.name + " = " + network::rate_text(run.body().network, reaction) + "  [" +
                        reaction.constant.source + "]",
                    Type::small, f.palette.quiet);
    y += h;
  }
}

}  // namespace drawdown::panels
