// Writing the chapters out, and turning names into places.
#include "body/model.hpp"

#include <stdexcept>

#include "body/builder.hpp"

namespace drawdown::body {

namespace {

std::size_t checked(int index, const char* what, std::string_view name) {
  if (index < 0) throw std::logic_error(std::string("body: no ") + what + " named " + std::string(name));
  return static_cast<std::size_t>(index);
}
template <class Rows>
void no_name_twice(const Rows& rows, const char* what) {
  if (const std::string* bad = network::unnamed_or_repeated(rows)) {
    throw std::logic_error(std::string("body: a ") + what + " stands twice or has no name: " + *bad);
  }
}

}  // namespace

Model::Model(Catalogue catalogue) : catalogue_(std::move(catalogue)) {
  no_name_twice(catalogue_.proteins, "protein");
  no_name_twice(catalogue_.tissues, "tissue");
  no_name_twice(catalogue_.levers, "lever");
  no_name_twice(catalogue_.readouts, "readout");
  write_network();
  resolve();
}

void Model::write_network() {
  std::vector<std::string> places{"fluid", "red_cells"};
  for (const Tissue& tissue : catalogue_.tissues) places.push_back(tissue.name);
  std::vector<Purpose> purposes;
  std::vector<network::Moiety> carriers;
  for (const Pass pass : {Pass::names, Pass::reactions}) {
    Builder builder(network_, catalogue_, pass, purposes, carriers, places);
    for (const Lever& lever : catalogue_.levers) builder.input(lever.name, lever.unit, lever.rest);
    for (const Chapter& chapter : catalogue_.chapters) chapter(builder);
  }
  plan_ = std::make_shared<const network::Plan>(network_);
  lu_ = std::make_shared<const solve::LuPlan>(plan_->pattern);
  for (const Protein& protein : catalogue_.proteins) plasma_.push_back(species(protein.name));
  accounts_ = Accounts(network_, plasma_, purposes, std::move(carriers), std::move(places));
}

void Model::resolve() {
  for (const network::Species& s : network_.species) scales_.push_back(s.scale);
  for (const Protein& p : catalogue_.proteins) {
    outside_.push_back(p.outside > 0.0 ? species(p.name + "_tissue") : SpeciesId());
    made_.push_back({reaction("make_" + p.name), reaction("turn_over_" + p.name), reaction("exchange_in_" + p.name)});
  }
  for (const Tissue& t : catalogue_.tissues) {
    tissue_ids_.push_back({species("deposit_" + t.name), species("inflammation_" + t.name), species("injury_" + t.name),
                           lever(t.share_lever)});
  }
  for (const Readout& readout : catalogue_.readouts) {
    reads_.push_back(readout.prepare(*this));
    samples_.push_back(readout.in_sample ? readout.in_sample(*this) : nullptr);
  }
  known_.c3 = protein("C3");
  known_.c4 = protein("C4");
  known_.antibody = species("antibody");
  known_.antigen = species("antigen");
  known_.complexes = species("complexes");
  known_.acute_phase = species("acute_phase");
  known_.antibody_drive = lever("antibody_drive");
  known_.antigen_release = lever("antigen_release");
  known_.hepatic_output = lever("hepatic_output");
  known_.pregnancy = lever("pregnancy");
  known_.fridge_days = lever("fridge_days");
  known_.cold_activation = lever("cold_activation");
  for (const char* name : report_names) known_.report.push_back(readout(name));
}

SpeciesId Model::species(std::string_view name) const {
  return SpeciesId(checked(network_.species_index(name), "species", name));
}
ReactionId Model::reaction(std::string_view name) const {
  return ReactionId(checked(network_.reaction_index(name), "reaction", name));
}
LeverId Model::lever(std::string_view name) const {
  return LeverId(checked(network::index_of(catalogue_.levers, name), "lever", name));
}
ProteinId Model::protein(std::string_view name) const {
  return ProteinId(checked(network::index_of(catalogue_.proteins, name), "protein", name));
}
ReadoutId Model::readout(std::string_view name) const {
  return ReadoutId(checked(network::index_of(catalogue_.readouts, name), "readout", name));
}
std::optional<LeverId> Model::find_lever(std::string_view name) const {
  const int index = network::index_of(catalogue_.levers, name);
  if (index < 0) return std::nullopt;
  return LeverId(static_cast<std::size_t>(index));
}

std::vector<double> Model::resting_levers() const {
  std::vector<double> values;
  values.reserve(catalogue_.levers.size());
  for (const Lever& lever : catalogue_.levers) values.push_back(lever.rest);
  return values;
}

std::vector<double> Model::standard_levels() const {
  std::vector<double> levels;
  levels.reserve(catalogue_.proteins.size());
  for (const Protein& p : catalogue_.proteins) levels.push_back(p.level);
  return levels;
}

const std::shared_ptr<const Model>& standard_model() {
  static const auto once = std::make_shared<const Model>(standard_catalogue());
  return once;
}

LeverId lever_at(std::string_view name) {
  return standard_model()->lever(name);
}
ProteinId protein_at(std::string_view name) {
  return standard_model()->protein(name);
}
std::vector<double> resting_levers() {
  return standard_model()->resting_levers();
}

}  // namespace drawdown::body
