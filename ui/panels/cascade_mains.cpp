// The parts written down: mains with what opens them, helpers, guards and aides.
#include "panels/cascade_reader.hpp"

namespace drawdown::panels {

void CascadeReader::make_mains() {
  for (const std::size_t p : river_) {
    if (helper_of_.count(p) != 0) continue;
    Main main;
    main.protein = body::ProteinId(p);
    main.species = m_.in_plasma(main.protein);
    main.made = m_.reactions_of(main.protein).made;
    main.key = m_.proteins()[p].name;
    main.column = column(p, 0);
    main.uses = uses_of(p);
    main.block = block_of(main.uses);
    main.upper = std::all_of(main.uses.begin(), main.uses.end(),
                             [&](const Use& use) { return net_.reactions[use.reaction].chapter == first_chapter_; });
    out_.mains.push_back(std::move(main));
  }
  std::stable_sort(out_.mains.begin(), out_.mains.end(),
                   [](const Main& a, const Main& b) { return a.column < b.column; });
  std::map<std::pair<int, bool>, std::size_t> seats;
  for (Main& main : out_.mains) {
    main.seat = seats[{main.column, main.upper}]++;
    out_.columns = std::max(out_.columns, main.column + 1);
    for (const std::size_t e : enzymes_) {
      if ((mains_of(e) & bit(main.protein)) != 0) main.enzymes.emplace_back(e);
    }
  }
  for (Main& main : out_.mains) add_openers(main);
  for (Main& main : out_.mains) find_next_forms(main);
}

void CascadeReader::add_openers(Main& main) {
  const auto opener = [&](Source source, const std::string& key, const network::Symbol& symbol, std::size_t plate) {
    for (std::size_t i = 0; i < main.openers.size(); ++i) {
      if (main.openers[i].key == main.key + "." + key) return i;
    }
    main.openers.push_back({main.key + "." + key, source, symbol, plate, {}, {}});
    return main.openers.size() - 1;
  };
  for (std::size_t u = 0; u < main.uses.size(); ++u) {
    const Use& use = main.uses[u];
    const Reaction& reaction = net_.reactions[use.reaction];
    std::size_t which = 0;
    if (is_enzyme(use.cause) && change(reaction, at(use.cause.index)) >= 0.0) {
      const std::size_t e = at(use.cause.index);
      // The latest protein among what the rate reads decides whose plate it comes from.
      std::size_t plate = 0;
      for (const auto& f : reaction.factors) {
        if (f.symbol.is_input || !is_form(at(f.symbol.index))) continue;
        for (std::size_t q = 0; q < out_.mains.size(); ++q) {
          const bool part = (mains_of(at(f.symbol.index)) & bit(out_.mains[q].protein)) != 0;
          if (part && out_.mains[q].column >= out_.mains[plate].column) plate = q;
        }
      }
      if ((mains_of(e) & bit(main.protein)) == 0) {
        which = opener(Source::plate, "by." + out_.mains[plate].key, use.cause, plate);
      } else if (begets_itself(e, reaction)) {
        main.loop = true;
        which = opener(Source::loop, "loop", use.cause, place(main.protein));
      } else {
        which = opener(Source::side, "side", use.cause, place(main.protein));
      }
    } else if (use.cause.index < 0) {
      which = opener(Source::trigger, "itself", {}, 0);
    } else {
      const auto index = at(use.cause.index);
      const std::string& name = use.cause.is_input ? net_.inputs[index].name : net_.species[index].name;
      which = opener(Source::trigger, name, use.cause, 0);
    }
    main.openers[which].uses.push_back(u);
    for (const Use::Stronger& s : use.stronger) {
      which = opener(Source::trigger, net_.inputs[at(s.input)].name, {true, s.input}, 0);
      main.openers[which].strengthens.push_back(u);
    }
  }
  // What opens by itself a protein that only an enzyme opens besides goes with that enzyme's.
  const auto itself = std::find_if(main.openers.begin(), main.openers.end(),
                                   [](const Opener& o) { return o.source == Source::trigger && o.symbol.index < 0; });
  const auto plate =
      std::find_if(main.openers.begin(), main.openers.end(), [](const Opener& o) { return o.source == Source::plate; });
  if (itself != main.openers.end() && plate != main.openers.end() && !main.loop) {
    plate->uses.insert(plate->uses.end(), itself->uses.begin(), itself->uses.end());
    main.openers.erase(itself);
  }
  std::stable_sort(main.openers.begin(), main.openers.end(),
                   [](const Opener& a, const Opener& b) { return a.source < b.source; });
}

// What later uses read that is made of this one alone; after the last, what is made together with its helpers.
void CascadeReader::find_next_forms(Main& main) {
  std::set<std::size_t> needed;
  bool later = false;
  for (const Main& next : out_.mains) {
    if (next.column <= main.column) continue;
    later = true;
    for (const Use& use : next.uses) {
      for (const auto& f : net_.reactions[use.reaction].factors) {
        if (f.symbol.is_input || !is_form(at(f.symbol.index))) continue;
        if (mains_of(at(f.symbol.index)) != bit(main.protein)) continue;
        if (!main.loop || enzymes_.count(at(f.symbol.index)) == 0) needed.insert(at(f.symbol.index));
      }
    }
  }
  for (const std::size_t r : all_) {
    const Reaction& reaction = net_.reactions[r];
    bool on = false;
    if (later) {
      on = !loses_an_enzyme(reaction) &&
           std::any_of(reaction.changes.begin(), reaction.changes.end(),
                       [&](const auto& c) { return c.count > 0.0 && needed.count(at(c.species)) != 0; });
    } else if (change(reaction, main.species) < 0.0) {
      for (const auto& [helper, of] : helper_of_) {
        on = on || (of == main.protein && change(reaction, m_.in_plasma(body::ProteinId(helper))) < 0.0);
      }
    }
    if (on) main.goes_on.emplace_back(r);
  }
}

void CascadeReader::make_helpers() {
  for (const auto& [p, main] : helper_of_) {
    Helper helper;
    helper.protein = body::ProteinId(p);
    helper.species = m_.in_plasma(helper.protein);
    helper.made = m_.reactions_of(helper.protein).made;
    helper.key = m_.proteins()[p].name;
    helper.main = place(main);
    helper.uses = uses_of(p);
    helper.block = block_of(helper.uses);
    if (helper.block == out_.mains[helper.main].block) helper.block = -1;
    out_.helpers.push_back(std::move(helper));
  }
}

void CascadeReader::make_guards() {
  const auto touches = [&](const Reaction& r, std::size_t s) { return reads(r, s) || change(r, s) < 0.0; };
  for (const std::size_t p : guards_) {
    const std::size_t s = m_.in_plasma(body::ProteinId(p));
    for (std::size_t i = 0; i < out_.mains.size(); ++i) {
      Guard guard;
      guard.species = body::SpeciesId(s);
      guard.key = m_.proteins()[p].name;
      guard.main = i;
      std::set<std::size_t> enzymes;
      std::set<std::size_t> forms;
      for (const std::size_t r : all_) {
        const Reaction& reaction = net_.reactions[r];
        if (!touches(reaction, s) || !is_ending(reaction)) continue;
        for (const auto& c : reaction.changes) {
          if (c.count >= 0.0 || mains_of(at(c.species)) != bit(out_.mains[i].protein)) continue;
          if (protein_of_[at(c.species)] >= 0) continue;
          (enzymes_.count(at(c.species)) != 0 ? enzymes : forms).insert(at(c.species));
          guard.own.emplace_back(r);
        }
      }
      if (guard.own.empty()) continue;
      guard.on_loop = out_.mains[i].loop && !enzymes.empty();
      for (const std::size_t f : enzymes.empty() ? forms : enzymes) {
        guard.ended.emplace_back(f);
        for (const std::size_t r : all_) {
          if (change(net_.reactions[r], f) < 0.0 && !gains_an_enzyme(net_.reactions[r])) guard.endings.emplace_back(r);
        }
      }
      out_.guards.push_back(std::move(guard));
    }
  }
  for (const std::size_t p : aides_) {
    Aide aide;
    aide.species = m_.in_plasma(body::ProteinId(p));
    aide.key = m_.proteins()[p].name;
    for (const std::size_t r : all_) {
      const Reaction& reaction = net_.reactions[r];
      if (!touches(reaction, aide.species)) continue;
      aide.own.emplace_back(r);
      for (const auto& c : reaction.changes) {
        for (std::size_t i = 0; i < out_.mains.size(); ++i) {
          const Mask of = protein_of_[at(c.species)] < 0 ? mains_of(at(c.species)) : 0;
          if ((of & bit(out_.mains[i].protein)) != 0) aide.main = i;
        }
      }
    }
    out_.aides.push_back(std::move(aide));
  }
}

}  // namespace drawdown::panels
