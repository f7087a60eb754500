// Working the plan out.
#include "network/plan.hpp"

#include <algorithm>
#include <map>
#include <numeric>
#include <stdexcept>
#include <tuple>

namespace drawdown::network {

namespace {

using Entries = std::map<std::pair<int, int>, std::uint32_t>;

template <class Items>
std::uint32_t size_of(const Items& items) {
  return static_cast<std::uint32_t>(items.size());
}

std::vector<const Factor*> factors_on_species(const Reaction& reaction) {
  std::vector<const Factor*> factors;
  for (const Factor& factor : reaction.factors) {
    if (!factor.symbol.is_input) factors.push_back(&factor);
  }
  if (factors.size() > Plan::most_operands) throw std::logic_error("network: too many factors: " + reaction.name);
  return factors;
}

bool same_term(const Plan::Term& a, const Plan::Term& b) {
  return std::tie(a.kind, a.species, a.a, a.b) == std::tie(b.kind, b.species, b.a, b.b);
}

// Every term once, in order of kind, then of first use.
std::vector<Plan::Term> terms_of(const Network& network) {
  std::vector<Plan::Term> terms;
  for (const Reaction& reaction : network.reactions) {
    for (const Factor* factor : factors_on_species(reaction)) {
      if (factor->kind == FactorKind::first_order) continue;
      const Plan::Term term{factor->kind, static_cast<std::uint16_t>(factor->symbol.index), factor->a.value,
                            factor->b.value};
      const bool known = std::any_of(terms.begin(), terms.end(), [&](const auto& t) { return same_term(t, term); });
      if (!known) terms.push_back(term);
    }
  }
  std::stable_sort(terms.begin(), terms.end(), [](const auto& a, const auto& b) { return a.kind < b.kind; });
  return terms;
}

// The pattern of the Jacobian, row by row, and the entry at each position.
Entries write_pattern(const Network& network, Pattern& pattern) {
  Entries entry_at;
  for (std::size_t i = 0; i < network.species.size(); ++i) entry_at[{static_cast<int>(i), static_cast<int>(i)}] = 0;
  for (const Reaction& reaction : network.reactions) {
    for (const Factor* factor : factors_on_species(reaction)) {
      for (const Change& change : reaction.changes) entry_at[{change.species, factor->symbol.index}] = 0;
    }
  }
  pattern.size = network.species.size();
  for (auto& [position, entry] : entry_at) {
    entry = size_of(pattern.entries);
    pattern.entries.push_back(position);
  }
  return entry_at;
}

std::uint16_t operand_of(const Plan& plan, const Factor& factor) {
  const auto species = static_cast<std::uint16_t>(factor.symbol.index);
  if (factor.kind == FactorKind::first_order) return species;
  const Plan::Term term{factor.kind, species, factor.a.value, factor.b.value};
  const auto found =
      std::find_if(plan.terms.begin(), plan.terms.end(), [&](const auto& t) { return same_term(t, term); });
  return static_cast<std::uint16_t>(plan.species + static_cast<std::size_t>(found - plan.terms.begin()));
}

// A partial, and the entries of the pattern it goes to.
struct PartialAt {
  Plan::Partial partial;
  std::size_t others;
  std::vector<Plan::Part> entries;
};

void write_partials(Plan& plan, std::vector<PartialAt> found) {
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.others < b.others; });
  std::map<std::uint32_t, std::vector<Plan::Part>> by_entry;
  for (const PartialAt& p : found) {
    for (const Plan::Part& at : p.entries) by_entry[at.from].push_back({size_of(plan.partials), at.count});
    plan.partials.push_back(p.partial);
    for (std::size_t others = p.others + 1; others < plan.first_partial.size(); ++others)
      plan.first_partial[others] += 1;
  }
  plan.first_touch.push_back(0);
  for (const auto& [entry, parts] : by_entry) {
    plan.touched.push_back(entry);
    plan.touches.insert(plan.touches.end(), parts.begin(), parts.end());
    plan.first_touch.push_back(size_of(plan.touches));
  }
}

}  // namespace

