// How the cascade's parts are found; cascade_parts.cpp finds who is who, cascade_mains.cpp writes them down.
#pragma once

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "panels/cascade_parts.hpp"

namespace drawdown::panels {

class CascadeReader {
 public:
  CascadeReader(const std::shared_ptr<const body::Model>& model, const std::vector<double>& healthy)
      : m_(*model), net_(model->network()), healthy_(healthy) {
    out_.model = model;
  }

  CascadeParts read() {
    find_reactions();
    find_roots();
    find_roles();
    pair_up();
    make_mains();
    make_helpers();
    make_guards();
    return std::move(out_);
  }

 private:
  using FactorKind = network::FactorKind;
  using Reaction = network::Reaction;
  using Mask = std::uint64_t;  // of proteins
  static std::size_t at(int index) { return static_cast<std::size_t>(index); }
  static Mask bit(std::size_t p) { return Mask{1} << p; }
  static double change(const Reaction& r, std::size_t species) {
    double sum = 0.0;
    for (const auto& c : r.changes) sum += at(c.species) == species ? c.count : 0.0;
    return sum;
  }
  static bool reads(const Reaction& r, std::size_t species) {
    return std::any_of(r.factors.begin(), r.factors.end(),
                       [&](const auto& f) { return !f.symbol.is_input && at(f.symbol.index) == species; });
  }

  // All reactions of chapters that use up a protein without making any.
  void find_reactions();

  // Which proteins a species is made of, through whatever it is made from.
  void find_roots();
  [[nodiscard]] bool is_form(std::size_t s) const { return protein_of_[s] < 0 && roots_[s] != 0; }

  [[nodiscard]] network::Symbol cause_of(const Reaction& r) const {
    for (const FactorKind kind : {FactorKind::first_order, FactorKind::saturating}) {
      for (const auto& f : r.factors) {
        if (f.kind != kind) continue;
        if (f.symbol.is_input) {
          if (kind == FactorKind::first_order) return f.symbol;
          continue;
        }
        const std::size_t s = at(f.symbol.index);
        if (protein_of_[s] < 0 && change(r, s) >= 0.0) return f.symbol;
      }
    }
    for (const auto& c : r.changes) {
      if (c.count < 0.0 && is_form(at(c.species))) return {false, c.species};
    }
    return {};
  }
  [[nodiscard]] bool is_enzyme(const network::Symbol& s) const {
    return !s.is_input && s.index >= 0 && is_form(at(s.index));
  }
  [[nodiscard]] std::vector<Use> uses_of(std::size_t protein) const {
    std::vector<Use> uses;
    const std::size_t s = m_.in_plasma(body::ProteinId(protein));
    for (const std::size_t r : all_) {
      const Reaction& reaction = net_.reactions[r];
      const double lost = -change(reaction, s);
      if (lost <= 0.0) continue;
      Use use{body::ReactionId(r), lost, cause_of(reaction), {}};
      for (const auto& f : reaction.factors) {
        const bool itself = use.cause.is_input && use.cause.index == f.symbol.index;
        if (f.kind == FactorKind::gain && f.symbol.is_input && f.a.value > 0.0 && !itself)
          use.stronger.push_back({f.symbol.index, f.a.value});
      }
      uses.push_back(use);
    }
    return uses;
  }

  // Guards end forms, aides hold them together or are read without being lost; the rest that is lost is the river.
  void find_roles();
  [[nodiscard]] bool loses_an_enzyme(const Reaction& r) const {
    return std::any_of(r.changes.begin(), r.changes.end(),
                       [&](const auto& c) { return c.count < 0.0 && enzymes_.count(at(c.species)) != 0; });
  }
  [[nodiscard]] bool gains_an_enzyme(const Reaction& r) const {
    return std::any_of(r.changes.begin(), r.changes.end(),
                       [&](const auto& c) { return c.count > 0.0 && enzymes_.count(at(c.species)) != 0; });
  }
  [[nodiscard]] bool is_ending(const Reaction& r) const {
    return !gains_an_enzyme(r) && std::any_of(r.changes.begin(), r.changes.end(),
                                              [&](const auto& c) { return c.count < 0.0 && is_form(at(c.species)); });
  }

