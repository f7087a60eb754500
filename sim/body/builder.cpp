// Names to indices.
#include "body/builder.hpp"

#include <algorithm>
#include <stdexcept>

#include "network/ids.hpp"

namespace drawdown::body {

using network::Constant;
using network::FactorKind;

ReactionBuilder& ReactionBuilder::lose(const std::string& species, double count) {
  return gain(species, -count);
}

ReactionBuilder& ReactionBuilder::gain(const std::string& species, double count) {
  if (builder_->pass() == Pass::names) return *this;
  builder_->network_->reactions[reaction_].changes.push_back(
      {static_cast<int>(builder_->species_of(species).index), count});
  return *this;
}

ReactionBuilder& ReactionBuilder::add(FactorKind kind, const std::string& name, Constant a, Constant b) {
  if (builder_->pass() == Pass::names) return *this;
  builder_->network_->reactions[reaction_].factors.push_back(
      {kind, builder_->symbol_of(name), std::move(a), std::move(b)});
  return *this;
}

ReactionBuilder& ReactionBuilder::by(const std::string& name) {
  return add(FactorKind::first_order, name, {}, {});
}

ReactionBuilder& ReactionBuilder::saturating(const std::string& name, double half, const char* unit,
                                             const char* source) {
  return add(FactorKind::saturating, name, {half, unit, source}, {});
}

ReactionBuilder& ReactionBuilder::repressed(const std::string& name, double half, int exponent, const char* unit,
                                            const char* source) {
  return add(FactorKind::repressing, name, {half, unit, source}, {static_cast<double>(exponent), "", source});
}

ReactionBuilder& ReactionBuilder::rising(const std::string& name, double per_unit, const char* unit,
                                         const std::string& source) {
  return add(FactorKind::gain, name, {per_unit, unit, source}, {});
}

ReactionBuilder& ReactionBuilder::floored(const std::string& name, double floor, double reference,
                                          const std::string& source) {
  return add(FactorKind::floor, name, {floor, "", source}, {reference, "", source});
}

ReactionBuilder& ReactionBuilder::divided_by(const std::string& lever) {
  return add(FactorKind::reciprocal, lever, {}, {});
}

ReactionBuilder& ReactionBuilder::unblocked(const std::string& protein) {
  const auto& rows = builder_->catalogue().proteins;
  const int row = network::index_of(rows, protein);
  if (row < 0 || rows[static_cast<std::size_t>(row)].blocked_by.empty()) {
    throw std::logic_error("body: nothing blocks " + protein);
  }
  const std::string& lever = rows[static_cast<std::size_t>(row)].blocked_by;
  return add(FactorKind::gain, lever, {-1.0, "per fraction blocked", "definition of the lever"}, {});
}

ReactionBuilder& ReactionBuilder::counts(Term term) {
  if (builder_->pass() == Pass::names) return *this;
  Purpose& purpose = (*builder_->purposes_)[reaction_];
  purpose.said = true;
  purpose.term = term;
  return *this;
}

ReactionBuilder& ReactionBuilder::at(const std::string& place) {
  if (builder_->pass() == Pass::names) return *this;
  const auto& places = *builder_->places_;
  const auto found = std::find(places.begin(), places.end(), place);
  if (found == places.end()) throw std::logic_error("body: no place named " + place);
  (*builder_->purposes_)[reaction_].origin = {Origin::Kind::place, static_cast<std::uint32_t>(found - places.begin())};
  return counts(Term::used);
}

ReactionBuilder& ReactionBuilder::as(const std::string& carrier) {
  if (builder_->pass() == Pass::names) return *this;
  const auto& carriers = *builder_->carriers_;
  const auto found = std::find_if(carriers.begin(), carriers.end(), [&](const auto& c) { return c.name == carrier; });
  if (found == carriers.end()) throw std::logic_error("body: no carrier named " + carrier);
  (*builder_->purposes_)[reaction_].origin = {Origin::Kind::carrier,
                                              static_cast<std::uint32_t>(found - carriers.begin())};
  return counts(Term::used);
}

void Builder::species(const std::string& name, const std::string& label, const std::string& unit, double scale,
                      const std::vector<std::string>& carries) {
  if (pass_ != Pass::names) return;
  const auto index = static_cast<int>(network_->species.size());
  const bool per_litre = unit == "nmol/L plasma" || unit == "nmol per L of plasma";
  network_->species.push_back({name, label, unit, chapter_, scale, per_litre});
  for (const std::string& what : carries) {
    auto& all = network_->moieties;
    auto found = std::find_if(all.begin(), all.end(), [&](const network::Moiety& m) { return m.name == what; });
    if (found == all.end()) found = all.insert(all.end(), network::Moiety{what, {}});
    found->members.push_back({index, 1.0});
  }
}

void Builder::input(const std::string& name, const std::string& unit, double rest) {
  if (pass_ != Pass::names) return;
  network_->inputs.push_back({name, unit, rest});
}

void Builder::volume_by(const std::string& lever) {
  if (pass_ == Pass::names) return;
  network_->volume.push_back({FactorKind::first_order, symbol_of(lever), {}, {}});
}

void Builder::volume_rising(const std::string& lever, double per_unit, const char* unit, const std::string& source) {
  if (pass_ == Pass::names) return;
  network_->volume.push_back({FactorKind::gain, symbol_of(lever), {per_unit, unit, source}, {}});
}

ReactionBuilder Builder::reaction(const std::string& name, const std::string& label, double constant, const char* unit,
                                  const std::string& source) {
  if (pass_ == Pass::names) return {*this, 0};
  network_->reactions.push_back({name, label, chapter_, {constant, unit, source}, {}, {}});
  purposes_->emplace_back();
  return {*this, network_->reactions.size() - 1};
}

void Builder::carrier(const std::string& name, const std::vector<std::string>& members) {
  if (pass_ == Pass::names) {
    carriers_->push_back({name, {}});
    return;
  }
  for (network::Moiety& carrier : *carriers_) {
    if (carrier.name != name) continue;
    for (const std::string& member : members)
      carrier.members.push_back({static_cast<int>(species_of(member).index), 1.0});
  }
}

void Builder::revise(const std::function<void(network::Reaction&)>& change) {
  if (pass_ == Pass::names) return;
  for (network::Reaction& reaction : network_->reactions) change(reaction);
}

network::SpeciesId Builder::species_of(const std::string& name) const {
  const int index = network_->species_index(name);
  if (index < 0) throw std::logic_error("body: no species named " + name);
  return network::SpeciesId(static_cast<std::size_t>(index));
}

network::Symbol Builder::symbol_of(const std::string& name) const {
  if (const int index = network_->species_index(name); index >= 0) return {false, index};
  if (const int index = network_->input_index(name); index >= 0) return {true, index};
  throw std::logic_error("body: no species or lever named " + name);
}

}  // namespace drawdown::body
