#include "panels/cascade_reader.hpp"

namespace drawdown::panels {

void CascadeReader::find_reactions() {
  protein_of_.assign(net_.species.size(), -1);
  const std::size_t proteins = std::min<std::size_t>(m_.proteins().size(), 64);
  for (std::size_t p = 0; p < proteins; ++p) protein_of_[m_.in_plasma(body::ProteinId(p))] = static_cast<int>(p);
  std::map<std::string, bool> takes;
  std::set<std::string> makes;
  for (const Reaction& r : net_.reactions) {
    for (const auto& c : r.changes) {
      if (protein_of_[at(c.species)] < 0) continue;
      if (c.count < 0.0) takes[r.chapter] = true;
      if (c.count > 0.0) makes.insert(r.chapter);
    }
  }
  for (std::size_t r = 0; r < net_.reactions.size(); ++r) {
    const std::string& chapter = net_.reactions[r].chapter;
    if (takes.count(chapter) == 0 || makes.count(chapter) != 0) continue;
    if (first_chapter_.empty()) first_chapter_ = chapter;
    all_.push_back(r);
  }
}

void CascadeReader::find_roots() {
  roots_.assign(net_.species.size(), 0);
  for (std::size_t s = 0; s < roots_.size(); ++s) {
    if (protein_of_[s] >= 0) roots_[s] = bit(at(protein_of_[s]));
  }
  for (bool more = true; more;) {
    more = false;
    for (const std::size_t r : all_) {
      Mask from = 0;
      for (const auto& c : net_.reactions[r].changes) from |= c.count < 0.0 ? roots_[at(c.species)] : 0;
      for (const auto& c : net_.reactions[r].changes) {
        if (c.count <= 0.0 || protein_of_[at(c.species)] >= 0) continue;
        const Mask now = roots_[at(c.species)] | from;
        more = more || now != roots_[at(c.species)];
        roots_[at(c.species)] = now;
      }
    }
  }
  for (std::size_t s = 0; s < roots_.size(); ++s) {
    if (is_form(s)) out_.forms.emplace_back(s);
  }
}

void CascadeReader::find_roles() {
  for (const std::size_t r : all_) {
    const Reaction& reaction = net_.reactions[r];
    const network::Symbol cause = cause_of(reaction);
    const bool takes = std::any_of(reaction.changes.begin(), reaction.changes.end(),
                                   [&](const auto& c) { return c.count < 0.0 && protein_of_[at(c.species)] >= 0; });
    if (takes && is_enzyme(cause) && change(reaction, at(cause.index)) >= 0.0) enzymes_.insert(at(cause.index));
  }
  for (std::size_t p = 0; p < m_.proteins().size() && p < 64; ++p) {
    const std::size_t s = m_.in_plasma(body::ProteinId(p));
    bool ends = false;
    bool holds = false;
    bool other = false;
    bool lost = false;
    bool read = false;
    for (const std::size_t r : all_) {
      const Reaction& reaction = net_.reactions[r];
      const bool loses = change(reaction, s) < 0.0;
      for (const auto& f : reaction.factors) {
        if (f.symbol.is_input || at(f.symbol.index) != s) continue;
        if (f.kind == FactorKind::repressing) {
          holds = holds || loses_an_enzyme(reaction);
        } else {
          read = true;
          (is_ending(reaction) ? ends : other) = true;
        }
      }
      lost = lost || loses;
    }
    if (ends && !other) {
      guards_.push_back(p);
    } else if (holds || (read && !lost)) {
      aides_.push_back(p);
    } else if (lost) {
      river_.push_back(p);
    }
  }
}

void CascadeReader::pair_up() {
  for (const std::size_t p : river_) {
    const auto uses = uses_of(p);
    Mask with = ~Mask{0};
    for (const Use& use : uses) {
      Mask here = 0;
      for (const auto& c : net_.reactions[use.reaction].changes) {
        if (c.count < 0.0 && at(c.species) != m_.in_plasma(body::ProteinId(p))) here |= roots_[at(c.species)];
      }
      with &= here;
    }
    for (const std::size_t q : river_) {
      if (q == p || helper_of_.count(p) != 0 || helper_of_.count(q) != 0) continue;
      const bool never_alone = (with & bit(q)) != 0;
      if (never_alone || (make_one(p, q) && events(p) < events(q))) helper_of_[p] = q;
    }
  }
}

CascadeParts read_cascade(const std::shared_ptr<const body::Model>& model, const std::vector<double>& healthy) {
  return CascadeReader(model, healthy).read();
}

}  // namespace drawdown::panels
