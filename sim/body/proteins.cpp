// The circulating proteins: how much of each a healthy person has, how fast it turns over and who makes it.
// One row a protein; to add a protein, add a row here and its reactions in the chapter it acts in.
#include "body/catalogue.hpp"

namespace drawdown::body {

namespace {

// A row, and what stands in it besides turnover.
class Row {
 public:
  Row(const char* name, const char* label, double level, double mass, double fcr, double outside, const char* source)
      : p_{name, label, level, mass, fcr, outside, 0.0, 0.0, 0.0, source} {}
  operator Protein() const { return p_; }  // NOLINT(google-explicit-constructor): a row is a protein
  // Who makes it: the liver's share, and how much more at a full acute-phase signal; of resting synthesis the share
  // that needs IL-6.
  Row& made(double liver, double acute, double il6 = 0.0) {
    p_.liver_share = liver;
    p_.acute_gain = acute;
    p_.il6_share = il6;
    return *this;
  }
  Row& fed(double share) {
    p_.food_share = share;
    return *this;
  }
  Row& leaks(double gain) {
    p_.leak_gain = gain;
    return *this;
  }
  Row& genes(const char* lever, double copies = 2) {
    p_.gene_lever = lever;
    p_.gene_copies = copies;
    return *this;
  }
  Row& reads(const char* reading) {
    p_.reading = reading;
    return *this;
  }
  Row& reads_in_grams(const char* reading) {
    p_.reading = reading;
    p_.in_grams = true;
    p_.decimals = 2;
    return *this;
  }
  Row& pregnant(double gain, const char* source) {
    p_.pregnancy_gain = gain;
    p_.pregnancy_source = source;
    return *this;
  }
  Row& blocked(const char* lever) {
    p_.blocked_by = lever;
    return *this;
  }
  Row& off_course() {
    p_.in_course = false;
    return *this;
  }

 private:
  Protein p_;
};

}  // namespace

// Leak gains: C4 from the rise of EV/IV to 1.0-1.2 in active disease (Clin Exp Immunol 1989;78:49); C3 has no figure,
// kept small; the rest assumed none. Shares that need IL-6: C3 and C4 set by Romano 2018, the rest assumed. C1
// inhibitor and factors H and I are made outside the liver too, and are not low when it fails (C1 inhibitor: 178 people
// with liver disease, raised or normal in every group, from memory; sizes assumed).
std::vector<Protein> standard_proteins() {
  return {
      Row("C1", "C1 (measured as C1q)", 100, 460, 0.0144, 0.0,
          "FCR Schifferli 1987; level laboratory page; made by macrophages")
          .made(0.0, 0.0)
          .genes("c1q_gene_copies")
          .reads("C1q")
          .blocked("block_c1s"),
      Row("C1INH", "C1 inhibitor", 200, 105, 0.027, 0.6,
          "FCR Clin Exp Immunol 1985;61:1; liver share and acute-phase gain assumed")
          .made(0.3, 0.5, 0.1)
          .genes("c1inh_dose", 1)
          .reads("C1 inhibitor")
          .off_course(),
      Row("C4", "C4", 250, 205, 0.0197, 0.37, "Clin Exp Immunol 1989;78:49")
          .made(0.95, 0.9, 0.335)
          .leaks(2.0)
          .genes("c4_gene_copies", 4)
          .reads_in_grams("C4")
          .pregnant(0.19, "Buyon 1986 (0.31 to 0.37 g/L)"),
      Row("C2", "C2", 20, 102, 0.020, 0.6, "level laboratory page; FCR assumed")
          .made(0.9, 0.3, 0.1)
          .genes("c2_gene_copies")
          .reads("C2")
          .off_course(),
      Row("C3", "C3", 1200, 185, 0.021, 0.5,
          "Petz 1969; liver share Alper & Rosen 1967; acute-phase gain set by Giasuddin 2007 and Romano 2018")
          .made(0.92, 0.65, 0.28)
          .leaks(0.2)
          .fed(0.4)
          .genes("c3_gene_copies")
          .reads_in_grams("C3")
          .pregnant(0.33, "Buyon 1986 (1.24 to 1.65 g/L)")
          .blocked("block_c3"),
      Row("FB", "factor B", 210, 93, 0.0195, 1.0, "Charlesworth 1974")
          .made(0.9, 0.7, 0.2)
          .genes("factor_b_gene_copies")
          .reads("factor B")
          .blocked("block_factor_b"),
      // Made by fat cells; so small that the kidney lets it go within hours. Share outside assumed.
      Row("FD", "factor D", 1.8, 24, 0.60, 1.0, "FCR Pascual 1988 (50-74 %/h); level Volanakis 1985")
          .made(0.0, 0.0)
          .genes("factor_d_gene_copies")
          .reads("factor D")
          .off_course(),
      Row("FH", "factor H", 500, 155, 0.013, 0.5, "Clin Exp Immunol 1979;38:397")
          .made(0.75, 0.1)
          .genes("factor_h_gene_copies")
          .reads("factor H")
          .off_course(),
      Row("FI", "factor I", 40, 88, 0.015, 0.6, "level laboratory page; FCR assumed")
          .made(0.85, 0.3, 0.1)
          .genes("factor_i_gene_copies")
          .reads("factor I")
          .off_course(),
      Row("C4BP", "C4b-binding protein", 250, 570, 0.015, 0.0, "rise Blood 1994;84:815; FCR assumed")
          .made(1.0, 0.6, 0.2)
          .reads("C4BP")
          .off_course(),
      Row("C5", "C5", 75, 190, 0.018, 0.5, "Sissons 1977")
          .made(0.95, 0.2, 0.1)
          .genes("c5_gene_copies")
          .reads("C5")
          .blocked("block_c5"),
      Row("C9", "C9", 60, 71, 0.015, 0.6, "level laboratory page; FCR assumed")
          .made(0.9, 0.7, 0.2)
          .genes("c9_gene_copies")
          .reads("C9")
          .off_course(),
      // Mass of its usual trimer. Made mostly by white cells (from memory).
      Row("P", "properdin", 24, 159, 0.0089, 0.6,
          "FCR Ziegler 1975 (0.78-1.0 %/h); level from memory; shares outside and of the liver assumed")
          .made(0.1, 0.0)
          .genes("properdin_gene_copies")
          .reads("properdin")
          .off_course(),
  };
}

}  // namespace drawdown::body
