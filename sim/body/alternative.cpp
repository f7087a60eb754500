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
constexpr double usual_i = nanomolar(40, 88);
constexpr double usual_b = nanomolar(210, 93);
constexpr double usual_d = nanomolar(1.8, 24);
constexpr double usual_p = nanomolar(24, 159);
constexpr double sites = 3.0;  // nM of surface C3b at which landing is halved

// Factors B, H and I are not the scarce ones at their usual levels: half a gene dose keeps most of the work (carriers
// of one working factor I or H gene have C3 near normal: Nielsen 1989, Vyse 1994). Level at half effect, nM.
constexpr double spare_b = 1.0 * usual_b;
constexpr double spare_h = 0.8 * usual_h;
constexpr double spare_i = 0.6 * usual_i;
constexpr double spare_d = 0.1 * usual_d;
constexpr double spare_p = 0.5 * usual_p;
constexpr const char* spare_source = "half a gene dose keeps most of it (carriers: Vyse 1994, Nielsen 1989): assumed";

// What makes a saturating factor 1 at the usual level.
constexpr double full(double spare, double usual) {
  return (spare + usual) / usual;
}

// The loop's enzyme, wherever it stands: it forms, falls apart by itself, and factor H takes it apart.
struct Loop {
  std::string c3b, convertase, where, place, carrier;
  double form;     // /h per C3b at the usual levels of factors B and D
  double decay;    // /h by itself
  double undo;     // /h by factor H at its usual level
  bool properdin;  // where it is held together by properdin, `decay` is with it at its usual level
  const char* source;
};

// What forms counts for what fed the carrier, or for the place.
void write_loop(Builder& b, const Loop& loop) {
  auto forms = b.reaction("form_" + loop.convertase,
                          "C3b takes factor B, factor D cuts it: the loop's enzyme forms " + loop.where,
                          loop.form * full(spare_b, usual_b) * full(spare_d, usual_d), "/h", loop.source);
  forms.lose(loop.c3b).lose("FB").gain(loop.convertase).by(loop.c3b);
  forms.saturating("FB", spare_b, "nmol/L", "C3b takes factor B up to a limit: assumed near the usual level");
  forms.saturating("FD", spare_d, "nmol/L", "factor D is not the scarce one: assumed");
  forms.unblocked("FB");
  if (loop.carrier.empty()) {
    forms.at(loop.place);
  } else {
    forms.as(loop.carrier);
  }
  auto decays = b.reaction("decay_" + loop.convertase, "the loop's enzyme falls apart by itself " + loop.where,
                           loop.decay * (loop.properdin ? 1.0 + usual_p / spare_p : 1.0), "/h", loop.source);
  decays.lose(loop.convertase).gain(loop.c3b).gain("Bb").by(loop.convertase).divided_by("nephritic_factor");
  if (!loop.carrier.empty()) {
    decays.repressed("c5_nephritic_factor", 0.5, 1, "relative",
                     "it holds the enzyme that cleaves C5 together: size assumed");
  }
  if (loop.properdin) decays.repressed("P", spare_p, 1, "nmol/L", "properdin holds it together: size assumed");
  b.reaction("undo_" + loop.convertase, "factor H takes the loop's enzyme apart " + loop.where,
             loop.undo * full(spare_h, usual_h), "/h", "acceleration at the usual level: assumed")
      .lose(loop.convertase)
      .gain(loop.c3b)
      .gain("Bb")
      .by(loop.convertase)
      .saturating("FH", spare_h, "nmol/L", spare_source)
      .divided_by("nephritic_factor");
}

