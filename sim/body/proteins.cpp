// The circulating proteins: how much of each a healthy person has, how fast it turns over and who makes it.
// One row a protein; to add a protein, add a row here and its reactions in the chapter it acts in.
#include "body/catalogue.hpp"

namespace drawdown::body {

namespace {

// What stands in a row besides its turnover: the lever that counts its genes, and how a laboratory reports it.
Protein row(Protein turnover, const char* gene_lever, double gene_copies, const char* reading) {
  turnover.gene_lever = gene_lever;
  turnover.gene_copies = gene_copies;
  turnover.reading = reading;
  return turnover;
}
Protein in_grams(Protein p) {
  p.in_grams = true;
  p.decimals = 2;
  return p;
}
Protein in_pregnancy(Protein p, double gain, const char* source) {
  p.pregnancy_gain = gain;
  p.pregnancy_source = source;
  return p;
}
Protein blocked(Protein p, const char* lever) {
  p.blocked_by = lever;
  return p;
}
Protein off_course(Protein p) {
  p.in_course = false;
  return p;
}

}  // namespace

// Leak gains: C4 from the rise of EV/IV to 1.0-1.2 in active disease (Clin Exp Immunol 1989;78:49); C3 has no figure,
// kept small; the rest assumed none.
std::vector<Protein> standard_proteins() {
  return {
      blocked(row({"C1", "C1 (measured as C1q)", 100, 460, 0.0144, 0.0, 0.0, 0.0, 0.0,
                   "FCR Schifferli 1987; level laboratory page; made by macrophages"},
                  "c1q_gene_copies", 2, "C1q"),
              "block_c1s"),
      off_course(row({"C1INH", "C1 inhibitor", 200, 105, 0.027, 0.6, 0.7, 0.5, 0.0,
                      "FCR Clin Exp Immunol 1985;61:1; liver share and acute-phase gain assumed"},
                     "c1inh_dose", 1, "C1 inhibitor")),
      in_pregnancy(in_grams(row({"C4", "C4", 250, 205, 0.0197, 0.37, 0.95, 0.9, 2.0, "Clin Exp Immunol 1989;78:49"},
                                "c4_gene_copies", 4, "C4")),
                   0.19, "Buyon 1986 (0.31 to 0.37 g/L)"),
      off_course(row({"C2", "C2", 20, 102, 0.020, 0.6, 0.9, 0.3, 0.0, "level laboratory page; FCR assumed"},
                     "c2_gene_copies", 2, "C2")),
      in_pregnancy(
          blocked(in_grams(row(
                      {"C3", "C3", 1200, 185, 0.021, 0.5, 0.92, 0.65, 0.2,
                       "Petz 1969; liver share Alper & Rosen 1967; acute-phase gain set by Giasuddin 2007 and Romano "
                       "2018"},
                      "c3_gene_copies", 2, "C3")),
                  "block_c3"),
          0.33, "Buyon 1986 (1.24 to 1.65 g/L)"),
      blocked(row({"FB", "factor B", 210, 93, 0.0195, 1.0, 0.9, 0.7, 0.0, "Charlesworth 1974"}, "factor_b_gene_copies",
                  2, "factor B"),
              "block_factor_b"),
      off_course(row({"FH", "factor H", 500, 155, 0.013, 0.5, 0.9, 0.1, 0.0, "Clin Exp Immunol 1979;38:397"},
                     "factor_h_gene_copies", 2, "factor H")),
      off_course(row({"FI", "factor I", 40, 88, 0.015, 0.6, 0.95, 0.3, 0.0, "level laboratory page; FCR assumed"},
                     "factor_i_gene_copies", 2, "factor I")),
      off_course(row(
          {"C4BP", "C4b-binding protein", 250, 570, 0.015, 0.0, 1.0, 0.6, 0.0, "rise Blood 1994;84:815; FCR assumed"},
          "", 2, "C4BP")),
      blocked(row({"C5", "C5", 75, 190, 0.018, 0.5, 0.95, 0.2, 0.0, "Sissons 1977"}, "c5_gene_copies", 2, "C5"),
              "block_c5"),
      off_course(row(
          {"C9", "C9 (stands for C6 to C9)", 60, 71, 0.015, 0.6, 0.9, 0.7, 0.0, "level laboratory page; FCR assumed"},
          "c9_gene_copies", 2, "C9")),
      // Inert for now: made, lost, exchanged and read. Level and the mass of its usual trimer from memory; made mostly
      // by white cells (from memory).
      off_course(row({"P", "properdin", 24, 159, 0.0089, 0.6, 0.1, 0.0, 0.0,
                      "FCR Ziegler 1975 (0.78-1.0 %/h); level from memory; shares outside and of the liver assumed"},
                     "", 2, "properdin")),
  };
}

}  // namespace drawdown::body
