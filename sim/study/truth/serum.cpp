// Patterns of serum levels in illness and inheritance.
#include <algorithm>

#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

namespace {

// First day on which a condition holds, or -1.
double first_day(double from, double to, const std::function<bool(double)>& holds) {
  for (double day = from; day <= to; day += 0.5) {
    if (holds(day)) return day;
  }
  return -1.0;
}

void nephritis(std::vector<TruthEntry>& ledger, const World& w) {
  const char* source = "Kohler & ten Bensel 1969; Cameron 1973 BMJ 3:668";
  const auto flare = w.run(from_day_zero(renal_flare(), 120.0));
  const auto s = flare->serum(100.0);
  ledger.push_back({"S1a", "renal flare: C4 of own healthy level", "low", 5, 80, "%", source, 100 * s.c4 / 0.25, ""});
  ledger.push_back({"S1b", "renal flare: C3 of own healthy level", "low, not below 20 %", 20, 85, "%", source,
                    100 * s.c3 / 1.2, ""});
  ledger.push_back({"S1c", "renal flare: C1q of own healthy level", "low", 10, 92, "%", source, s.c1q, ""});
  ledger.push_back(
      {"S1d", "renal flare: C5 of own healthy level", "near normal", 70, 105, "%", source, 100 * s.c5 / 75, ""});
  ledger.push_back({"S1e", "renal flare: C4 fall beside C3 fall", "C4 relatively lower (above 1)", 1.0, 10, "times",
                    source, (1 - s.c4 / 0.25) / (1 - s.c3 / 1.2), ""});

  // A flare that builds up over nine months.
  scenario::Scenario slow;
  slow.days = 420;
  slow.levers[body::lever_at("share_kidney")] = 0.5;
  slow.levers[body::lever_at("acute_phase_response")] = 0.3;
  slow.events = {{20, body::lever_at("antibody_drive"), 6, 270, 0, ""},
                 {20, body::lever_at("antigen_release"), 3, 270, 0, ""}};
  const auto ramp = w.run(slow);
  const auto below = [&](auto level, double usual) {
    return first_day(0, slow.days, [&, usual](double day) { return level(ramp->serum(day)) < 0.8 * usual; });
  };
  const double c4_day = below([](const readout::Serum& x) { return x.c4; }, 0.25);
  const double c3_day = below([](const readout::Serum& x) { return x.c3; }, 1.2);
  const double c1q_day = below([](const readout::Serum& x) { return x.c1q; }, 100);
  // First urine protein: a twentieth of the severest.
  const double urine_day = first_day(0, slow.days, [&](double day) { return ramp->serum(day).urine_protein > 0.05; });
  const char* swaak = "Swaak 1986 Ann Rheum Dis 45:359";
  const char* dispute =
      "papers disagree: Swaak finds a lead of 20-25 weeks, Birmingham 2010 and El Hachmi 2003 none on average";
  ledger.push_back({"S2a", "slow ramp to a renal flare: days from C4 below 80 % to C3 below 80 %", "C4 first", 0.5, 400,
                    "days", swaak, c3_day < 0 ? 400 : c3_day - c4_day, ""});
  ledger.push_back({"S2b", "the same: days from C4 to C1q below 80 %", "C4 first", 0.5, 400, "days", swaak,
                    c1q_day < 0 ? 400 : c1q_day - c4_day, ""});
  ledger.push_back({"S2c", "the same: weeks from C4 below 80 % to first urine protein",
                    "20-25 in one series; 4-25 accepted", 4, 25, "weeks", swaak, (urine_day - c4_day) / 7, dispute});
}

void post_infectious(std::vector<TruthEntry>& ledger, const World& w) {
  const char* source = "Cameron 1973 BMJ 3:668; Kohler & ten Bensel 1969";
  scenario::Scenario s;
  s.days = 160;
  s.events = {{1, body::lever_at("infection"), 0.3, 0, 24.0 * 4, ""},
              {10, body::lever_at("activating_surface"), 1, 0, 24.0 * 7, ""}};
  const auto course = w.run(s);
  double nadir = 1e9;
  double nadir_day = 0;
  for (double day = 10; day < 60; day += 0.5) {
    if (course->c3(day) < nadir) {
      nadir = course->c3(day);
      nadir_day = day;
    }
  }
  const auto at = course->serum(nadir_day);
  ledger.push_back({"S4a", "after a throat infection: lowest C3 of normal", "often under half", 5, 50, "%", source,
                    100 * nadir / 1.2, ""});
  ledger.push_back({"S4b", "the same: C4 of normal at that time", "normal after the first days", 90, 125, "%", source,
                    100 * at.c4 / 0.25, ""});
  ledger.push_back({"S4c", "the same: C5 of normal", "low", 20, 85, "%", source, 100 * at.c5 / 75, ""});
  ledger.push_back({"S4d", "the same: C1q of normal", "normal", 90, 110, "%", source, at.c1q, ""});
  const double back = first_day(nadir_day, s.days, [&](double day) { return course->c3(day) >= 0.9; });
  ledger.push_back({"S4e", "the same: weeks until C3 is in the laboratory's range", "8-12", 5, 15, "weeks", source,
                    (back - 10) / 7, ""});
}

}  // namespace

