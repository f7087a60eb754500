// Chapter classical: complexes wake C1, C1 cleaves C4 and C2, and together these make the enzyme that cleaves C3.
// Active C1 lives 13 s in undiluted plasma before C1 inhibitor takes it (Ziccardi 1981); in that time it cleaves about
// 35 C4 and 4 C2. On a complex a part of the C4 sticks and builds the C3 convertase; in the fluid almost none does.
// Each tissue has its own active C1 and convertase, and so have red cells: what is dense in one is not made so by
// complexes elsewhere.
#include <vector>

#include "body/builder.hpp"
#include "body/chapters.hpp"

namespace drawdown::body {

namespace {
constexpr const char* ziccardi = "Ziccardi 1981 (35 C4 and 4 C2 per C1, 13 s)";
constexpr double c4_turnover = 12000.0;  // /h at C4 saturation
constexpr double c4_half = 960.0;        // nM
constexpr double c2_half = 40.0;         // nM
constexpr double bound_share = 0.24;     // of cleaved C4 on complexes in tissue
// What an enzyme of 12 C3 in a life of 0.72 min does with them: a part is bound at the spot, a part to the IgG of the
// complexes, the rest goes into the fluid.
constexpr double c3_turnover = 1330.0;  // /h
constexpr double c3_half = 1800.0;      // nM
constexpr double on_cells = 0.04;
// Where active C1 is sparse, C4b lies alone and membrane regulators undo it before C2 arrives: only dense activation
// builds convertase. So a slowly growing load costs C4 first and C3 later (Swaak 1986).
constexpr double dense = 0.0022;  // nM of a tissue's active C1 at half effect
constexpr const char* dense_source = "assumed, set by C4 falling before C3 (Swaak 1986)";
constexpr const char* bound_source =
    "share bound: 1-2 % on aggregates, about twelve times more on cells (Ziccardi 1981); 24 % taken, the top of the "
    "range";

// What catches active C1, and the C2 it wastes: the same everywhere.
void hold_c1(Builder& b, const std::string& active, const std::string& where, const std::string& place) {
  b.reaction("catch_" + active, "C1 inhibitor takes active C1 " + where, 0.10, "/nM/h",
             "Ziccardi 1981 (half-life 13 s at 1.9 uM); four inhibitors a C1 from memory")
      .lose(active)
      .lose("C1INH", 4.0)
      .by(active)
      .by("C1INH")
      .at(place);
  b.reaction("fade_" + active, "active C1 decays without inhibitor " + where, 2.0, "/h", "assumed")
      .lose(active)
      .by(active);
  b.reaction("c2_" + active, "active C1 cleaves C2 " + where, 1652.0, "/h", ziccardi)
      .lose("C2")
      .by(active)
      .saturating("C4", c4_half, "nmol/L", "C2 is cleaved where it sits on C4b")
      .saturating("C2", c2_half, "nmol/L", "assumed, well below the normal level")
      .unblocked("C1")
      .at(place);
}

// From active C1 to C3, at one place.
// `to_igg`: the share of its C3b that is bound to the IgG of complexes.
void write_surface(Builder& b, const std::string& place, const std::string& where, double to_igg) {
  const std::string c1 = "C1_" + place;
  const std::string enzyme = "C4b2a_" + place;
  hold_c1(b, c1, where, place);
  const auto cut_c4 = [&](const char* name, const std::string& label, double constant, const char* source) {
    auto cut = b.reaction(name + place, label + where, constant, "/h", source);
    cut.lose("C4").by(c1).saturating("C4", c4_half, "nmol/L", "Ziccardi 1981").unblocked("C1").at(place);
    return cut;
  };
  cut_c4("c4_lost_", "C4 is cleaved and misses the surface ", c4_turnover * (1.0 - bound_share), ziccardi).gain("C4d");
  cut_c4("c4_convertase_", "C4 sticks and with C2 makes the C3 convertase ", c4_turnover * bound_share, bound_source)
      .lose("C2")
      .gain(enzyme)
      .saturating("C2", c2_half, "nmol/L", "assumed, well below the normal level")
      .saturating(c1, dense, "nmol/L", dense_source);
  cut_c4("c4_sparse_", "C4 sticks alone and is undone by membrane regulators ", c4_turnover * bound_share, bound_source)
      .gain("C4d")
      .repressed(c1, dense, 1, "nmol/L", dense_source);
  cut_c4("c4_idle_", "C4 sticks and finds no C2 ", c4_turnover * bound_share, bound_source)
      .gain("C4d")
      .repressed("C2", c2_half, 1, "nmol/L", "assumed, well below the normal level")
      .saturating(c1, dense, "nmol/L", dense_source);
  b.reaction("decay_" + enzyme, "the classical convertase falls apart, faster with C4b-binding protein " + where, 20.8,
             "/h", "half-life 2 min alone, 0.5 min with regulators (derived)")
      .lose(enzyme)
      .gain("C4d")
      .by(enzyme)
      .rising("C4BP", 3.0 / nanomolar(250, 570), "per nmol/L", "half-life 0.5 min at the normal level (derived)");
  const auto cut_c3 = [&](const char* name, const std::string& label, double share, const std::string& to,
                          const char* source) {
    auto cut = b.reaction(name + place, "the classical convertase " + where + " cleaves C3, " + label,
                          share * c3_turnover, "/h", source);
    cut.lose("C3")
        .gain("C3a")
        .gain(to)
        .by(enzyme)
        .saturating("C3", c3_half, "nmol/L", "from memory")
        .unblocked("C3")
        .at(place);
    return cut;
  };
  cut_c3(
      "c3_bound_", "bound to cells at the spot", on_cells, "C3b_surface",
      "about 10 C3 in its life (derived), 12 taken; 10 % binds (Pangburn & Mueller-Eberhard), most of it to the IgG");
  if (to_igg > 0.0) cut_c3("c3_on_complex_", "bound to the IgG of complexes", to_igg, "C3bIgG_" + place, "assumed");
  cut_c3("c3_free_", "released into the fluid", 1.0 - on_cells - to_igg, "C3b",
         "about 10 C3 in its life (derived); 12 taken");
}

}  // namespace

void write_classical(Builder& b) {
  b.chapter("classical");
  struct Site {
    std::string place, label, where;
    double to_igg;
  };
  std::vector<Site> sites;
  for (const Tissue& tissue : b.catalogue().tissues) {
    sites.push_back({tissue.name, "complexes in the " + tissue.name, "(" + tissue.name + ")", tissue.to_igg});
  }
  sites.push_back({"red_cells", "red cells", "(red cells)", 0.0});
  b.species("C1_fluid", "active C1 in the fluid", "nmol/L plasma", 1e-3);
  for (const Site& site : sites) {
    b.species("C1_" + site.place, "active C1 on " + site.label, "nmol/L plasma", 1e-3);
    b.species("C4b2a_" + site.place, "classical C3 convertase on " + site.label, "nmol/L plasma", 1e-2, {"C4"});
  }
  b.species("C4d", "C4d", "nmol/L plasma", 10.0, {"C4"});

  b.reaction("wake_alone", "C1 wakes by itself, held back by C1 inhibitor", 0.002, "/h",
             "assumed, set by the C1-inhibitor-deficiency values (Carpenter 1969)")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .repressed("C1INH", 900.0, 2, "nmol/L", "assumed, same values")
      .floored("hepatic_output", 0.3, 1.0, "C1r and C1s are made in the liver: share assumed")
      .at("fluid");
  for (const Tissue& tissue : b.catalogue().tissues) {
    const std::string& at = tissue.name;
    b.reaction("wake_" + at, "complexes in the " + at + " wake C1", tissue.waking, "/h per deposit", tissue.source)
        .lose("C1")
        .gain("C1_" + at)
        .by("C1")
        .by("deposit_" + at)
        .by("fixation")
        .rising("anti_c1q", 0.8, "per unit", "antibodies to C1q strengthen it: direction published, size assumed")
        .at(at);
  }
  b.reaction("wake_red_cells", "cold antibodies on red cells wake C1", 0.006, "/h", "assumed")
      .lose("C1")
      .gain("C1_red_cells")
      .by("C1")
      .by("cold_antibody")
      .at("red_cells");
  b.reaction("wake_anti_c1q", "antibodies to C1q wake a little free C1", 0.0003, "/h", "assumed")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .by("anti_c1q")
      .at("fluid");
  b.reaction("take_anti_c1q", "antibodies to C1q carry a little free C1q away", 0.001, "/h", "assumed")
      .lose("C1")
      .by("C1")
      .by("anti_c1q")
      .at("fluid");
  for (const Tissue& tissue : b.catalogue().tissues) {
    b.reaction("take_anti_c1q_" + tissue.name,
               "antibodies to C1q take C1q that sits on complexes in the " + tissue.name, 0.02, "/h",
               "assumed, set by C1q in vasculitis with these antibodies (Medicine 1995;74:24)")
        .lose("C1")
        .by("C1")
        .by("anti_c1q")
        .saturating("deposit_" + tissue.name, 4.0, "relative", "assumed")
        .at(tissue.name);
  }
  b.reaction("wake_germs", "natural antibody on germs wakes C1", 0.0003, "/h", "assumed")
      .lose("C1")
      .gain("C1_fluid")
      .by("C1")
      .by("germs")
      .at("fluid");
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
  hold_c1(b, "C1_fluid", "(fluid)", "fluid");
  b.reaction("c4_fluid", "C4 cleaved in the fluid, wasted", c4_turnover, "/h", ziccardi)
      .lose("C4")
      .gain("C4d")
      .by("C1_fluid")
      .saturating("C4", c4_half, "nmol/L", "Ziccardi 1981")
      .unblocked("C1")
      .at("fluid");
  for (const Site& site : sites) write_surface(b, site.place, site.where, site.to_igg);
  b.reaction("clear_C4d", "C4d is cleared", 0.44, "/h", "set by the resting level 0.33 mg/L (Martin 2020)")
      .lose("C4d")
      .by("C4d");
}

}  // namespace drawdown::body
