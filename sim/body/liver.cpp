// Chapter liver: all inflammation, and an outside trigger such as infection, feed one signal; with a day's lag the
// liver makes more C3, C4 and other acute-phase proteins. How strongly differs between people and is a lever.
#include "body/body.hpp"
#include "body/builder.hpp"

namespace drawdown::body {

void write_liver(Builder& b) {
  b.chapter("liver");
  for (const char* tissue : tissues) {
    b.reaction(std::string("signal_") + tissue, std::string("the inflamed ") + tissue + " signals to the liver", 0.115,
               "/h", "assumed")
        .gain("il6")
        .by(std::string("inflammation_") + tissue);
  }
  b.reaction("signal_infection", "an outside trigger signals to the liver", 1.15, "/h", "assumed")
      .gain("il6")
      .by("infection");
  b.reaction("signal_fades", "the signal fades", 0.115, "/h", "half-life 6 h: assumed").lose("il6").by("il6");
  b.reaction("acute_rises", "the liver turns to acute-phase proteins", 1.0 / 24, "/h", "a day's lag")
      .gain("acute_phase")
      .saturating("il6", 1.0, "relative", "assumed")
      .by("acute_phase_response")
      .unblocked("il6_block");
  b.reaction("acute_fades", "the liver turns back", 1.0 / 24, "/h", "a day's lag")
      .lose("acute_phase")
      .by("acute_phase");
}

void write_moieties(Builder& b) {
  b.moiety("C3", {{"C3", 1},
                  {"C3_tissue", 1},
                  {"C3b", 1},
                  {"C3bBb", 1},
                  {"C3b_surface", 1},
                  {"C3bBb_surface", 1},
                  {"iC3b", 1},
                  {"C3d", 1}});
  b.moiety("C4", {{"C4", 1}, {"C4_tissue", 1}, {"C4b2a", 1}, {"C4d", 1}});
  b.moiety("factor B", {{"FB", 1}, {"FB_tissue", 1}, {"C3bBb", 1}, {"C3bBb_surface", 1}, {"Bb", 1}});
  b.moiety("C5", {{"C5", 1}, {"C5_tissue", 1}, {"C5a", 1}});
}

}  // namespace drawdown::body
