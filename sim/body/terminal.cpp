// Chapter terminal: where bound C3b is dense both convertases cleave C5; C5a calls in inflammation, C5b with C6 to C9
// makes the attack complex on tissue or the soluble sC5b-9. A C5 blocker stops this step and nothing above it.
#include <array>

#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

void write_terminal(Builder& b) {
  b.chapter("terminal");
  b.species("C5a", "C5a", "nmol/L plasma", 0.1, {"C5"});
  b.species("sC5b9", "soluble attack complex sC5b-9", "nmol/L plasma", 0.1);
  b.species("attack", "membrane attack on tissue", "nmol per L of plasma", 0.1);

  // Where bound C3b is dense: on complexes, a little on host cells, and most on an activating surface, which the host's
  // regulators do not protect.
  struct Enzyme {
    const char* reaction;
    const char* enzyme;
    const char* carrier;
    const char* label;
    double kcat;  // /h
    const char* dense_on;
    double half;
  };
  static constexpr std::array<Enzyme, 3> enzymes{
      {{"classical", "C4b2a", "C4b2a", "the classical convertase", 100.0, "C3b_surface", 0.05},
       {"host", "C3bBb_surface", "surface_C3b", "the surface loop on the host's cells", 110.0, "C3b_surface", 0.05},
       {"activator", "C3bBb_surface", "surface_C3b", "the surface loop on an activating surface", 330.0, "activator",
        8.0}}};
  struct Product {
    const char* name;
    const char* label;
    double share;
    double c9;  // molecules of C9 in it
  };
  static constexpr std::array<Product, 2> products{
      {{"sC5b9", "sC5b-9 goes into the plasma", 0.7, 3.0}, {"attack", "the tissue is attacked", 0.3, 6.0}}};
  const auto cleave = [&b](const Enzyme& e, const std::string& name, const std::string& what, double share) {
    auto reaction =
        b.reaction("c5_" + std::string(e.reaction) + "_" + name, std::string(e.label) + " cleaves C5; " + what,
                   e.kcat * share, "/h", "assumed, set by C5 in nephritis (Kohler & ten Bensel 1969)");
    reaction.lose("C5").gain("C5a").by(e.enzyme).unblocked("C5").as(e.carrier);
    reaction.saturating("C5", 400.0, "nmol/L", "assumed near the normal level");
    reaction.saturating(e.dense_on, e.half, "as the species", "assumed");
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
  b.reaction("clear_C5a", "C5a is cleared", 8.0, "/h", "minutes: assumed").lose("C5a").by("C5a");
  b.reaction("clear_sC5b9", "sC5b-9 is cleared", 0.693, "/h", "half-life about 1 h, from memory")
      .lose("sC5b9")
      .by("sC5b9");
  b.reaction("repair_attack", "attacked membranes are shed or repaired", 0.06, "/h", "half a day: assumed")
      .lose("attack")
      .by("attack");
}

}  // namespace drawdown::body
