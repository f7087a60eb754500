// Wider evidence: published findings. Most were not used to set a constant; E7, E8 and E11a restate or share their
// source with a row or a constant, as their notes say.
#include <algorithm>

#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

void wider_evidence(std::vector<TruthEntry>& ledger, const World& w) {
  const auto healthy = w.run(settled({}));

  // Malaria in monkeys: at each burst of red cells the early components vanish within hours and come back in two days.
  scenario::Scenario burst;
  burst.days = 12;
  burst.events = {{5, body::lever_at("cryoglobulin"), 1, 0, 8, ""}};
  const auto malaria = w.run(burst);
  const char* monkeys = "Serum complement and immunity in experimental simian malaria I, II: J Infect Dis 1975;131";
  const double over = 5 + 8.0 / 24;
  ledger.push_back({"E1a", "malaria in monkeys, complexes burst into the blood for hours: C4 of before",
                    "down to 2 % at the lowest", 2, 50, "%", monkeys, 100 * malaria->c4(over) / 0.25,
                    "a burst as strong as the model's strongest cryoglobulin"});
  ledger.push_back({"E1b", "the same, 48 h later: C4 of before", "back to before in 36-48 h", 65, 105, "%", monkeys,
                    100 * malaria->c4(over + 2) / 0.25,
                    "monkeys; the model's human C4 takes about four days for the last third"});
  ledger.push_back(
      {"E1c", "the same: lowest C3 of before", "no change", 95, 105, "%", monkeys, 100 * malaria->c3(over) / 1.2, ""});

  const auto cryo = w.run(settled({{"cryoglobulin", 1}}));
  const char* schifferli = "Schifferli 1987 Clin Exp Immunol 69:188";
  const char* pattern = "Clin Exp Immunol 1978;32:77";
  ledger.push_back({"E2", "cryoglobulinaemia: C1q use", "5.84 %/h (three patients; normal 1.44)", 2.9, 11.7, "%/h",
                    schifferli, 100 * fractional_catabolic_rate(*cryo, 5, "C1"),
                    "factor 2; sets the strength of that lever"});
  ledger.push_back(
      {"E3a", "cryoglobulinaemia: C4 of normal", "low", 1, 60, "%", pattern, 100 * cryo->c4(5) / 0.25, ""});
  ledger.push_back(
      {"E3b", "cryoglobulinaemia: C3 of normal", "normal", 90, 110, "%", pattern, 100 * cryo->c3(5) / 1.2, ""});
  ledger.push_back(
      {"E3c", "cryoglobulinaemia: CH50", "well below normal", 0, 60, "%", pattern, cryo->serum(5).ch50, ""});

  const char* hunsicker = "Hunsicker 1972 J Clin Invest (PMC292954)";
  ledger.push_back({"E4a", "healthy: C3 use", "2.3 +- 1.0 %/h", 1.3, 3.3, "%/h", hunsicker,
                    100 * fractional_catabolic_rate(*healthy, 5, "C3"), ""});
  ledger.push_back({"E4b", "inactivated C3 (iC3b) is cleared beside C3", "at least five times as fast", 5, 50, "times",
                    hunsicker,
                    fractional_catabolic_rate(*healthy, 5, "iC3b") / fractional_catabolic_rate(*healthy, 5, "C3"), ""});

  const auto hidden = w.run(settled({{"antibody_drive", 3}, {"antigen_release", 2}, {"acute_phase_response", 1.4}}));
  const char* complexes = "Charlesworth 1989 Aust NZ J Med (immune complexes with normal levels)";
  ledger.push_back({"E5a", "complexes with normal levels (arthritis, infection): C3 use beside normal",
                    "significantly raised", 1.15, 4, "times", complexes,
                    fractional_catabolic_rate(*hidden, 5, "C3") / 0.021, ""});
  ledger.push_back({"E5b", "the same: C4 use beside normal", "significantly raised", 1.15, 6, "times", complexes,
                    fractional_catabolic_rate(*hidden, 5, "C4") / 0.0197, ""});
  ledger.push_back({"E5c", "the same: C3 made beside normal", "significantly raised", 1.1, 2, "times", complexes,
                    hidden->flows(5).c3.made / healthy->flows(5).c3.made, ""});
  ledger.push_back({"E5d", "the same: C3", "normal level", 0.90, 1.80, "g/L", complexes, hidden->c3(5), ""});
  const char* arthritis = "Arthritis Rheum 1980;23:911";
  ledger.push_back(
      {"E6", "arthritis with complexes: rise of C4 use beside rise of factor B use", "C4 more (classical pathway)",
       1.05, 10, "times", arthritis,
       (fractional_catabolic_rate(*hidden, 5, "C4") / 0.0197) / (fractional_catabolic_rate(*hidden, 5, "FB") / 0.0195),
       ""});

  const char* charlesworth = "Charlesworth 1974 J Clin Invest";
  const double factor_b = body::standard_model()->proteins()[body::protein_at("FB")].level;
  ledger.push_back({"E7", "healthy: factor B made", "0.14-0.21 mg/kg/h", 0.14, 0.21, "mg/kg/h", charlesworth,
                    factor_b * fractional_catabolic_rate(*healthy, 5, "FB") * 0.040,
                    "the turnover in factor B's row is from the same paper: what was put in, restated"});
  const char* inhibitor = "Clin Exp Immunol 1985;61:1";
  ledger.push_back({"E8", "healthy: C1 inhibitor made", "0.18 mg/kg/h (arthritis 0.28)", 0.13, 0.25, "mg/kg/h",
                    inhibitor, 200 * fractional_catabolic_rate(*healthy, 5, "C1INH") * 0.040,
                    "the turnover in C1 inhibitor's row is from the same paper: what was put in, restated"});

  const auto cold = w.run(settled({{"cold_antibody", 0.7}}))->serum(5);
  const char* agglutinin = "Eur J Haematol 1999;63:259 (15 people: C4 low in 11, C3 in 9)";
  ledger.push_back({"E9a", "cold antibodies: fall of C4 beside fall of C3", "C4 low more often than C3", 1.05, 20,
                    "times", agglutinin, (1 - cold.c4 / 0.25) / (1 - cold.c3 / 1.2), ""});
  ledger.push_back({"E9b", "cold antibodies: C4 of normal", "low in three quarters", 5, 60, "%", agglutinin,
                    100 * cold.c4 / 0.25, ""});
  const auto freed = [&] {
    scenario::Scenario s = settled({{"cold_antibody", 0.7}}, 30);
    s.events = {{10, body::lever_at("block_c1s"), 1, 0, 0, ""}};
    return w.run(s);
  }();
  ledger.push_back({"E9c", "cold antibodies, C1s then blocked for a week: C4 of normal",
                    "rises to normal within about a week", 80, 125, "%", "trials of C1s blockade, from memory",
                    100 * freed->c4(17) / 0.25, ""});

  const auto skin = w.run(settled({{"antibody_drive", 4},
                                   {"antigen_release", 2},
                                   {"anti_c1q", 3},
                                   {"share_kidney", 0},
                                   {"share_skin", 1},
                                   {"acute_phase_response", 0.3}}))
                        ->serum(5);
  const char* urticarial = "Wisnieski 1995 Medicine 74:24 (18 people)";
  ledger.push_back({"E10a", "urticarial vasculitis with antibody to C1q: C1q of normal", "markedly decreased", 2, 60,
                    "%", urticarial, skin.c1q, ""});
  ledger.push_back({"E10b", "the same: C4 of normal", "low", 1, 50, "%", urticarial, 100 * skin.c4 / 0.25, ""});

  const auto lost = w.run(settled({{"factor_i_gene_copies", 0}}));
  const auto state = lost->state(5);
  const auto nm = [&](const char* species) { return state[lost->body().model->species(species)]; };
  const char* vyse = "Thompson & Lachmann 1977; Vyse 1996";
  ledger.push_back({"E11a", "factor I missing: C3 antigen (C3 and C3b) of normal", "about 30 % (one patient)", 10, 50,
                    "%", vyse, 100 * (nm("C3") + nm("C3b")) / 6486.5,
                    "a constant of the alternative pathway was set by this finding"});
  ledger.push_back({"E11b", "factor I missing: factor B of normal", "low", 0, 60, "%", vyse,
                    100 * lost->serum(5).factor_b / 210, ""});

  const auto inflamed = w.run(settled({{"acute_trigger", 1}, {"acute_phase_response", 1.5}}));
  ledger.push_back({"E12", "the strongest acute phase: C3 of usual", "up to twice the resting level", 120, 200, "%",
                    "laboratory handbook; common practice", 100 * inflamed->c3(5) / 1.2, ""});
}

}  // namespace drawdown::study::truth
