// Chapter turnover: synthesis, exchange with tissue fluid, ordinary loss and plasma exchange of every circulating
// protein. Two-compartment turnover after Matthews 1957 (Phys Med Biol 2:36): a one-compartment model with the
// published fractional catabolic rate of C3 gives a half-life of 33 h where tracers show 49-66 h.
#include <algorithm>
#include <cmath>

#include "body/body.hpp"
#include "body/builder.hpp"

namespace drawdown::body {

double transcapillary_escape(double mass) {
  struct Point {
    double mass;
    double escape;
  };
  static constexpr std::array<Point, 4> points{{{66, 0.05}, {150, 0.03}, {200, 0.0225}, {950, 0.009}}};
  std::size_t i = 0;
  while (i + 2 < points.size() && mass > points[i + 1].mass) ++i;
  const double along = std::log(mass / points[i].mass) / std::log(points[i + 1].mass / points[i].mass);
  return points[i].escape + std::clamp(along, 0.0, 1.0) * (points[i + 1].escape - points[i].escape);
}

namespace {

struct GeneLever {
  const char* protein;
  const char* lever;
  double usual_copies;
};
constexpr std::array<GeneLever, 10> gene_levers{{{"C1", "c1q_gene_copies", 2},
                                                 {"C1INH", "c1inh_dose", 1},
                                                 {"C4", "c4_gene_copies", 4},
                                                 {"C2", "c2_gene_copies", 2},
                                                 {"C3", "c3_gene_copies", 2},
                                                 {"FB", "factor_b_gene_copies", 2},
                                                 {"FH", "factor_h_gene_copies", 2},
                                                 {"FI", "factor_i_gene_copies", 2},
                                                 {"C5", "c5_gene_copies", 2},
                                                 {"C9", "c9_gene_copies", 2}}};

}  // namespace

void write_turnover(Builder& b) {
  b.chapter("turnover");
  b.species("acute_phase", "acute-phase signal, 0 to 1 at the usual response", "relative", 1.0);
  b.species("il6", "inflammatory signal (IL-6-like)", "relative", 1.0);
  for (const Protein& p : proteins) {
    const double level = nanomolar(p.level, p.mass);
    b.species(p.name, std::string(p.label) + " in plasma", "nmol/L plasma", level);
    if (p.outside > 0.0) {
      b.species(std::string(p.name) + "_tissue", std::string(p.label) + " in tissue fluid", "nmol per L of plasma",
                level * p.outside);
    }
  }
  for (const Protein& p : proteins) {
    const std::string name = p.name;
    const std::string label = p.label;
    // The constants of synthesis, loss and refill are set by make_body from the person's level and the FCR.
    auto made = b.reaction("make_" + name, label + " is made", 0.0, "nmol/L/h",
                           std::string("own level times FCR; ") + p.source);
    made.gain(name).by("synthesis_" + name);
    made.floored("hepatic_output", 1.0 - p.liver_share, 1.0, p.source);
    if (p.acute_gain > 0.0) made.rising("acute_phase", p.acute_gain, "per full signal", p.source);
    for (const GeneLever& gene : gene_levers) {
      if (name == gene.protein) made.floored(gene.lever, 0.0, gene.usual_copies, "each working copy adds its share");
    }
    if (name == "C3") made.rising("pregnancy", 0.33, "third trimester", "Buyon 1986 (1.24 to 1.65 g/L)");
    if (name == "C4") made.rising("pregnancy", 0.19, "third trimester", "Buyon 1986 (0.31 to 0.37 g/L)");

    b.reaction("turn_over_" + name, label + " leaves by ordinary turnover", 0.0, "/h",
               std::string("FCR less what resting activation takes; ") + p.source)
        .lose(name)
        .by(name)
        .by("turnover_" + name);
    if (p.outside > 0.0) {
      const double escape = transcapillary_escape(p.mass);
      const std::string outside = name + "_tissue";
      b.reaction("escape_" + name, label + " passes into tissue fluid", escape, "/h",
                 "Rossing 1978, interpolated in log mass")
          .lose(name)
          .gain(outside)
          .by(name);
      b.reaction("return_" + name, label + " flows back with the lymph", escape / p.outside, "/h",
                 std::string("escape divided by EV/IV; ") + p.source)
          .lose(outside)
          .gain(name)
          .by(outside);
      if (p.leak_gain > 0.0) {
        b.reaction("leak_" + name, label + " leaks through inflamed vessels", escape * p.leak_gain, "/h",
                   "Clin Exp Immunol 1989;78:49 for C4 (EV/IV up to threefold); C3 assumed small")
            .lose(name)
            .gain(outside)
            .by(name)
            .by("vascular_leak");
        b.reaction("inflamed_leak_" + name, label + " leaks as inflammation opens vessels", escape * p.leak_gain * 0.3,
                   "/h", "share of the largest leak reached with inflammation: assumed")
            .lose(name)
            .gain(outside)
            .by(name)
            .saturating("il6", 1.0, "relative", "assumed");
      }
    }
    b.reaction("exchange_out_" + name, label + " is removed by plasma exchange", 1.0, "per plasma volume",
               "definition of the lever")
        .lose(name)
        .by(name)
        .by("plasma_exchange");
    b.reaction("exchange_in_" + name, label + " comes with replacement plasma", 0.0, "nmol/L per plasma volume",
               "donor plasma at the standard level")
        .gain(name)
        .by("plasma_exchange")
        .by("exchange_plasma");
  }
}

}  // namespace drawdown::body
