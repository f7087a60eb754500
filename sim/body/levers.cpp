// The table of levers.
#include "body/levers.hpp"

#include <algorithm>
#include <array>

#include "body/catalogue.hpp"

namespace drawdown::body {

namespace {

// Those that answer most questions.
constexpr std::array<std::string_view, 12> main_levers{
    "antibody_drive",       "antigen_release", "fixation",   "hepatic_output",
    "acute_phase_response", "c4_gene_copies",  "c1inh_dose", "b_cell_treatment",
    "glucocorticoid",       "block_c1s",       "block_c5",   "plasma_exchange"};

}  // namespace

Shown Lever::shown() const {
  if (kind == LeverKind::counted) return Shown::copies;
  if (most <= 1.0 && least == 0.0) return Shown::percent;
  return unit.rfind("days", 0) == 0 ? Shown::plain : Shown::times;
}

std::vector<Lever> standard_levers() {
  using G = LeverGroup;
  using K = LeverKind;
  std::vector<Lever> all{
      {"antibody_drive", G::complexes, K::sliding, "relative, 1 = a quiet antibody maker", 0, 10, 0, 2},
      {"antigen_release", G::complexes, K::sliding, "relative, 1 = usual", 0, 6, 1, 1},
      {"fixation", G::complexes, K::sliding, "relative, 1 = IgG1-like, 0 = none", 0, 2, 1, -0.5},
      {"anti_c1q", G::complexes, K::sliding, "relative, 0 = none", 0, 3, 0, 1},
      {"clearance", G::complexes, K::sliding, "relative, 1 = usual", 0.2, 2, 1, -0.4},
      {"share_kidney", G::complexes, K::sliding, "relative weight", 0, 1, 0.4, 0.4},
      {"share_skin", G::complexes, K::sliding, "relative weight", 0, 1, 0.2, 0.4},
      {"share_joints", G::complexes, K::sliding, "relative weight", 0, 1, 0.2, 0.4},
      {"share_serosa", G::complexes, K::sliding, "relative weight", 0, 1, 0.1, 0.4},
      {"red_cell_receptors", G::complexes, K::sliding, "fraction of usual (CR1)", 0, 1.5, 1, -0.5},
      {"cold_antibody", G::complexes, K::sliding, "relative, 1 = strong", 0, 1, 0, 0.5},
      {"cryoglobulin", G::complexes, K::sliding, "relative, 1 = strong", 0, 1, 0, 0.5},
      {"nephritic_factor", G::complexes, K::sliding, "times longer life of the C3 convertase", 1, 10, 1, 3},
      {"c5_nephritic_factor", G::complexes, K::sliding, "relative, 0 = none", 0, 3, 0, 1},
      {"activating_surface", G::complexes, K::sliding, "relative, 1 = strong", 0, 1, 0, 0.5},
      {"infection", G::complexes, K::sliding, "relative, 1 = severe", 0, 1, 0, 0.5},
      {"acute_trigger", G::production, K::sliding, "relative, 1 = severe", 0, 1, 0, 0.5},
      {"vascular_leak", G::complexes, K::sliding, "fraction of the largest leak", 0, 1, 0, 0.5},
      {"hepatic_output", G::production, K::sliding, "fraction of usual", 0.1, 1.5, 1, -0.2},
      {"acute_phase_response", G::production, K::sliding, "relative, 1 = usual", 0, 1.5, 1, 0.5},
      {"malnutrition", G::production, K::sliding, "0 = none, 1 = severe", 0, 1, 0, 0.5},
      {"pregnancy", G::production, K::sliding, "0 = none, 1 = third trimester", 0, 1, 0, 1},
      {"c4_gene_copies", G::inherited, K::counted, "copies", 0, 8, 4},
      {"c3_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"c1q_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"c2_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"c5_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"c9_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"c1inh_dose", G::inherited, K::sliding, "fraction of usual", 0, 1.5, 1, -0.5},
      {"factor_b_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"factor_d_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"factor_h_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"factor_i_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"properdin_gene_copies", G::inherited, K::counted, "copies", 0, 2, 2},
      {"b_cell_treatment", G::treatment, K::sliding, "fraction of full effect", 0, 1, 0, 1},
      {"glucocorticoid", G::treatment, K::sliding, "fraction of full effect", 0, 1, 0, 0.5},
      {"il6_block", G::treatment, K::sliding, "fraction blocked", 0, 1, 0, 1},
      {"block_c1s", G::treatment, K::sliding, "fraction blocked", 0, 1, 0, 1},
      {"block_c3", G::treatment, K::sliding, "fraction blocked", 0, 1, 0, 1},
      {"block_factor_b", G::treatment, K::sliding, "fraction blocked", 0, 1, 0, 1},
      {"block_c5", G::treatment, K::sliding, "fraction blocked", 0, 1, 0, 1},
      {"plasma_exchange", G::treatment, K::dated, "plasma volumes an hour", 0, 1, 0, 0, 0.44,
       2.5},  // 1.1 plasma volumes
      {"exchange_plasma", G::treatment, K::sliding, "fraction of the replacement that is plasma", 0, 1, 0, 1},
      {"immunoglobulin", G::treatment, K::dated, "g/kg an hour", 0, 1, 0, 0, 0.2, 10},  // 2 g/kg
      {"plasma_volume", G::person, K::sliding, "times usual", 0.6, 1.6, 1},
      {"fridge_days", G::laboratory, K::sliding, "days at 4 C", 0, 7, 0},
      {"cold_activation", G::laboratory, K::sliding, "fraction of activity lost in the tube", 0, 1, 0},
  };
  for (Lever& lever : all) {
    lever.main = std::find(main_levers.begin(), main_levers.end(), lever.name) != main_levers.end();
  }
  return all;
}

}  // namespace drawdown::body
