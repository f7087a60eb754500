// Looking things up in the list, and refusing a list that does not make sense.
#include "network/network.hpp"

#include <cmath>
#include <stdexcept>

#include "network/factor_value.hpp"
#include "network/ids.hpp"

namespace drawdown::network {

namespace {

void require(bool holds, const std::string& what) {
  if (!holds) throw std::logic_error("network: " + what);
}

template <class Items>
void require_unique(const Items& items, const char* kind) {
  const std::string* bad = unnamed_or_repeated(items);
  if (bad == nullptr) return;
  require(!bad->empty(), std::string(kind) + " without a name");
  require(false, std::string(kind) + " named twice: " + *bad);
}

void validate_factor(const Network& network, const std::string& where, const Factor& factor) {
  const std::size_t limit = factor.symbol.is_input ? network.inputs.size() : network.species.size();
  require(factor.symbol.index >= 0 && static_cast<std::size_t>(factor.symbol.index) < limit,
          "factor reads an unknown symbol" + where);
  require(std::isfinite(factor.a.value) && std::isfinite(factor.b.value), "factor constant not finite" + where);
  const bool divides_by_a = factor.kind == FactorKind::saturating || factor.kind == FactorKind::repressing;
  require(!divides_by_a || factor.a.value > 0.0, "half-way constant not positive" + where);
  require(factor.kind != FactorKind::repressing || factor.b.value == 1.0 || factor.b.value == 2.0,
          "repressing exponent must be 1 or 2" + where);
  require(factor.kind != FactorKind::floor || factor.b.value > 0.0, "floor reference not positive" + where);
  require(factor.kind != FactorKind::reciprocal || factor.symbol.is_input, "reciprocal of a species" + where);
  const bool has_constant = factor.kind != FactorKind::first_order && factor.kind != FactorKind::reciprocal;
  require(!has_constant || !factor.a.source.empty(), "factor constant without a source" + where);
}

}  // namespace

int Network::species_index(std::string_view name) const {
  return index_of(species, name);
}
int Network::input_index(std::string_view name) const {
  return index_of(inputs, name);
}
int Network::reaction_index(std::string_view name) const {
  return index_of(reactions, name);
}

void validate(const Network& network) {
  require_unique(network.species, "species");
  require_unique(network.inputs, "input");
  require_unique(network.reactions, "reaction");
  for (const Species& species : network.species) {
    require(std::isfinite(species.scale) && species.scale > 0.0, "scale of " + species.name + " not positive");
  }
  for (const Reaction& reaction : network.reactions) {
    require(std::isfinite(reaction.constant.value), "constant not finite in reaction " + reaction.name);
    require(!reaction.constant.source.empty(), "constant without a source in reaction " + reaction.name);
    require(!reaction.changes.empty(), "reaction changes nothing: " + reaction.name);
    for (const Factor& factor : reaction.factors) validate_factor(network, " in reaction " + reaction.name, factor);
    for (const Change& change : reaction.changes) {
      require(change.species >= 0 && static_cast<std::size_t>(change.species) < network.species.size(),
              "unknown species changed in reaction " + reaction.name);
      const auto& of = network.species;
      require(of[static_cast<std::size_t>(change.species)].per_litre ==
                  of[static_cast<std::size_t>(reaction.changes.front().species)].per_litre,
              "what is per litre of plasma and what is not in one reaction: " + reaction.name);
    }
  }
  for (const Factor& factor : network.volume) {
    validate_factor(network, " in the plasma volume", factor);
    const bool straight = factor.kind == FactorKind::first_order || factor.kind == FactorKind::gain;
    require(factor.symbol.is_input && straight, "a plasma volume that is not straight in an input");
  }
}

double volume_share(const Network& network, const std::vector<double>& inputs) {
  double share = 1.0;
  for (const Factor& f : network.volume) {
    share *= factor_value(f.kind, inputs.at(static_cast<std::size_t>(f.symbol.index)), f.a.value, f.b.value).value;
  }
  return share;
}

double moiety_change(const Moiety& moiety, const Reaction& reaction) {
  double total = 0.0;
  for (const Change& change : reaction.changes) {
    for (const Change& member : moiety.members) {
      if (member.species == change.species) total += member.count * change.count;
    }
  }
  return total;
}

}  // namespace drawdown::network
