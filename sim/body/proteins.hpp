// The circulating proteins: how much of each a healthy person has, how fast it turns over and who makes it.
// One row a protein; to add a protein, add a row here and its reactions in the chapter it acts in.
#pragma once

#include <array>
#include <string_view>

namespace drawdown::body {

struct Protein {
  const char* name;  // species name; the pool in tissue fluid is name + "_tissue"
  const char* label;
  double level;        // plasma level in health, mg/L
  double mass;         // kDa
  double fcr;          // fractional catabolic rate, fraction of the plasma pool an hour
  double outside;      // extravascular pool / plasma pool; 0 = stays in the plasma
  double liver_share;  // of synthesis, 0-1
  double acute_gain;   // rise of synthesis at a full acute-phase signal, fraction
  double leak_gain;    // rise of escape into tissue at a full leak, fraction
  const char* source;
};

// Leak gains: C4 from the rise of EV/IV to 1.0-1.2 in active disease (Clin Exp Immunol 1989;78:49); C3 has no figure,
// kept small; the rest assumed none.
inline constexpr std::array<Protein, 11> proteins{{
    {"C1", "C1 (measured as C1q)", 100, 460, 0.0144, 0.0, 0.0, 0.0, 0.0,
     "FCR Schifferli 1987; level laboratory page; made by macrophages"},
    {"C1INH", "C1 inhibitor", 200, 105, 0.027, 0.6, 0.7, 0.5, 0.0,
     "FCR Clin Exp Immunol 1985;61:1; liver share and acute-phase gain assumed"},
    {"C4", "C4", 250, 205, 0.0197, 0.37, 0.95, 0.9, 2.0, "Clin Exp Immunol 1989;78:49"},
    {"C2", "C2", 20, 102, 0.020, 0.6, 0.9, 0.3, 0.0, "level laboratory page; FCR assumed"},
    {"C3", "C3", 1200, 185, 0.021, 0.5, 0.92, 0.65, 0.2,
     "Petz 1969; liver share Alper & Rosen 1967; acute-phase gain set by Giasuddin 2007 and Romano 2018"},
    {"FB", "factor B", 210, 93, 0.0195, 1.0, 0.9, 0.7, 0.0, "Charlesworth 1974"},
    {"FH", "factor H", 500, 155, 0.013, 0.5, 0.9, 0.1, 0.0, "Clin Exp Immunol 1979;38:397"},
    {"FI", "factor I", 40, 88, 0.015, 0.6, 0.95, 0.3, 0.0, "level laboratory page; FCR assumed"},
    {"C4BP", "C4b-binding protein", 250, 570, 0.015, 0.0, 1.0, 0.6, 0.0, "rise Blood 1994;84:815; FCR assumed"},
    {"C5", "C5", 75, 190, 0.018, 0.5, 0.95, 0.2, 0.0, "Sissons 1977"},
    {"C9", "C9 (stands for C6 to C9)", 60, 71, 0.015, 0.6, 0.9, 0.7, 0.0, "level laboratory page; FCR assumed"},
}};

// Index in `proteins`, or -1.
constexpr int protein_index(std::string_view name) {
  for (std::size_t i = 0; i < proteins.size(); ++i) {
    if (name == proteins[i].name) return static_cast<int>(i);
  }
  return -1;
}

// nmol/L from mg/L of a protein of `mass` kDa: 1 mg/L = 1000/mass nmol/L.
constexpr double nanomolar(double milligrams_per_litre, double mass) {
  return milligrams_per_litre * 1000.0 / mass;
}
constexpr double milligrams(double nanomolar_value, double mass) {
  return nanomolar_value * mass / 1000.0;
}
// g/L of a protein of the table from its nmol/L.
constexpr double grams_per_litre(std::string_view protein, double nanomolar_value) {
  return milligrams(nanomolar_value, proteins[static_cast<std::size_t>(protein_index(protein))].mass) / 1000.0;
}

// Transcapillary escape, fraction of the plasma pool an hour: albumin (66 kDa) 5 %, IgG (150 kDa) 3 % and IgM
// (950 kDa) 0.9 %/h (Rossing 1978), 2.25 %/h at 200 kDa, interpolated in log mass.
double transcapillary_escape(double mass);

}  // namespace drawdown::body