  void pair_up();
  [[nodiscard]] bool make_one(std::size_t p, std::size_t q) const {
    return std::any_of(all_.begin(), all_.end(), [&](std::size_t r) {
      const Reaction& reaction = net_.reactions[r];
      return change(reaction, m_.in_plasma(body::ProteinId(p))) < 0.0 &&
             change(reaction, m_.in_plasma(body::ProteinId(q))) < 0.0 && gains_an_enzyme(reaction);
    });
  }
  [[nodiscard]] double events(std::size_t p) const {
    double sum = 0.0;
    for (const Use& use : uses_of(p)) sum += healthy_[use.reaction];
    return sum;
  }
  // The main proteins a species is made of.
  [[nodiscard]] Mask mains_of(std::size_t species) const {
    Mask out = 0;
    for (const std::size_t p : river_) {
      if ((roots_[species] & bit(p)) != 0) out |= bit(helper_of_.count(p) != 0 ? helper_of_.at(p) : p);
    }
    return out;
  }

  // One more than the column of the latest protein that its enzymes are made of.
  int column(std::size_t p, Mask seen) {
    int latest = -1;
    for (const Use& use : uses_of(p)) {
      for (const auto& f : net_.reactions[use.reaction].factors) {
        if (f.symbol.is_input || !is_form(at(f.symbol.index))) continue;
        const Mask mains = mains_of(at(f.symbol.index));
        for (const std::size_t q : river_) {
          if (q != p && (mains & bit(q)) != 0 && (seen & bit(q)) == 0)
            latest = std::max(latest, column(q, seen | bit(p)));
        }
      }
    }
    return latest + 1;
  }
  // Whether what is made of one species can become the other.
  [[nodiscard]] bool leads_to(std::size_t from, std::size_t to) const {
    std::set<std::size_t> reached{from};
    for (bool more = true; more;) {
      more = false;
      for (const std::size_t r : all_) {
        const Reaction& reaction = net_.reactions[r];
        const bool from_here = std::any_of(reaction.changes.begin(), reaction.changes.end(), [&](const auto& c) {
          return c.count < 0.0 && reached.count(at(c.species)) != 0;
        });
        if (!from_here) continue;
        for (const auto& c : reaction.changes) {
          if (c.count > 0.0 && is_form(at(c.species))) more = reached.insert(at(c.species)).second || more;
        }
      }
    }
    return reached.count(to) != 0;
  }
  [[nodiscard]] bool begets_itself(std::size_t enzyme, const Reaction& r) const {
    return std::any_of(r.changes.begin(), r.changes.end(), [&](const auto& c) {
      return c.count > 0.0 && is_form(at(c.species)) && leads_to(at(c.species), enzyme);
    });
  }
  [[nodiscard]] std::size_t place(std::size_t protein) const {
    for (std::size_t i = 0; i < out_.mains.size(); ++i) {
      if (out_.mains[i].protein == protein) return i;
    }
    return 0;
  }
  [[nodiscard]] int block_of(const std::vector<Use>& uses) const {
    std::map<int, std::size_t> often;
    for (const Use& use : uses) {
      for (const auto& f : net_.reactions[use.reaction].factors) {
        if (f.symbol.is_input && f.kind == FactorKind::gain && f.a.value == -1.0) often[f.symbol.index] += 1;
      }
    }
    int block = -1;
    for (const auto& [input, times] : often) {
      if (block < 0 || times > often[block]) block = input;
    }
    return block;
  }

  void make_mains();
  void add_openers(Main& main);
  void find_next_forms(Main& main);
  void make_helpers();
  void make_guards();

  const body::Model& m_;
  const network::Network& net_;
  const std::vector<double>& healthy_;
  CascadeParts out_;
  std::vector<int> protein_of_;
  std::vector<std::size_t> all_;
  std::string first_chapter_;
  std::vector<Mask> roots_;
  std::set<std::size_t> enzymes_;
  std::vector<std::size_t> river_, guards_, aides_;
  std::map<std::size_t, std::size_t> helper_of_;
};

}  // namespace drawdown::panels
