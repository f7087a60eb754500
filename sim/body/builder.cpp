// Names to indices.
#include "body/builder.hpp"

#include <stdexcept>

namespace drawdown::body {

using network::Constant;
using network::FactorKind;

ReactionBuilder& ReactionBuilder::lose(const std::string& species, double count) {
  return gain(species, -count);
}

ReactionBuilder& ReactionBuilder::gain(const std::string& species, double count) {
  if (builder_->pass() == Pass::names) return *this;
  builder_->network().reactions[reaction_].changes.push_back({builder_->species_of(species), count});
  return *this;
}

ReactionBuilder& ReactionBuilder::add(FactorKind kind, const std::string& name, Constant a, Constant b) {
  if (builder_->pass() == Pass::names) return *this;
  builder_->network().reactions[reaction_].factors.push_back(
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
                                         const char* source) {
  return add(FactorKind::gain, name, {per_unit, unit, source}, {});
}

ReactionBuilder& ReactionBuilder::floored(const std::string& name, double floor, double reference, const char* source) {
  return add(FactorKind::floor, name, {floor, "", source}, {reference, "", source});
}

ReactionBuilder& ReactionBuilder::divided_by(const std::string& lever) {
  return add(FactorKind::reciprocal, lever, {}, {});
}

ReactionBuilder& ReactionBuilder::unblocked(const std::string& lever) {
  return add(FactorKind::gain, lever, {-1.0, "per fraction blocked", "definition of the lever"}, {});
}

void Builder::species(const std::string& name, const std::string& label, const std::string& unit, double scale) {
  if (pass_ != Pass::names) return;
  network_->species.push_back({name, label, unit, chapter_, scale});
}

void Builder::input(const std::string& name, const std::string& unit, double rest) {
  if (pass_ != Pass::names) return;
  network_->inputs.push_back({name, unit, rest});
}

ReactionBuilder Builder::reaction(const std::string& name, const std::string& label, double constant, const char* unit,
                                  const std::string& source) {
  if (pass_ == Pass::names) return {*this, 0};
  network_->reactions.push_back({name, label, chapter_, {constant, unit, source}, {}, {}});
  return {*this, network_->reactions.size() - 1};
}

void Builder::moiety(const std::string& name, const std::vector<std::pair<std::string, double>>& members) {
  network::Moiety moiety{name, {}};
  for (const auto& [species, count] : members) moiety.members.push_back({species_of(species), count});
  network_->moieties.push_back(std::move(moiety));
}

int Builder::species_of(const std::string& name) const {
  const int index = network_->species_index(name);
  if (index < 0) throw std::logic_error("body: no species named " + name);
  return index;
}

network::Symbol Builder::symbol_of(const std::string& name) const {
  if (const int index = network_->species_index(name); index >= 0) return {false, index};
  if (const int index = network_->input_index(name); index >= 0) return {true, index};
  throw std::logic_error("body: no species or lever named " + name);
}

}  // namespace drawdown::body
