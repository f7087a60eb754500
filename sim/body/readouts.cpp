// What is read from the state besides the proteins' levels: fragments, the two activity tests, and what a clinician
// asks for. One row each; the functions look up what they read once, when a model is made.
#include <algorithm>
#include <array>

#include "body/model.hpp"
#include "network/elementary.hpp"

namespace drawdown::body {

namespace {

using Read = Readout::Read;
using InSample = std::function<double(double, const double*)>;

// A species as it stands, times a factor, from a base.
Readout plain(const char* name, const char* unit, const char* species, double scale, int decimals, double times = 1.0,
              double base = 0.0) {
  Readout r;
  r.name = name;
  r.unit = unit;
  r.scale = scale;
  r.decimals = decimals;
  r.prepare = [species, times, base](const Model& m) -> Read {
    return [at = m.species(species), times, base](const double* x, const double*) { return base + times * x[at]; };
  };
  return r;
}
Readout off_course(Readout r) {
  r.in_course = false;
  return r;
}

// How much one component lets through when it is the scarce one: 1 at the standard level, saturating above.
// Form and constant assumed; the steep sum over components stands for von Krogh's y = x^n / (x^n + k).
double component(double relative, double half) {
  const double x = std::max(relative, 0.0);
  return x * (1.0 + half) / (x + half);
}

struct Part {
  std::string protein;
  double half = 0.2;     // level at half effect, of the usual
  double without = 0.0;  // what is left of the test when there is none of it
};
// An activity test: all of its proteins must act, and what blocks one in the body does in the tube too.
Readout activity(const char* name, const std::vector<Part>& parts) {
  Readout r;
  r.name = name;
  r.unit = "% of normal";
  r.scale = 100.0;
  r.decimals = 0;
  r.prepare = [parts](const Model& m) -> Read {
    struct Found {
      SpeciesId species;
      double usual;
      LeverId blocker;
      bool blocked;
      double half;
      double without;
    };
    std::vector<Found> found;
    for (const Part& one : parts) {
      const Protein& protein = m.proteins()[m.protein(one.protein)];
      const bool blocked = !protein.blocked_by.empty();
      found.push_back({m.species(one.protein), nanomolar(protein.level, protein.mass),
                       blocked ? m.lever(protein.blocked_by) : LeverId(), blocked, one.half, one.without});
    }
    return [found](const double* x, const double* levers) {
      double activity = 100.0;
      for (const Found& f : found) {
        const double relative = x[f.species] / f.usual * (f.blocked ? 1.0 - levers[f.blocker] : 1.0);
        activity *= f.without + (1.0 - f.without) * component(relative, f.half);
      }
      return activity;
    };
  };
  return r;
}

// After d > 0 days at 4 C a level reads (a d + b) % high (Lab Med Online 2014;4:152).
std::function<InSample(const Model&)> high_by(double a, double b) {
  return [a, b](const Model& m) -> InSample {
    return [fridge = m.lever("fridge_days"), a, b](double value, const double* levers) {
      const double days = levers[fridge];
      return days > 0.0 ? value * (1.0 + (a * days + b) / 100.0) : value;
    };
  };
}
// CH50 and AH50 fall by 12 % a day (rate assumed); cold activation takes CH50 alone (Newell 1982).
std::function<InSample(const Model&)> wears_off(bool in_the_cold) {
  return [in_the_cold](const Model& m) -> InSample {
    return [fridge = m.lever("fridge_days"), cold = m.lever("cold_activation"), in_the_cold](double value,
                                                                                             const double* levers) {
      const double days = levers[fridge];
      if (days > 0.0) value *= elementary::power(0.88, days);
      return in_the_cold ? value * (1.0 - levers[cold]) : value;
    };
  };
}

// The order of a report: what is asked for first stands first.
int place_in_report(const std::string& name) {
  static const std::vector<std::string> order{"C3",       "C4",     "CH50",       "AH50",     "C1q",
                                              "factor B", "C5",     "C4d",        "C3a",      "C3d",
                                              "Bb",       "sC5b-9", "anti-dsDNA", "CRP-like", "urine protein"};
  return static_cast<int>(std::find(order.begin(), order.end(), name) - order.begin());
}

}  // namespace

std::vector<Readout> standard_readouts() {
  std::vector<Readout> all{
      plain("C4d", "mg/L", "C4d", 0.33, 2, milligrams(1.0, 44.0)),
      plain("C3d", "nmol/L", "C3d", 100, 0),
      plain("C3a", "nmol/L", "C3a", 5, 1),
      plain("Bb", "nmol/L", "Bb", 1, 1),
      off_course(plain("C5a", "nmol/L", "C5a", 0.1, 2)),
      plain("sC5b-9", "nmol/L", "sC5b9", 0.1, 2),
      // Without C9 red cells are lysed slowly, to about half (laboratory guideline tables, from memory).
      activity("CH50", {{"C1"}, {"C4", 0.8}, {"C2", 0.3}, {"C3"}, {"C5"}, {"C9", 0.2, 0.5}}),
      // C3 twice: the alternative enzyme is made of it and cleaves it.
      activity("AH50", {{"FB", 0.5}, {"FD", 0.1}, {"P", 0.1, 0.2}, {"C3", 0.5}, {"C3", 0.5}, {"C5"}, {"C9", 0.2, 0.5}}),
      plain("anti-dsDNA", "relative", "antibody", 1, 1),
      // 120 mg/L at a full acute-phase signal (assumed)
      plain("CRP-like", "mg/L", "acute_phase", 50, 0, 120.0, 1.0),
      plain("urine protein", "relative", "urine_protein", 0.5, 2),
  };
  return all;
}

void complete_report(Catalogue& catalogue) {
  // Printed intervals assumed, as a round share of the standard person; scatter of an answer assumed.
  struct Printed {
    const char* name;
    const char* key;
    bool track;
    double low, high, scatter;
  };
  static constexpr std::array<Printed, 7> shown{{{"CH50", "ch50", true, 70, 130, 0.08},
                                                 {"AH50", "ah50", false, 70, 130, 0.08},
                                                 {"C1q", "c1q", true, 70, 130, 0.06},
                                                 {"C4d", "c4d", true, 0, 0, 0.06},
                                                 {"anti-dsDNA", "antibody", true, 0, 0, 0},
                                                 {"CRP-like", "crp", true, 0, 5, 0},
                                                 {"urine protein", "urine_protein", true, 0, 0, 0}}};
  for (Readout& r : catalogue.readouts) {
    for (const Printed& s : shown) {
      if (r.name != s.name) continue;
      r.key = s.key;
      r.on_sheet = true;
      r.track = s.track;
      r.low = s.low;
      r.high = s.high;
      r.scatter = s.scatter;
    }
    if (r.name == "C3") r.in_sample = high_by(4.14, 1.07);
    if (r.name == "C4") r.in_sample = high_by(3.57, 2.48);
    if (r.name == "CH50") r.in_sample = wears_off(true);
    if (r.name == "AH50") r.in_sample = wears_off(false);
  }
  std::stable_sort(catalogue.readouts.begin(), catalogue.readouts.end(), [](const Readout& a, const Readout& b) {
    return place_in_report(a.name) < place_in_report(b.name);
  });
}

}  // namespace drawdown::body