// Factor I ends C3b, a part of the time with factor H, else with cofactors of the membranes.
void write_stop(Builder& b, const std::string& c3b, const std::string& where, double rate, double by_h,
                const char* source) {
  const double i = full(spare_i, usual_i);
  b.reaction("stop_" + c3b, "factor I with membrane cofactors ends C3b " + where, rate * (1.0 - by_h) * i, "/h", source)
      .lose(c3b)
      .gain("iC3b")
      .by(c3b)
      .saturating("FI", spare_i, "nmol/L", spare_source);
  b.reaction("stop_h_" + c3b, "factor I with factor H ends C3b " + where, rate * by_h * i * full(spare_h, usual_h),
             "/h", source)
      .lose(c3b)
      .gain("iC3b")
      .by(c3b)
      .saturating("FI", spare_i, "nmol/L", spare_source)
      .saturating("FH", spare_h, "nmol/L", spare_source);
}

ReactionBuilder use_properdin(Builder& b, const std::string& enzyme) {
  auto used = b.reaction("properdin_" + enzyme,
                         "properdin is used up holding the loop's enzyme together (" + enzyme + ")", 0.02, "/nM/h",
                         "assumed, set by properdin a little low in active disease (Int Arch Allergy 1983;70:12)");
  used.lose("P").by("P").by(enzyme).rising("c5_nephritic_factor", 30.0, "per unit",
                                           "assumed, set by properdin in people who carry it (Varade 1990)");
  return used;
}

// C3b bound to the IgG of settled complexes: a nucleus that factors H and I hardly reach (Fries 1985,
// from memory) and that properdin helps to an enzyme that lasts. What it cleaves goes into the fluid: it does
// not beget itself, so it is bounded whatever the levers.
void write_complex_loop(Builder& b, const std::string& tissue) {
  const std::string c3b = "C3bIgG_" + tissue;
  const std::string enzyme = "C3bIgGBb_" + tissue;
  const std::string where = "on complexes (" + tissue + ")";
  write_loop(b,
             {c3b, enzyme, where, tissue, "", 5.4, 100.0, 40.0, true,
              "assumed: of formation, decay and the nucleus' own end only the C3 cleaved a nucleus shows in levels"});
  b.reaction("c3_loop_" + tissue, "the loop's enzyme " + where + " cleaves C3, released into the fluid", kcat, "/h",
             pangburn)
      .lose("C3")
      .gain("C3a")
      .gain("C3b")
      .by(enzyme)
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .unblocked("C3")
      .at(tissue);
  write_stop(b, c3b, where, 10.0, 0.2,
             "a sixth of the rate in the fluid (partly protected: Fries 1985, from memory): assumed");
  b.reaction("shed_" + c3b, "C3b " + where + " goes with them", 0.5, "/h", "assumed").lose(c3b).by(c3b);
  use_properdin(b, enzyme).at(tissue);
}

}  // namespace

