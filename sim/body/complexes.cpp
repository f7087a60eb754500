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
      .floored("C1", 0.5, nanomolar(100, 460), "help of C1q: assumed");

  b.reaction("complex_forms", "antibody binds debris", 0.0022, "/h", "assumed")
      .lose("antibody")
      .lose("antigen")
      .gain("complexes")
      .by("antibody")
      .by("antigen");
  b.reaction("complex_cleared", "complexes are carried away, better with C3", 0.020, "/h", "saturable; assumed")
      .lose("complexes")
      .saturating("complexes", 1.0, "relative", "assumed")
      .by("clearance")
      .floored("C3", 0.5, nanomolar(1200, 185), "help of C3: assumed");
  b.reaction("complex_exchanged", "complexes are removed by plasma exchange", 1.0, "per plasma volume",
             "definition of the lever")
      .lose("complexes")
      .by("complexes")
      .by("plasma_exchange");
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    b.reaction("settle_" + at, "complexes settle in the " + at, 0.012, "/h", "assumed")
        .lose("complexes")
        .gain("deposit_" + at)
        .by("complexes")
        .by(tissue.share_lever);
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
