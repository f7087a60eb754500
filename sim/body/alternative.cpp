// Chapter alternative: two amplification loops of the same shape, in the fluid and on surfaces. C3b with factor B makes
// an enzyme that makes more C3b; factors H and I hold it. How much C3 the loop costs is trigger / (1 - gain); a gain
// above 1 empties C3, which must come out of the rates, not be written in.
//
// The surface loop is never lit by round-off: a share of fluid C3b lands on host cells at all times. Surface sites
// saturate. Membrane regulators (CD46, CD55, CR1) are part of the constants, so a failing liver, which makes less
// factor H and I but also less C3 and B, does not set the loop alight.
#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

namespace {
constexpr const char* pangburn = "Pangburn & Mueller-Eberhard 1986 (kcat 1.78 /s, Km 5.86 uM, half-life 90 s)";
constexpr double kcat = 6408.0;      // /h
constexpr double c3_half = 5860.0;   // nM
constexpr double base_decay = 27.7;  // /h, half-life 90 s
constexpr double usual_h = nanomolar(500, 155);
constexpr double sites = 3.0;  // nM of surface C3b at which landing is halved

// `surface`: what forms there counts for what fed the surface's C3b; in the fluid it counts for the fluid.
void write_loop(Builder& b, const std::string& c3b, const std::string& convertase, bool surface, double form,
                double decay, double decay_h, const char* source) {
  const char* where = surface ? "on surfaces" : "in the fluid";
  auto forms = b.reaction("form_" + convertase, std::string("C3b takes factor B: the loop's enzyme forms ") + where,
                          form, "/nM/h", source);
  forms.lose(c3b).lose("FB").gain(convertase).by(c3b).by("FB").unblocked("FB");
  if (surface) forms.as("surface_C3b");
  if (!surface) forms.at("fluid");
  b.reaction("decay_" + convertase, std::string("the loop's enzyme falls apart, faster with factor H ") + where, decay,
             "/h", source)
      .lose(convertase)
      .gain(c3b)
      .gain("Bb")
      .by(convertase)
      .rising("FH", decay_h / usual_h, "per nmol/L", "acceleration at the normal level: assumed")
      .divided_by("nephritic_factor");
}

}  // namespace

