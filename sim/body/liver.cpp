// Chapter liver: all inflammation, and an outside trigger such as infection, feed one signal; with a day's lag the
// liver makes more C3, C4 and other acute-phase proteins. How strongly differs between people and is a lever.
#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

void write_liver(Builder& b) {
  b.chapter("liver");
  for (const Tissue& tissue : b.catalogue().tissues) {
    b.reaction("signal_" + tissue.name, "the inflamed " + tissue.name + " signals to the liver", 0.115, "/h", "assumed")
        .gain("il6")
        .by("inflammation_" + tissue.name);
  }
  b.reaction("signal_infection", "infection signals to the liver", 1.15, "/h", "assumed").gain("il6").by("infection");
  b.reaction("signal_trigger", "inflammation without germs signals to the liver", 1.15, "/h", "assumed")
      .gain("il6")
      .by("acute_trigger");
  b.reaction("signal_fades", "the signal fades", 0.115, "/h", "half-life 6 h: assumed").lose("il6").by("il6");
  b.reaction("acute_rises", "the liver turns to acute-phase proteins", 1.0 / 24, "/h", "a day's lag")
      .gain("acute_phase")
      .saturating("il6", 1.0, "relative", "assumed")
      .by("acute_phase_response")
      .rising("il6_block", -1.0, "per fraction blocked", "definition of the lever");
  b.reaction("acute_fades", "the liver turns back", 1.0 / 24, "/h", "a day's lag")
      .lose("acute_phase")
      .by("acute_phase");
  // Where IL-6 is blocked the liver makes less than at rest, within weeks (Romano 2018: C4 -45 % in a month, -55 % in a
  // year).
  b.reaction("il6_missed", "the liver comes to miss IL-6", 1.0 / 480, "/h", "three weeks, set by Romano 2018")
      .gain("il6_lack")
      .by("il6_block");
  b.reaction("il6_regained", "the liver no longer misses IL-6", 1.0 / 480, "/h", "three weeks, set by Romano 2018")
      .lose("il6_lack")
      .by("il6_lack");
}

}  // namespace drawdown::body
