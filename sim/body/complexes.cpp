// Chapter complexes: antibody meets antigen, the complexes circulate, are cleared or settle. Low C1q and C3 slow the
// clearing, and injured tissue gives more antigen: the vicious circle, bounded because injury saturates.
// Amounts are relative: 1 is about what a quiet person with the disease has.
#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

void write_complexes(Builder& b) {
  b.chapter("complexes");
  b.species("antibody_makers", "antibody-making cells", "relative", 1.0);
  b.species("antibody", "free autoantibody", "relative", 1.0);
  b.species("antigen", "nuclear debris", "relative", 1.0);
  b.species("complexes", "circulating complexes", "relative", 1.0);
  for (const Tissue& tissue : b.catalogue().tissues) {
    b.species("deposit_" + tissue.name, "complexes settled in the " + tissue.name, "relative", 1.0);
  }
  b.species("infused", "infused immunoglobulin", "g/kg", 1.0);

  b.reaction("makers_rise", "antibody-making cells appear", 1.0 / 168, "/h", "a week: assumed")
      .gain("antibody_makers")
      .by("antibody_drive")
      .rising("b_cell_treatment", -0.95, "per full effect", "assumed")
      .rising("glucocorticoid", -0.4, "per full effect", "assumed");
  // Without C1q or C4 from birth debris is not removed and self is attacked: nothing at the usual number of genes, and
  // one copy is nearly enough.
  const auto tolerance = [&b](const char* protein, const char* lever, double copies, double size, const char* source) {
    b.reaction(std::string("tolerance_") + protein, std::string("without ") + protein + " antibody-making cells appear",
               size / 168, "/h", source)
        .gain("antibody_makers")
        .rising(lever, -1.0 / copies, "per copy", "nothing at the usual number")
        .rising(lever, -1.0 / copies, "per copy", "nothing at the usual number")
        .repressed(lever, 0.3, 2, "copies", "one copy is nearly enough: assumed")
        .rising("b_cell_treatment", -0.95, "per full effect", "assumed")
        .rising("glucocorticoid", -0.4, "per full effect", "assumed");
  };
  tolerance("C1q", "c1q_gene_copies", 2, 2.0, "lupus in 55-90 % without C1q (Stegert 2015): size assumed");
  tolerance("C4", "c4_gene_copies", 4, 0.75 * 2.0, "lupus in 75 % without C4 (Front Immunol 2016;7:55): size assumed");
  b.reaction("makers_fade", "antibody-making cells fade", 1.0 / 168, "/h", "a week: assumed")
      .lose("antibody_makers")
      .by("antibody_makers");
  b.reaction("antibody_made", "antibody is made", 0.00138 * 2.4, "/h", "IgG half-life 21 days (textbook)")
      .gain("antibody")
      .by("antibody_makers");
  b.reaction("antibody_ages", "antibody is broken down", 0.00138, "/h", "IgG half-life 21 days (textbook)")
      .lose("antibody")
      .by("antibody");
  b.reaction("antibody_exchanged", "antibody is removed by plasma exchange", 1.0, "per plasma volume",
             "definition of the lever")
      .lose("antibody")
      .by("antibody")
      .by("plasma_exchange");

  b.reaction("debris", "cells release nuclear debris", 0.02, "/h", "assumed").gain("antigen").by("antigen_release");
  b.reaction("debris_infection", "infection releases more debris", 0.04, "/h", "assumed")
      .gain("antigen")
      .by("infection");
  for (const Tissue& tissue : b.catalogue().tissues) {
    b.reaction("debris_" + tissue.name, "injured " + tissue.name + " releases more debris", 0.02, "/h", "assumed")
        .gain("antigen")
        .by("injury_" + tissue.name);
  }
  b.reaction("debris_cleared", "phagocytes clear debris, better with C1q", 0.02, "/h", "assumed")
      .lose("antigen")
      .by("antigen")
      .by("clearance")
      .floored("C1", 0.3, nanomolar(100, 460), "help of C1q: assumed")
      .floored("C4", 0.85, nanomolar(250, 205), "help of C4b: assumed");

  b.reaction("complex_forms", "antibody binds debris", 0.0022, "/h", "assumed")
      .lose("antibody")
      .lose("antigen")
      .gain("complexes")
      .by("antibody")
      .by("antigen");
  // Complexes ride on red cells by the C4b and C3b on them and the cells' receptors (CR1) to the liver. Without these
  // they leave the blood no slower, but into tissue (Halma 1992; Clin Exp Immunol 1989;75:329).
  b.reaction("complex_cleared", "red cells carry complexes to the liver", 0.020, "/h", "saturable; assumed")
      .lose("complexes")
      .saturating("complexes", 1.0, "relative", "assumed")
      .by("clearance")
      .floored("red_cell_receptors", 0.5, 1.0, "half of it carried by these receptors: assumed")
      .floored("C4", 0.85, nanomolar(250, 205), "C4b carries complexes: assumed")
      .floored("C3", 0.5, nanomolar(1200, 185), "C3b carries complexes: assumed");
  b.reaction("complex_exchanged", "complexes are removed by plasma exchange", 1.0, "per plasma volume",
             "definition of the lever")
      .lose("complexes")
      .by("complexes")
      .by("plasma_exchange");
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    // Those that no red cell carries are trapped: twice as many without C3 or the receptors, a third more without C4.
    b.reaction("settle_" + at, "complexes settle in the " + at + ", more where red cells do not carry them",
               0.012 * 2.0 * 2.0 * (4.0 / 3.0), "/h", "assumed; 1 / (2 x 2 x 4/3) of it at the usual levels")
        .lose("complexes")
        .gain("deposit_" + at)
        .by("complexes")
        .by(tissue.share_lever)
        .repressed("red_cell_receptors", 1.0, 1, "fraction of usual",
                   "direction Clin Exp Immunol 1989;75:329, size assumed")
        .repressed("C3", nanomolar(1200, 185), 1, "nmol/L",
                   "faster out of the blood without C3 (Halma 1992), size assumed")
        .repressed("C4", 3.0 * nanomolar(250, 205), 1, "nmol/L", "assumed");
    b.reaction("remove_" + at, "settled complexes in the " + at + " are cleared, better with C3", 0.0060, "/h",
               "about a week: assumed")
        .lose("deposit_" + at)
        .by("deposit_" + at)
        .by("clearance")
        .floored("C3", 0.6, nanomolar(1200, 185), "help of C3: assumed");
  }

  b.reaction("infuse", "immunoglobulin is infused", 1.0, "g/kg per g/kg", "definition of the lever")
      .gain("infused")
      .by("immunoglobulin");
  b.reaction("infused_fades", "the activating part of infused immunoglobulin fades", 0.02, "/h",
             "one to two days: assumed")
      .lose("infused")
      .by("infused");
}

}  // namespace drawdown::body
