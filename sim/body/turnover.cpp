// Chapter turnover: synthesis, exchange with tissue fluid, ordinary loss and plasma exchange of every circulating
// protein. Two-compartment turnover after Matthews 1957 (Phys Med Biol 2:36): a one-compartment model with the
// published fractional catabolic rate of C3 gives a half-life of 33 h where tracers show 49-66 h.
#include <algorithm>
#include <array>

#include "body/builder.hpp"
#include "body/chapters.hpp"
#include "network/elementary.hpp"

namespace drawdown::body {

double transcapillary_escape(double mass) {
  struct Point {
    double mass;
    double escape;
  };
  static constexpr std::array<Point, 4> points{{{66, 0.05}, {150, 0.03}, {200, 0.0225}, {950, 0.009}}};
  std::size_t i = 0;
  while (i + 2 < points.size() && mass > points[i + 1].mass) ++i;
  const double along = elementary::log(mass / points[i].mass) / elementary::log(points[i + 1].mass / points[i].mass);
  return points[i].escape + std::clamp(along, 0.0, 1.0) * (points[i + 1].escape - points[i].escape);
}

void write_turnover(Builder& b) {
  b.chapter("turnover");
  // In pregnancy the liver makes as much more as there is more plasma, and what a protein's row adds on top: its gain
  // is one of the level. So the rate of synthesis per litre is divided by the other factor of the volume alone.
  b.volume_by("plasma_volume");
  b.volume_rising("pregnancy", 0.4, "third trimester", "about 40 % more plasma in late pregnancy, from memory");
  b.species("acute_phase", "acute-phase signal, 0 to 1 at the usual response", "relative", 1.0);
  b.species("il6", "inflammatory signal (IL-6-like)", "relative", 1.0);
  b.species("il6_lack", "the liver without its resting IL-6, 0 to 1", "relative", 1.0);
  for (const Protein& p : b.catalogue().proteins) {
    const double level = nanomolar(p.level, p.mass);
    // The proteins whose pieces are followed wherever they go.
    std::vector<std::string> carries;
    if (p.name == "C3" || p.name == "C4" || p.name == "C5") carries = {p.name};
    if (p.name == "FB") carries = {"factor B"};
    b.species(p.name, p.label + " in plasma", "nmol/L plasma", level, carries);
    if (p.outside > 0.0) {
      b.species(p.name + "_tissue", p.label + " in tissue fluid", "nmol per L of plasma", level * p.outside, carries);
    }
  }
  for (const Protein& p : b.catalogue().proteins) {
    const std::string& name = p.name;
    const std::string& label = p.label;
    // The constants of synthesis, loss and refill are set by make_body from the person's level and the FCR.
    auto made = b.reaction("make_" + name, label + " is made", 0.0, "nmol/L/h", "own level times FCR; " + p.source);
    made.gain(name).by("synthesis_" + name).counts(Term::made);
    made.floored("hepatic_output", 1.0 - p.liver_share, 1.0, p.source);
    made.divided_by("plasma_volume");
    if (p.acute_gain > 0.0) made.rising("acute_phase", p.acute_gain, "per full signal", p.source);
    if (p.il6_share > 0.0) {
      made.rising("il6_lack", -p.il6_share, "per full block", "resting synthesis that needs IL-6 (Romano 2018)");
    }
    if (p.food_share > 0.0) {
      made.rising("malnutrition", -p.food_share, "severe malnutrition", "Olusi 1976; Eur J Clin Invest 2012;42:503");
    }
    if (!p.gene_lever.empty()) made.floored(p.gene_lever, 0.0, p.gene_copies, "each working copy adds its share");
    if (p.pregnancy_gain > 0.0) {
      made.rising("pregnancy", p.pregnancy_gain, "third trimester", p.pregnancy_source);
    }

    b.reaction("turn_over_" + name, label + " leaves by ordinary turnover", 0.0, "/h",
               "FCR less what resting activation takes; " + p.source)
        .lose(name)
        .by(name)
        .by("turnover_" + name)
        .counts(Term::wear);
    if (p.outside > 0.0) {
      const double escape = transcapillary_escape(p.mass);
      const std::string outside = name + "_tissue";
      b.reaction("escape_" + name, label + " passes into tissue fluid", escape, "/h",
                 "Rossing 1978, interpolated in log mass")
          .lose(name)
          .gain(outside)
          .by(name)
          .rising("germs", 0.6, "per unit",
                  "vessels opened by severe infection let all large proteins through: assumed")
          .counts(Term::to_tissue);
      b.reaction("return_" + name, label + " flows back with the lymph", escape / p.outside, "/h",
                 "escape divided by EV/IV; " + p.source)
          .lose(outside)
          .gain(name)
          .by(outside)
          .counts(Term::from_tissue);
      if (p.leak_gain > 0.0) {
        b.reaction("leak_" + name, label + " leaks through inflamed vessels", escape * p.leak_gain, "/h",
                   "Clin Exp Immunol 1989;78:49 for C4 (EV/IV up to threefold); C3 assumed small")
            .lose(name)
            .gain(outside)
            .by(name)
            .by("vascular_leak")
            .counts(Term::to_tissue);
        b.reaction("inflamed_leak_" + name, label + " leaks as inflammation opens vessels", escape * p.leak_gain * 0.3,
                   "/h", "share of the largest leak reached with inflammation: assumed")
            .lose(name)
            .gain(outside)
            .by(name)
            .saturating("il6", 1.0, "relative", "assumed")
            .counts(Term::to_tissue);
      }
    }
    b.reaction("exchange_out_" + name, label + " is removed by plasma exchange", 1.0, "per plasma volume",
               "definition of the lever")
        .lose(name)
        .by(name)
        .by("plasma_exchange")
        .counts(Term::taken_out);
    b.reaction("exchange_in_" + name, label + " comes with replacement plasma", 0.0, "nmol/L per plasma volume",
               "donor plasma at the standard level")
        .gain(name)
        .by("plasma_exchange")
        .by("exchange_plasma")
        .counts(Term::given);
  }
}

}  // namespace drawdown::body
