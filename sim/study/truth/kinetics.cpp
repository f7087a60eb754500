// Tracer studies: how fast the proteins are used and made.
#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

namespace {

// A person whose C3 is made and used at imposed rates: only level and half-life then come from the model.
std::shared_ptr<const Run> imposed_c3(const World& w, double fcr, double synthesis) {
  const double usual = 0.021 * 1200 * 0.040;  // mg/kg/h
  const auto person = [&](double turnover) {
    return w.run(settled({{"synthesis_C3", synthesis / usual}, {"turnover_C3", turnover}}));
  };
  const double turnover =
      find(0.1, 5.0, fcr, [&](double t) { return fractional_catabolic_rate(*person(t), 1.0, "C3"); });
  return person(turnover);
}

}  // namespace

void kinetics(std::vector<TruthEntry>& ledger, const World& w) {
  const char* petz = "Petz 1969 J Clin Invest 48:2469";
  const char* sliwinski = "Sliwinski & Zvaifler 1972 Clin Exp Immunol 11:21";
  const auto healthy = w.run(settled({}));
  const TracerResult c3 = tracer_study(*healthy, Traced::c3, 2.0);
  ledger.push_back({"K1a", "healthy, C3 tracer: fractional catabolic rate", "2.12 (1.56-2.68) %/h", 1.56, 2.68, "%/h",
                    petz, 100 * c3.fcr, ""});
  ledger.push_back({"K1b", "healthy, C3 tracer: synthesis", "1.16 (0.90-1.42) mg/kg/h", 0.90, 1.42, "mg/kg/h", petz,
                    c3.synthesis, ""});
  ledger.push_back({"K1c", "healthy, C3 tracer: share of the pool in plasma", "66.6 (51-83) %", 51, 83, "%", petz,
                    100 * c3.intravascular, ""});
  ledger.push_back(
      {"K2", "healthy, C3 tracer: terminal half-life", "49-66 h", 49, 66, "h", sliwinski, c3.half_life, ""});

  const auto fast = imposed_c3(w, 0.053, 0.48);
  ledger.push_back({"K3a", "lupus, C3 use 5.3 %/h and synthesis 0.48 mg/kg/h imposed: level", "0.20-0.23 g/L (derived)",
                    0.20 * 0.85, 0.23 * 1.15, "g/L", sliwinski, fast->c3(5),
                    "level follows from the two imposed rates; only the half-life is evidence"});
  ledger.push_back({"K3c", "the same: half-life of the label", "21 h", 21 * 0.65, 21 * 1.35, "h", sliwinski,
                    tracer_study(*fast, Traced::c3, 2.0).half_life, ""});
  const auto used = w.run(settled({{"antibody_drive", 10},
                                   {"antigen_release", 6},
                                   {"hepatic_output", 0.4},
                                   {"share_kidney", 0.6},
                                   {"share_skin", 0.15},
                                   {"share_joints", 0.15},
                                   {"acute_phase_response", 0.3}}));
  ledger.push_back({"K3b", "complexes with a liver at four tenths, nothing imposed: C3 use reached",
                    "at least 4.5 %/h (highest published 5.3)", 4.5, 6.5, "%/h", sliwinski,
                    100 * tracer_study(*used, Traced::c3, 2.0).fcr,
                    "papers disagree: synthesis depressed in most low-C3 lupus (Sliwinski & Zvaifler, Alper & Rosen), "
                    "normal in others (Hunsicker 1972)"});
  const auto slow = imposed_c3(w, 0.016, 0.23);
  ledger.push_back({"K4a", "lupus, C3 use 1.6 %/h and synthesis 0.23 mg/kg/h imposed: level", "0.32-0.36 g/L (derived)",
                    0.32 * 0.85, 0.36 * 1.15, "g/L", sliwinski, slow->c3(5),
                    "level follows from the two imposed rates; only the half-life is evidence"});
  ledger.push_back({"K4b", "the same: half-life of the label", "69 h", 69 * 0.65, 69 * 1.35, "h", sliwinski,
                    tracer_study(*slow, Traced::c3, 2.0).half_life, ""});

  const char* c4_paper = "Clin Exp Immunol 1989;78:49; Carpenter 1969 J Clin Invest 48:1495";
  const TracerResult c4 = tracer_study(*healthy, Traced::c4, 2.0);
  ledger.push_back({"K5a", "healthy, C4 tracer: fractional catabolic rate", "1.95-1.99 (0.9-2.7) %/h", 0.9, 2.7, "%/h",
                    c4_paper, 100 * c4.fcr, ""});
  ledger.push_back({"K5b", "healthy, C4 tracer: pool outside / inside the plasma", "0.31-0.43", 0.31, 0.43, "",
                    c4_paper, 1.0 / c4.intravascular - 1.0, ""});

  const auto active = [&](double drive) {
    return w.run(
        settled({{"antibody_drive", drive}, {"antigen_release", 1 + drive / 3}, {"acute_phase_response", 0.3}}));
  };
  const double drive =
      find(0.0, 10.0, 0.0365, [&](double d) { return fractional_catabolic_rate(*active(d), 5.0, "C4"); });
  ledger.push_back({"K6", "active lupus whose C4 use is 3.3-4.0 %/h: C4 level of own healthy level",
                    "49-60 % (derived)", 39, 70, "%", "Clin Exp Immunol 1989;78:49", 100 * active(drive)->c4(5) / 0.25,
                    ""});

  const auto angioedema = [&](double dose) { return w.run(settled({{"c1inh_dose", dose}})); };
  const auto c4_use = [&](double dose) { return fractional_catabolic_rate(*angioedema(dose), 5.0, "C4"); };
  const char* carpenter = "Carpenter 1969 J Clin Invest 48:1495";
  const auto mild = angioedema(find(0.1, 1.0, 0.037, c4_use));
  const auto severe = angioedema(find(0.05, 1.0, 0.088, c4_use));
  ledger.push_back({"K7a", "C1-inhibitor deficiency with C4 use 3.7 %/h: C4 of normal", "49 % (derived)", 39, 59, "%",
                    carpenter, 100 * mild->c4(5) / 0.25, ""});
  ledger.push_back({"K7b", "C1-inhibitor deficiency with C4 use 8.8 %/h: C4 of normal", "20 % (derived)", 10, 30, "%",
                    carpenter, 100 * severe->c4(5) / 0.25, ""});
  ledger.push_back({"K7c", "the same: C3 level of normal", "normal", 95, 105, "%", carpenter, 100 * severe->c3(5) / 1.2,
                    "of the level; of the use see K7d"});
  ledger.push_back({"K7d", "the same: C3 use", "2.6-3.2 %/h, synthesis raised", 2.6, 3.2, "%/h", carpenter,
                    100 * fractional_catabolic_rate(*severe, 5.0, "C3"), "not met: see the limits"});

  ledger.push_back({"K8a", "healthy: factor B use", "1.7-2.2 %/h", 1.7, 2.2, "%/h", "Charlesworth 1974",
                    100 * fractional_catabolic_rate(*healthy, 5.0, "FB"), ""});
  ledger.push_back({"K8b", "healthy: factor H use", "1.04-1.63 %/h", 1.04, 1.63, "%/h", "Clin Exp Immunol 1979;38:397",
                    100 * fractional_catabolic_rate(*healthy, 5.0, "FH"), ""});
  ledger.push_back({"K8c", "healthy: C5 use", "1.5-2.1 %/h", 1.5, 2.1, "%/h", "Sissons 1977",
                    100 * fractional_catabolic_rate(*healthy, 5.0, "C5"), ""});

  ledger.push_back({"K8d", "healthy: properdin use", "0.78-1.0 %/h", 0.78, 1.0, "%/h", "Ziegler 1975",
                    100 * fractional_catabolic_rate(*healthy, 5.0, "P"), "put in, restated"});
  ledger.push_back({"K8e", "healthy: factor D use", "50-74 %/h", 50, 74, "%/h", "Pascual 1988",
                    100 * fractional_catabolic_rate(*healthy, 5.0, "FD"), "put in, restated"});

  const char* nephritic = "Sissons 1977; Charlesworth 1974, 1979";
  const auto held = w.run(settled({{"nephritic_factor", 3}}));
  ledger.push_back({"K9a", "nephritic factor: C3 use", "strongly raised (at least twice the healthy 2.1)", 4.2, 20,
                    "%/h", nephritic, 100 * fractional_catabolic_rate(*held, 5.0, "C3"), ""});
  ledger.push_back(
      {"K9b", "nephritic factor: C4 of normal", "normal", 95, 105, "%", nephritic, 100 * held->c4(5) / 0.25, ""});
  ledger.push_back({"K9c", "nephritic factor: factor H of normal", "normal", 95, 105, "%", nephritic,
                    100 * held->serum(5).factor_h / 500, ""});
  ledger.push_back({"K9d", "nephritic factor: fall of C5 as part of the fall of C3", "less than a third", 0, 1.0 / 3,
                    "", nephritic, (1 - held->serum(5).c5 / 75) / (1 - held->c3(5) / 1.2), ""});
}

}  // namespace drawdown::study::truth
