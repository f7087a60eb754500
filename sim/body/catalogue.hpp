// What a body is made of, as rows: proteins, tissues, levers, readouts, and the chapters that say what acts on what.
// A catalogue is a value: take standard_catalogue(), add rows, and make a Model of it (model.hpp). Everything that
// lists proteins, levers, tissues or readouts - the solver, production and use, tables, the lab sheet, tracks, menus,
// SBML, equations - reads these rows.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "body/levers.hpp"

namespace drawdown::body {

class Builder;
class Model;

// A circulating protein.
struct Protein {
  std::string name;  // species name; the pool in tissue fluid is name + "_tissue"
  std::string label;
  double level = 0.0;        // plasma level in health, mg/L
  double mass = 100.0;       // kDa
  double fcr = 0.02;         // fractional catabolic rate, fraction of the plasma pool an hour
  double outside = 0.0;      // extravascular pool / plasma pool; 0 = stays in the plasma
  double liver_share = 0.9;  // of synthesis, 0-1
  double acute_gain = 0.0;   // rise of synthesis at a full acute-phase signal, fraction
  double leak_gain = 0.0;    // rise of escape into tissue at a full leak, fraction
  std::string source;
  std::string gene_lever = {};  // lever that counts its working gene copies; empty: none
  double gene_copies = 2.0;     // usual value of that lever
  double pregnancy_gain = 0.0;  // rise of synthesis in the third trimester, fraction
  std::string pregnancy_source = {};
  double il6_share = 0.0;   // of resting synthesis that stops when IL-6 is blocked, fraction
  double food_share = 0.0;  // of synthesis that stops in severe malnutrition, fraction
  // How a laboratory reports it: its readout's name, in g/L (or mg/L), and the decimals a report prints.
  std::string reading = {};
  bool in_grams = false;
  int decimals = 0;
  bool in_course = true;  // a column of a course's table
  // Lever: the fraction of it that a medicine blocks, in the body and in the laboratory's tube; empty: none does.
  std::string blocked_by = {};
};

struct Tissue {
  std::string name;         // species are deposit_, inflammation_ and injury_ + name; words: tissue.<name>
  std::string figure;       // outline in assets/shapes.toml
  std::string share_lever;  // lever: the weight with which complexes settle here
  double waking = 0.0034;   // of C1 by settled complexes, /h per deposit
  std::string source = "assumed, set by C4 use in lupus nephritis (Clin Exp Immunol 1989;78:49)";
  // Share of the C3b made there that is bound to the complexes' IgG, where it carries an enzyme that factors H and I
  // hardly reach, 0 to 0.95. Assumed.
  double to_igg = 0.15;
  // All an hour, all assumed: how settled complexes inflame it through Fc receptors and through C5a, how fast it calms
  // down (days), how inflammation injures it and how fast that heals (weeks).
  double inflaming_fc = 0.010;
  double inflaming_c5a = 0.018;
  double calming = 0.018;
  double injuring = 0.0045;
  double healing = 0.0016;
};

// A number read from the state, as a laboratory or a clinician would ask for it.
struct Readout {
  using Read = std::function<double(const double* state, const double* levers)>;
  std::string name;  // head of its column
  std::string unit;
  double scale = 1.0;  // a typical amount
  int decimals = 2;
  std::string key = {};          // of its words: track.<key>, lab.<key>
  bool track = false;            // can be drawn beside C3 and C4
  bool on_sheet = false;         // stands on the lab sheet
  double low = 0.0, high = 0.0;  // interval printed there; high 0: none
  double scatter = 0.0;          // of a laboratory's answer, fraction; 0: as it is
  bool in_course = true;         // a column of a course's table
  // Looks up by name what it reads, once, when a model is made; gives the function of state and levers (by their
  // order in the model).
  std::function<Read(const Model&)> prepare;
  // As the laboratory reads it from a sample: the value in the blood, changed by what the laboratory's levers say has
  // been done to it. Empty: as in the blood.
  std::function<std::function<double(double value, const double* levers)>(const Model&)> in_sample;
};

using Chapter = std::function<void(Builder&)>;

struct Catalogue {
  std::vector<Protein> proteins;
  std::vector<Tissue> tissues;
  std::vector<Lever> levers;
  std::vector<Readout> readouts;
  std::vector<Chapter> chapters;
};

[[nodiscard]] Catalogue standard_catalogue();

// A protein's row, its levers (this person's synthesis and turnover; gene copies where the row has them and no such
// lever stands in the catalogue yet) and its readout.
void add_protein(Catalogue& catalogue, const Protein& protein);
// A tissue's row and its lever: the weight with which complexes settle there.
void add_tissue(Catalogue& catalogue, const Tissue& tissue);

// The standard rows, each list in a file of its own.
[[nodiscard]] std::vector<Protein> standard_proteins();
[[nodiscard]] std::vector<Lever> standard_levers();
[[nodiscard]] std::vector<Readout> standard_readouts();
// Puts the readouts in a report's order, and says which are printed and drawn, and of those a sample's days in the
// fridge change how they do.
void complete_report(Catalogue& catalogue);

// nmol/L from mg/L of a protein of `mass` kDa: 1 mg/L = 1000/mass nmol/L.
constexpr double nanomolar(double milligrams_per_litre, double mass) {
  return milligrams_per_litre * 1000.0 / mass;
}
constexpr double milligrams(double nanomolar_value, double mass) {
  return nanomolar_value * mass / 1000.0;
}

// Transcapillary escape, fraction of the plasma pool an hour: albumin (66 kDa) 5 %, IgG (150 kDa) 3 % and IgM
// (950 kDa) 0.9 %/h (Rossing 1978), 2.25 %/h at 200 kDa, interpolated in log mass.
double transcapillary_escape(double mass);

}  // namespace drawdown::body
