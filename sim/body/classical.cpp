// Chapter classical: complexes wake C1, C1 cleaves C4 and C2, and together these make the enzyme that cleaves C3.
// Active C1 lives 13 s in undiluted plasma before C1 inhibitor takes it (Ziccardi 1981); in that time it cleaves about
// 35 C4 and 4 C2. On a complex a part of the C4 sticks and builds the C3 convertase; in the fluid almost none does.
#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

namespace {
constexpr const char* ziccardi = "Ziccardi 1981 (35 C4 and 4 C2 per C1, 13 s)";
constexpr double c4_turnover = 12000.0;  // /h at C4 saturation
constexpr double c4_half = 960.0;        // nM
constexpr double c2_half = 40.0;         // nM
constexpr double bound_share = 0.24;     // of cleaved C4 on complexes in tissue
}  // namespace

void write_classical(Builder& b) {
  b.chapter("classical");
  b.species("C1_surface", "active C1 on complexes", "nmol/L plasma", 1e-3);
  b.species("C1_fluid", "active C1 in the fluid", "nmol/L plasma", 1e-3);
  b.species("C4b2a", "classical C3 convertase", "nmol/L plasma", 1e-2, {"C4"});
  b.species("C4d", "C4d", "nmol/L plasma", 10.0, {"C4"});
  // Active C1 and its convertase live seconds to minutes: what they use counts for what woke them.
  for (const char* enzyme : {"C1_surface", "C1_fluid", "C4b2a"}) b.carrier(enzyme, {enzyme});

  b.reaction("wake_alone", "C1 wakes by itself, held back by C1 inhibitor", 0.002, "/h",
             "assumed, set by the C1-inhibitor-deficiency values (Carpenter 1969)")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .repressed("C1INH", 900.0, 2, "nmol/L", "assumed, same values")
      .at("fluid");
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    b.reaction("wake_" + at, "complexes in the " + at + " wake C1", tissue.waking, "/h per deposit", tissue.source)
        .lose("C1")
        .gain("C1_surface")
        .by("C1")
        .by("deposit_" + at)
        .by("fixation")
        .rising("anti_c1q", 0.8, "per unit", "antibodies to C1q strengthen it: direction published, size assumed")
        .at(at);
  }
  b.reaction("wake_red_cells", "cold antibodies on red cells wake C1", 0.006, "/h", "assumed")
      .lose("C1")
      .gain("C1_surface")
      .by("C1")
      .by("cold_antibody")
      .at("red_cells");
  b.reaction("wake_cryoglobulin", "cryoglobulins wake C1 in the blood", 0.040, "/h",
             "set by C1q use 5.84 %/h (Schifferli 1987)")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .by("cryoglobulin")
      .at("fluid");
  b.reaction("wake_circulating", "circulating complexes wake C1 weakly", 0.0006, "/h per complex", "assumed")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .by("complexes")
      .by("fixation")
      .at("fluid");
  b.reaction("wake_infused", "infused immunoglobulin wakes C1 in the fluid", 0.0034, "/h per g/kg",
             "set by C4 use after 2 g/kg (Blood 2004;103:465)")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .by("infused")
      .at("fluid");
  for (const char* where : {"surface", "fluid"}) {
    const std::string active = std::string("C1_") + where;
    b.reaction("catch_" + active, std::string("C1 inhibitor takes active C1 (") + where + ")", 0.10, "/nM/h",
               "Ziccardi 1981 (half-life 13 s at 1.9 uM); four inhibitors a C1 from memory")
        .lose(active)
        .lose("C1INH", 4.0)
        .by(active)
        .by("C1INH")
        .as(active);
    b.reaction("fade_" + active, std::string("active C1 decays without inhibitor (") + where + ")", 2.0, "/h",
               "assumed")
        .lose(active)
        .by(active);
    b.reaction("c2_" + active, std::string("active C1 cleaves C2 (") + where + ")", 1652.0, "/h", ziccardi)
        .lose("C2")
        .by(active)
        .saturating("C4", c4_half, "nmol/L", "C2 is cleaved where it sits on C4b")
        .saturating("C2", c2_half, "nmol/L", "assumed, well below the normal level")
        .unblocked("C1")
        .as(active);
  }
  b.reaction("c4_fluid", "C4 cleaved in the fluid, wasted", c4_turnover, "/h", ziccardi)
      .lose("C4")
      .gain("C4d")
      .by("C1_fluid")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .unblocked("C1")
      .as("C1_fluid");
  b.reaction("c4_surface_lost", "C4 cleaved at complexes, missing the surface", c4_turnover * (1.0 - bound_share), "/h",
             ziccardi)
      .lose("C4")
      .gain("C4d")
      .by("C1_surface")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .unblocked("C1")
      .as("C1_surface");
  constexpr const char* bound_source =
      "share bound: 1-2 % on aggregates, about twelve times more on cells (Ziccardi 1981); 24 % taken, the top of the "
      "range";
  // Where active C1 is sparse, C4b lies alone and membrane regulators undo it before C2 arrives: only dense activation
  // builds convertase. So a slowly growing load costs C4 first and C3 later (Swaak 1986).
  constexpr double dense = 0.0011;  // nM of active surface C1 at half effect
  constexpr const char* dense_source = "assumed, set by C4 falling before C3 (Swaak 1986)";
  b.reaction("c4_convertase", "C4 sticks at complexes and with C2 makes the C3 convertase", c4_turnover * bound_share,
             "/h", bound_source)
      .lose("C4")
      .lose("C2")
      .gain("C4b2a")
      .by("C1_surface")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .saturating("C2", c2_half, "nmol/L", "assumed, well below the normal level")
      .saturating("C1_surface", dense, "nmol/L", dense_source)
      .unblocked("C1")
      .as("C1_surface");
  b.reaction("c4_sparse", "C4 sticks alone and is undone by membrane regulators", c4_turnover * bound_share, "/h",
             bound_source)
      .lose("C4")
      .gain("C4d")
      .by("C1_surface")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .repressed("C1_surface", dense, 1, "nmol/L", dense_source)
      .unblocked("C1")
      .as("C1_surface");
  b.reaction("c4_bound_idle", "C4 sticks at complexes and finds no C2", c4_turnover * bound_share, "/h", bound_source)
      .lose("C4")
      .gain("C4d")
      .by("C1_surface")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .repressed("C2", c2_half, 1, "nmol/L", "assumed, well below the normal level")
      .saturating("C1_surface", dense, "nmol/L", dense_source)
      .unblocked("C1")
      .as("C1_surface");
  b.reaction("decay_C4b2a", "the classical convertase falls apart, faster with C4b-binding protein", 20.8, "/h",
             "half-life 2 min alone, 0.5 min with regulators (derived)")
      .lose("C4b2a")
      .gain("C4d")
      .by("C4b2a")
      .rising("C4BP", 3.0 / nanomolar(250, 570), "per nmol/L", "half-life 0.5 min at the normal level (derived)");
  constexpr double c3_turnover = 1330.0;  // about 12 C3 in a life of 0.72 min
  constexpr double c3_half = 1800.0;
  b.reaction("c3_classical_bound", "the classical convertase cleaves C3, bound at the spot", 0.1 * c3_turnover, "/h",
             "about 10 C3 in its life (derived); 12 taken; 10 % binds (Pangburn & Mueller-Eberhard)")
      .lose("C3")
      .gain("C3a")
      .gain("C3b_surface")
      .by("C4b2a")
      .saturating("C3", c3_half, "nmol/L", "from memory")
      .unblocked("C3")
      .as("C4b2a");
  b.reaction("c3_classical_free", "the classical convertase cleaves C3, released into the fluid", 0.9 * c3_turnover,
             "/h", "about 10 C3 in its life (derived); 12 taken")
      .lose("C3")
      .gain("C3a")
      .gain("C3b")
      .by("C4b2a")
      .saturating("C3", c3_half, "nmol/L", "from memory")
      .unblocked("C3")
      .as("C4b2a");
  b.reaction("clear_C4d", "C4d is cleared", 0.44, "/h", "set by the resting level 0.33 mg/L (Martin 2020)")
      .lose("C4d")
      .by("C4d");
}

}  // namespace drawdown::body
