// Chapter tissue: settled complexes inflame through Fc receptors and through C5a; inflammation injures (saturating at
// 1), injury heals over weeks, an injured kidney lets protein into the urine.
#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

void write_tissue(Builder& b) {
  b.chapter("tissue");
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    b.species("inflammation_" + at, "inflammation of the " + at, "relative", 0.5);
    b.species("injury_" + at, "injury of the " + at + ", 0 to 1", "fraction", 0.5);
  }
  b.species("urine_protein", "urine protein, 1 = severe", "relative", 0.5);

  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    b.reaction("inflame_fc_" + at, "settled complexes inflame the " + at + " through Fc receptors", tissue.inflaming_fc,
               "/h", "assumed")
        .gain("inflammation_" + at)
        .by("deposit_" + at)
        .rising("glucocorticoid", -0.7, "per full effect", "assumed");
    b.reaction("inflame_c5a_" + at, "complement fragments inflame the " + at, tissue.inflaming_c5a, "/h", "assumed")
        .gain("inflammation_" + at)
        .by("deposit_" + at)
        .saturating("C5a", 0.2, "nmol/L", "assumed")
        .rising("glucocorticoid", -0.7, "per full effect", "assumed");
    b.reaction("calm_" + at, "inflammation of the " + at + " settles", tissue.calming, "/h", "two days: assumed")
        .lose("inflammation_" + at)
        .by("inflammation_" + at);
    // Twice saturating: a little inflammation is borne, a strong one injures.
    b.reaction("injure_" + at, "inflammation injures the " + at, tissue.injuring, "/h", "weeks; assumed")
        .gain("injury_" + at)
        .saturating("inflammation_" + at, 0.8, "relative", "assumed")
        .saturating("inflammation_" + at, 0.8, "relative", "assumed")
        .rising("injury_" + at, -1.0, "per unit", "injury saturates at 1");
    b.reaction("heal_" + at, "injury of the " + at + " heals", tissue.healing, "/h", "half-life about 18 days: assumed")
        .lose("injury_" + at)
        .by("injury_" + at);
  }
  b.reaction("protein_appears", "the injured kidney lets protein through", 0.006, "/h", "days: assumed")
      .gain("urine_protein")
      .by("injury_kidney");
  b.reaction("protein_fades", "urine protein follows the injury", 0.006, "/h", "days: assumed")
      .lose("urine_protein")
      .by("urine_protein");
}

}  // namespace drawdown::body
