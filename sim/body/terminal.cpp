// Chapter terminal: where bound C3b is dense both convertases cleave C5; C5a calls in inflammation, C5b with C9 (C6 to
// C8 are not modelled apart) makes the attack complex on tissue or the soluble sC5b-9. A C5 blocker stops this step and
// nothing above it.
#include <array>
#include <string>
#include <vector>

#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

void write_terminal(Builder& b) {
  b.chapter("terminal");
  b.species("C5a", "C5a", "nmol/L plasma", 0.1, {"C5"});
  b.species("sC5b9", "soluble attack complex sC5b-9", "nmol/L plasma", 0.1);
  b.species("attack", "membrane attack on tissue", "nmol per L of plasma", 0.1);

  // Where bound C3b is dense: on complexes, a little on host cells, and most on an activating surface, which the host's
  // regulators do not protect. What is cleaved makes the soluble complex, attacks the tissue, or finds no C9.
  struct Enzyme {
    std::string name, label, enzyme;
    double kcat;  // /h
    std::string dense_on;
    double half;        // in the unit of `dense_on`
    std::string place;  // that it counts for; empty: as what fed the surface's C3b
  };
  std::vector<Enzyme> enzymes{
      {"classical_red_cells", "the classical convertase on red cells", "C4b2a_red_cells", 15.0, "C3b_surface", 0.05,
       "red_cells"},
      {"host", "the surface loop on the host's cells", "C3bBb_surface", 180.0, "C3b_surface", 0.05, ""},
      {"activator", "the surface loop on an activating surface", "C3bBb_surface", 330.0, "activator", 8.0, ""}};
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    enzymes.push_back(
        {"classical_" + at, "the classical convertase in the " + at, "C4b2a_" + at, 15.0, "C3b_surface", 0.05, at});
    enzymes.push_back({"loop_" + at, "the loop's enzyme on complexes in the " + at, "C3bIgGBb_" + at, 30.0,
                       "C3bIgG_" + at, 0.05, at});
  }
  struct Product {
    const char* name;
    const char* label;
    double share;
    double c9;  // molecules of C9 in it: shares and numbers assumed
  };
  static constexpr std::array<Product, 2> products{
      {{"sC5b9", "sC5b-9 goes into the plasma", 0.7, 1.5}, {"attack", "the tissue is attacked", 0.3, 3.0}}};
  const auto cleave = [&b](const Enzyme& e, const std::string& name, const std::string& what, double share) {
    auto reaction = b.reaction("c5_" + e.name + "_" + name, e.label + " cleaves C5; " + what, e.kcat * share, "/h",
                               "assumed, set by C5 in nephritis (Kohler & ten Bensel 1969) and the loop's share of C5a "
                               "(Harboe & Mollnes 2008)");
    reaction.lose("C5").gain("C5a").by(e.enzyme).unblocked("C5");
    reaction.saturating("C5", 400.0, "nmol/L", "assumed near the normal level");
    reaction.saturating(e.dense_on, e.half, "as the species", "assumed");
    if (e.place.empty()) {
      reaction.rising("c5_nephritic_factor", 25.0, "per unit",
                      "assumed, set by C5 in people who carry it (Varade 1990)");
      reaction.as("surface_C3b");
    } else {
      reaction.at(e.place);
    }
    return reaction;
  };
  for (const Enzyme& enzyme : enzymes) {
    for (const Product& product : products) {
      cleave(enzyme, product.name, product.label, product.share)
          .lose("C9", product.c9)
          .gain(product.name)
          .saturating("C9", 30.0, "nmol/L", "assumed");
    }
    cleave(enzyme, "idle", "it finds no C9", 1.0).repressed("C9", 30.0, 1, "nmol/L", "assumed");
  }
  b.reaction("c5_rest", "a trace of C5 is always cleaved", 0.00021, "/h", "set by sC5b-9 at rest, 0.1-0.25 nM")
      .lose("C5")
      .gain("C5a")
      .lose("C9", 1.5)
      .gain("sC5b9")
      .by("C5")
      .saturating("C9", 30.0, "nmol/L", "assumed")
      .unblocked("C5")
      .at("fluid");
  b.reaction("clear_C5a", "C5a is cleared", 8.0, "/h", "minutes: assumed").lose("C5a").by("C5a");
  b.reaction("clear_sC5b9", "sC5b-9 is cleared", 0.693, "/h", "half-life about 1 h, from memory")
      .lose("sC5b9")
      .by("sC5b9");
  b.reaction("repair_attack", "attacked membranes are shed or repaired", 0.06, "/h", "half a day: assumed")
      .lose("attack")
      .by("attack");
}

}  // namespace drawdown::body