Plan::Plan(const Network& network) : species(network.species.size()), inputs(network.inputs.size()) {
  validate(network);
  rests.reserve(inputs);
  for (const Input& input : network.inputs) rests.push_back(input.rest);
  const Entries entry_at = write_pattern(network, pattern);
  terms = terms_of(network);
  for (const Factor& factor : network.volume) {
    volume.push_back({factor.kind, static_cast<std::uint16_t>(factor.symbol.index), factor.a.value, factor.b.value});
  }
  for (std::uint32_t i = 0; i < species; ++i) {
    const auto at = static_cast<int>(i);
    if (network.species[i].per_litre) diluted.push_back({i, entry_at.at({at, at})});
  }

  std::vector<std::size_t> arity;
  arity.reserve(network.reactions.size());
  for (const Reaction& reaction : network.reactions) arity.push_back(factors_on_species(reaction).size());
  written_as.resize(network.reactions.size());
  std::iota(written_as.begin(), written_as.end(), 0U);
  std::stable_sort(written_as.begin(), written_as.end(), [&](auto a, auto b) { return arity[a] < arity[b]; });
  place_of.resize(written_as.size());
  for (std::uint32_t r = 0; r < written_as.size(); ++r) place_of[written_as[r]] = r;

  std::vector<PartialAt> found;
  first_input_factor.push_back(0);
  first_effect.push_back(0);
  first_linear.push_back(0);
  for (std::uint32_t r = 0; r < written_as.size(); ++r) {
    const Reaction& reaction = network.reactions[written_as[r]];
    constants.push_back(reaction.constant.value);
    const auto factors = factors_on_species(reaction);
    for (std::size_t a = factors.size() + 1; a < first.size(); ++a) first[a] = r + 1;
    std::vector<std::uint16_t> own;
    own.reserve(factors.size());
    for (const Factor* factor : factors) own.push_back(operand_of(*this, *factor));
    operands.insert(operands.end(), own.begin(), own.end());
    for (const Factor& factor : reaction.factors) {
      if (!factor.symbol.is_input) continue;
      input_factors.push_back(
          {factor.kind, static_cast<std::uint16_t>(factor.symbol.index), factor.a.value, factor.b.value});
    }
    for (const Change& change : reaction.changes) {
      effects.push_back({static_cast<std::uint32_t>(change.species), change.count});
    }
    const auto entries_of = [&](int column) {
      std::vector<Part> at;
      at.reserve(reaction.changes.size());
      for (const Change& change : reaction.changes) at.push_back({entry_at.at({change.species, column}), change.count});
      return at;
    };
    if (factors.size() == 1 && factors.front()->kind == FactorKind::first_order) {
      for (const Part& at : entries_of(factors.front()->symbol.index)) linear.push_back(at);
    } else {
      for (std::size_t by = 0; by < own.size(); ++by) {
        PartialAt one{{r, own[by], {}}, own.size() - 1, entries_of(factors[by]->symbol.index)};
        std::size_t k = 0;
        for (std::size_t other = 0; other < own.size(); ++other) {
          if (other != by) one.partial.others.at(k++) = own[other];
        }
        found.push_back(std::move(one));
      }
    }
    first_input_factor.push_back(size_of(input_factors));
    first_effect.push_back(size_of(effects));
    first_linear.push_back(size_of(linear));
  }
  write_partials(*this, std::move(found));

  std::vector<std::vector<Part>> by_species(species);
  for (std::uint32_t r = 0; r < reactions(); ++r) {
    for (std::uint32_t e = first_effect[r]; e < first_effect[r + 1]; ++e) {
      by_species[effects[e].from].push_back({r, effects[e].count});
    }
  }
  first_change.push_back(0);
  for (const auto& parts : by_species) {
    changes.insert(changes.end(), parts.begin(), parts.end());
    first_change.push_back(size_of(changes));
  }
}

}  // namespace drawdown::network
