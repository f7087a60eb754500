// Adding rows, and the standard catalogue.
#include "body/catalogue.hpp"

#include <algorithm>

#include "body/chapters.hpp"
#include "body/model.hpp"

namespace drawdown::body {

namespace {

Readout level_of(const Protein& protein) {
  Readout r;
  r.name = protein.reading;
  r.unit = protein.in_grams ? "g/L" : "mg/L";
  const double to = protein.in_grams ? 1e-3 : 1.0;
  r.scale = protein.level * to;
  r.decimals = protein.decimals;
  r.in_course = protein.in_course;
  r.prepare = [name = protein.name, mass = protein.mass, to](const Model& model) -> Readout::Read {
    return [at = model.species(name), mass, to](const double* state, const double*) {
      return milligrams(state[at], mass) * to;
    };
  };
  return r;
}

}  // namespace

void add_protein(Catalogue& catalogue, const Protein& protein) {
  catalogue.proteins.push_back(protein);
  // How this person differs from the standard one: made and used faster or slower by a factor.
  catalogue.levers.push_back(
      {"synthesis_" + protein.name, LeverGroup::person, LeverKind::sliding, "times usual", 0, 3, 1});
  catalogue.levers.push_back(
      {"turnover_" + protein.name, LeverGroup::person, LeverKind::sliding, "times usual", 0.05, 5, 1});
  const auto named = [&](const Lever& lever) { return lever.name == protein.gene_lever; };
  if (!protein.gene_lever.empty() && std::none_of(catalogue.levers.begin(), catalogue.levers.end(), named)) {
    catalogue.levers.push_back({protein.gene_lever, LeverGroup::inherited, LeverKind::counted, "copies", 0,
                                protein.gene_copies, protein.gene_copies});
  }
  if (!protein.reading.empty()) catalogue.readouts.push_back(level_of(protein));
}

void add_tissue(Catalogue& catalogue, const Tissue& tissue) {
  catalogue.tissues.push_back(tissue);
  const auto named = [&](const Lever& lever) { return lever.name == tissue.share_lever; };
  if (std::none_of(catalogue.levers.begin(), catalogue.levers.end(), named)) {
    catalogue.levers.push_back(
        {tissue.share_lever, LeverGroup::complexes, LeverKind::sliding, "relative weight", 0, 1, 0, 0.4});
  }
}

Catalogue standard_catalogue() {
  Catalogue c;
  c.levers = standard_levers();
  for (const char* name : {"kidney", "skin", "joints", "serosa"}) {
    Tissue tissue{name, name, std::string("share_") + name};
    if (tissue.name == "kidney") {
      // Deposits in the kidney lie on a membrane without regulators of its own (textbook): more of what they bind
      // lasts. Both set by C3 and C4 in nephritis beside other flares (0.4-0.55 g/L of C3 in the severest).
      tissue.to_igg = 0.8;
      tissue.waking = 0.9 * tissue.waking;
    }
    add_tissue(c, tissue);
  }
  for (const Protein& protein : standard_proteins()) add_protein(c, protein);
  for (Readout& readout : standard_readouts()) c.readouts.push_back(std::move(readout));
  complete_report(c);
  c.chapters = {write_turnover,  write_classical, write_alternative, write_terminal,
                write_complexes, write_tissue,    write_liver};
  return c;
}

}  // namespace drawdown::body