void write_alternative(Builder& b) {
  b.chapter("alternative");
  b.species("C3b", "C3b in the fluid", "nmol/L plasma", 0.3, {"C3"});
  b.species("C3bBb", "loop enzyme in the fluid", "nmol/L plasma", 1e-2, {"C3", "factor B"});
  b.species("C3b_surface", "C3b on surfaces", "nmol/L plasma", 1e-2, {"C3"});
  b.species("C3bBb_surface", "loop enzyme on surfaces", "nmol/L plasma", 1e-3, {"C3", "factor B"});
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string where = " of complexes in the " + tissue.name;
    b.species("C3bIgG_" + tissue.name, "C3b on the IgG" + where, "nmol/L plasma", 1e-2, {"C3"});
    b.species("C3bIgGBb_" + tissue.name, "loop enzyme on the IgG" + where, "nmol/L plasma", 1e-3, {"C3", "factor B"});
  }
  b.species("iC3b", "iC3b", "nmol/L plasma", 100.0, {"C3"});
  b.species("C3d", "C3d", "nmol/L plasma", 100.0, {"C3"});
  b.species("C3a", "C3a", "nmol/L plasma", 5.0);
  b.species("Bb", "Bb", "nmol/L plasma", 1.0, {"factor B"});
  b.species("germs", "germs, 1 = severe", "relative", 0.5);
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

  write_loop(
      b, {"C3b", "C3bBb", "in the fluid", "fluid", "", 1.757e-3 * usual_b, base_decay * 1.3, base_decay * 1.3 * 16.0,
          false, "half-life 90 s (Pangburn & Mueller-Eberhard 1986); formation assumed for a resting gain near 0.35"});
  b.reaction("c3_loop", "the fluid loop cleaves C3", kcat, "/h", pangburn)
      .lose("C3")
      .gain("C3a")
      .gain("C3b")
      .by("C3bBb")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .unblocked("C3")
      .at("fluid");
  write_stop(b, "C3b", "in the fluid", 60.0, 0.7, "normal plasma ends C3b within a minute: assumed");
  b.reaction("clear_C3b", "C3b is taken up whole", 0.5, "/h", "set by C3 antigen in factor I deficiency (Vyse 1996)")
      .lose("C3b")
      .by("C3b");
  b.reaction("land_C3b", "a little fluid C3b lands on host cells", 0.5, "/h", "about 1 % of fluid C3b: assumed")
      .lose("C3b")
      .gain("C3b_surface")
      .by("C3b")
      .repressed("C3b_surface", sites, 1, "nmol/L", "sites on host cells: assumed")
      .repressed("infused", 3.0, 1, "g/kg", "immunoglobulin takes up C3b (Blood 2004;103:465, size assumed)")
      .at("fluid");

  write_loop(
      b, {"C3b_surface", "C3bBb_surface", "on surfaces", "", "surface_C3b", 5.0e-4 * usual_b, 12.0, 12.0 * 0.4, true,
          "half-life 90 s; properdin and membrane regulators in the constant, assumed for a resting gain near 0.5"});
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
  write_stop(b, "C3b_surface", "on surfaces", 40.0, 0.4, "minutes on host cells: assumed");
  b.reaction("shed_C3b_surface", "C3b is shed with its surface", 0.5, "/h", "assumed")
      .lose("C3b_surface")
      .by("C3b_surface");

  for (const Tissue& tissue : b.catalogue().tissues) write_complex_loop(b, tissue.name);
  use_properdin(b, "C3bBb_surface").as("surface_C3b");

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

  // Germs carry the loop's enzyme on their surface, and natural antibody on them wakes C1 (classical chapter). A focal
  // infection raises C3 by the acute phase it brings; only with germs in the blood does use outrun it.
  b.reaction("germs_grow", "germs multiply", 0.04, "/h", "a day: assumed")
      .gain("germs")
      .by("infection")
      .by("infection");
  b.reaction("germs_cleared", "germs are killed", 0.04, "/h", "a day: assumed").lose("germs").by("germs");
  b.reaction("germs_work", "the loop's enzyme forms on germs", 5.0, "nmol/L/h",
             "assumed, set by C3 in septic shock (Brandtzaeg 1996 J Infect Dis 173:647)")
      .lose("C3")
      .gain("C3a")
      .lose("FB")
      .gain("C3bBb_surface")
      .by("germs")
      .by("germs")
      .saturating("C3", c3_half, "nmol/L", pangburn)
      .saturating("FB", 2000.0, "nmol/L", "assumed")
      .unblocked("FB")
      .at("fluid");

  b.reaction("trim_iC3b", "iC3b is cut to C3d", 0.173, "/h", "half-life about 4 h (Brandslund 1983)")
      .lose("iC3b")
      .gain("C3d")
      .by("iC3b");
  b.reaction("clear_C3d", "C3d is cleared", 0.17, "/h", "half-life about 4 h (Brandslund 1983)").lose("C3d").by("C3d");
  b.reaction("clear_C3a", "C3a is cleared", 4.0, "/h", "set by the resting level of about 5 nM").lose("C3a").by("C3a");
  b.reaction("clear_Bb", "Bb is cleared", 0.5, "/h", "assumed").lose("Bb").by("Bb");
}

}  // namespace drawdown::body