void write_alternative(Builder& b) {
  b.chapter("alternative");
  b.species("C3b", "C3b in the fluid", "nmol/L plasma", 0.3, {"C3"});
  b.species("C3bBb", "loop enzyme in the fluid", "nmol/L plasma", 1e-2, {"C3", "factor B"});
  b.species("C3b_surface", "C3b on surfaces", "nmol/L plasma", 1e-2, {"C3"});
  b.species("C3bBb_surface", "loop enzyme on surfaces", "nmol/L plasma", 1e-3, {"C3", "factor B"});
  b.species("iC3b", "iC3b", "nmol/L plasma", 100.0, {"C3"});
  b.species("C3d", "C3d", "nmol/L plasma", 100.0, {"C3"});
  b.species("C3a", "C3a", "nmol/L plasma", 5.0);
  b.species("Bb", "Bb", "nmol/L plasma", 1.0, {"factor B"});
  b.species("activator", "activating surface after infection", "relative", 0.1);
  // What a loop uses counts for what fed its C3b.
  b.carrier("surface_C3b", {"C3b_surface", "C3bBb_surface"});

  b.reaction("tick_over", "C3 opens by itself", 0.0019, "/h", "Pangburn 1981 (0.2-0.4 %/h)")
      .lose("C3")
      .gain("C3b")
      .gain("C3a")
      .by("C3")
      .unblocked("C3")
      .at("fluid");

  write_loop(b, "C3b", "C3bBb", false, 3.1e-4, base_decay * 1.3, 2.0,
             "half-life 90 s (Pangburn & Mueller-Eberhard 1986); formation assumed for a resting gain near 0.35");
  b.reaction("c3_loop", "the fluid loop cleaves C3", kcat, "/h", pangburn)
      .lose("C3")
      .gain("C3a")
      .gain("C3b")
      .by("C3bBb")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .unblocked("C3")
      .at("fluid");
  b.reaction("stop_C3b", "factor I with factor H or CR1 ends C3b", 60.0 / nanomolar(40, 88), "/nM/h",
             "normal plasma ends C3b within a minute: assumed")
      .lose("C3b")
      .gain("iC3b")
      .by("C3b")
      .by("FI")
      .floored("FH", 0.3, usual_h, "share of CR1 as cofactor: assumed");
  b.reaction("clear_C3b", "C3b is taken up whole", 0.1, "/h", "set by C3 antigen in factor I deficiency (Vyse 1996)")
      .lose("C3b")
      .by("C3b");
  b.reaction("land_C3b", "a little fluid C3b lands on host cells", 0.5, "/h", "about 1 % of fluid C3b: assumed")
      .lose("C3b")
      .gain("C3b_surface")
      .by("C3b")
      .repressed("C3b_surface", sites, 1, "nmol/L", "sites on host cells: assumed")
      .repressed("infused", 3.0, 1, "g/kg", "immunoglobulin takes up C3b (Blood 2004;103:465, size assumed)")
      .at("fluid");

  write_loop(b, "C3b_surface", "C3bBb_surface", true, 5.8e-4, 12.0, 0.4,
             "half-life 90 s; properdin and membrane regulators in the constant, assumed for a resting gain near 0.5");
  b.reaction("c3_surface_bound", "the surface loop cleaves C3, bound next to it", 0.1 * kcat, "/h", pangburn)
      .lose("C3")
      .gain("C3a")
      .gain("C3b_surface")
      .by("C3bBb_surface")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .repressed("C3b_surface", sites, 1, "nmol/L", "surface sites: assumed")
      .unblocked("C3")
      .as("surface_C3b");
  b.reaction("c3_surface_free", "the surface loop cleaves C3, released into the fluid", 0.9 * kcat, "/h", pangburn)
      .lose("C3")
      .gain("C3a")
      .gain("C3b")
      .by("C3bBb_surface")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .repressed("C3b_surface", sites, 1, "nmol/L", "surface sites: assumed")
      .unblocked("C3")
      .as("surface_C3b");
  b.reaction("stop_C3b_surface", "factor I with membrane cofactors and factor H ends surface C3b",
             40.0 / nanomolar(40, 88), "/nM/h", "minutes on host cells: assumed")
      .lose("C3b_surface")
      .gain("iC3b")
      .by("C3b_surface")
      .by("FI")
      .floored("FH", 0.6, usual_h, "share of membrane cofactors: assumed");
  b.reaction("shed_C3b_surface", "C3b is shed with its surface", 0.5, "/h", "assumed")
      .lose("C3b_surface")
      .by("C3b_surface");

  b.reaction("activator_arrives", "an activating surface settles after infection", 0.1, "/h", "assumed")
      .gain("activator")
      .by("activating_surface");
  b.reaction("activator_clears", "the activating surface is cleared", 0.0019, "/h", "half-life about 15 days: assumed")
      .lose("activator")
      .by("activator");
  b.reaction("activator_works", "the loop's enzyme forms on the activating surface", 2.4, "nmol/L/h",
             "assumed, set by C3 under half in post-infectious nephritis (Cameron 1973)")
      .lose("C3")
      .gain("C3a")
      .lose("FB")
      .gain("C3bBb_surface")
      .saturating("activator", 6.0, "relative", "assumed")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .saturating("FB", 2000.0, "nmol/L", "assumed")
      .unblocked("FB")
      .at("kidney");

  b.reaction("trim_iC3b", "iC3b is cut to C3d", 0.173, "/h", "half-life about 4 h (Brandslund 1983)")
      .lose("iC3b")
      .gain("C3d")
      .by("iC3b");
  b.reaction("clear_C3d", "C3d is cleared", 0.17, "/h", "half-life about 4 h (Brandslund 1983)").lose("C3d").by("C3d");
  b.reaction("clear_C3a", "C3a is cleared", 4.0, "/h", "set by the resting level of about 5 nM").lose("C3a").by("C3a");
  b.reaction("clear_Bb", "Bb is cleared", 0.5, "/h", "assumed").lose("Bb").by("Bb");
}

}  // namespace drawdown::body