void serum_patterns(std::vector<TruthEntry>& ledger, const World& w) {
  nephritis(ledger, w);
  post_infectious(ledger, w);

  const auto years = w.run(settled({{"nephritic_factor", 3}}, 730));
  const char* persistent = "Cameron 1973; Schwertz 2001";
  ledger.push_back(
      {"S5a", "nephritic factor for years: C3", "low for years", 0.05, 0.90, "g/L", persistent, years->c3(730), ""});
  ledger.push_back(
      {"S5b", "the same: C4 of normal", "normal", 95, 105, "%", persistent, 100 * years->c4(730) / 0.25, ""});

  const auto genes = w.run(settled({{"c4_gene_copies", 2}}));
  const char* wilson = "Wilson 1989 Ann Rheum Dis 48:600";
  ledger.push_back({"S6a", "two of four C4 genes: change of C4", "-56 % (lupus nadir -55 %)", -60, -45, "%", wilson,
                    100 * (genes->c4(10) / 0.25 - 1), "mostly wiring; the evidence is C3"});
  ledger.push_back({"S6b", "the same: change of C3", "none", -3, 3, "%", wilson, 100 * (genes->c3(10) / 1.2 - 1), ""});

  scenario::Scenario pregnant = settled({{"pregnancy", 1}});
  pregnant.patient.usual[body::protein_at("C3")] = 1240;
  pregnant.patient.usual[body::protein_at("C4")] = 310;
  const auto third = w.run(pregnant);
  const char* buyon = "Buyon 1986 Am J Med 81:194";
  ledger.push_back({"S7a", "third trimester, healthy: C3 from 1.24", "1.65 g/L", 1.65 * 0.9, 1.65 * 1.1, "g/L", buyon,
                    third->c3(10), "wiring of the lever"});
  ledger.push_back({"S7b", "the same: C4 from 0.31", "0.37 g/L", 0.37 * 0.9, 0.37 * 1.1, "g/L", buyon, third->c4(10),
                    "wiring of the lever"});

  scenario::Scenario infarct;
  infarct.days = 20;
  infarct.events = {{1, body::lever_at("acute_trigger"), 1, 0, 24.0 * 5, ""}};
  const auto acute = w.run(infarct);
  ledger.push_back({"S11a", "a week after an infarction (acute phase, no complexes): C3", "x1.31", 1.16, 1.46, "times",
                    "Giasuddin 2007", acute->c3(8) / 1.2, ""});
  ledger.push_back({"S11b", "the same: C4", "x1.59", 1.34, 1.84, "times", "Giasuddin 2007", acute->c4(8) / 0.25, ""});

  // Where the paper's people were: rheumatoid arthritis, CRP about 28 mg/L.
  scenario::Scenario blocked = settled({{"acute_trigger", 0.03}}, 400);
  blocked.events = {{10, body::lever_at("il6_block"), 1, 0, 0, ""}};
  const auto calmed = w.run(blocked);
  const char* romano = "Romano 2018 Clin Rheumatol";
  ledger.push_back({"S12x", "arthritis before IL-6 is blocked: C-reactive protein", "about 28 mg/L", 20, 36, "mg/L",
                    romano, calmed->serum(5).crp, ""});
  struct Month {
    int month;
    double c3, c4;
  };
  for (const Month& m : {Month{1, -24, -45}, {3, -27, -43}, {6, -34, -54}, {12, -33, -55}}) {
    const double day = 10 + 30.4 * m.month;
    const std::string after = std::to_string(m.month) + " months after IL-6 was blocked in arthritis: ";
    ledger.push_back({"S12a" + std::to_string(m.month), after + "C3", std::to_string(static_cast<int>(m.c3)) + " %",
                      m.c3 - 8, m.c3 + 8, "%", romano, 100 * (calmed->c3(day) / calmed->c3(5) - 1),
                      "sets how much of C3's synthesis needs IL-6"});
    ledger.push_back({"S12b" + std::to_string(m.month), after + "C4", std::to_string(static_cast<int>(m.c4)) + " %",
                      m.c4 - 8, m.c4 + 8, "%", romano, 100 * (calmed->c4(day) / calmed->c4(5) - 1),
                      "sets how much of C4's synthesis needs IL-6"});
  }

  const auto rest = w.run(settled({}))->serum(5);
  const auto mild = w.run(settled({{"antibody_drive", 2}, {"antigen_release", 1.5}, {"share_kidney", 0.05}}))->serum(5);
  const auto renal = w.run(settled(renal_flare()))->serum(5);
  const char* martin = "Martin 2020 Front Immunol 11:582737";
  ledger.push_back({"S14a", "C4d at rest", "0.33 mg/L", 0.33 / 2, 0.33 * 2, "mg/L", martin, rest.c4d, "factor 2"});
  ledger.push_back({"S14b", "C4d in lupus without nephritis", "0.94 mg/L", 0.94 / 2, 0.94 * 2, "mg/L", martin, mild.c4d,
                    "factor 2"});
  ledger.push_back(
      {"S14c", "C4d in nephritis", "1.02 mg/L", 1.02 / 2, 1.02 * 2, "mg/L", martin, renal.c4d, "factor 2"});
  ledger.push_back({"S14d", "C4d/C4 in nephritis beside non-renal lupus", "4-5 times", 2, 10, "times", martin,
                    (renal.c4d / renal.c4) / (mild.c4d / mild.c4), "factor 2"});

  const auto masked =
      w.run(from_day_zero({{"antibody_drive", 5}, {"antigen_release", 3}, {"acute_phase_response", 1.4}}, 120));
  ledger.push_back({"G5", "a strong acute-phase response: C3 while a day's use is up by half or more",
                    "consumption masked: inside the range", 0.90, 1.80, "g/L", "Sturfelt & Sjoholm 1984",
                    masked->c3(100), ""});
}

}  // namespace drawdown::study::truth
