// What treatments and the sample's fate do to the numbers.
#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

void treatments(std::vector<TruthEntry>& ledger, const World& w) {
  scenario::Scenario exchange;
  exchange.days = 20;
  exchange.events = {{10, body::lever_at("plasma_exchange"), 1.1 / 2.5, 0, 2.5, ""}};
  const auto exchanged = w.run(exchange);
  const double end = 10 + 2.5 / 24;
  const char* series = "10 patients, cell-separator exchange series (from memory, exact citation to be found)";
  ledger.push_back({"S8", "one plasma exchange of 1.1 plasma volumes, complement-free: C3 of before", "37 %", 25, 49,
                    "%", series, 100 * exchanged->c3(end) / exchanged->c3(9),
                    "body weights unknown; 1.0-1.2 plasma volumes assumed"});
  const double deficit = exchanged->c3(9) - exchanged->c3(end);
  const char* blood = "Blood 1980;56:1055";
  ledger.push_back({"S9a", "72 h after the exchange: part of the deficit recovered", "60 %", 50, 90, "%", blood,
                    100 * (exchanged->c3(end + 3) - exchanged->c3(end)) / deficit,
                    "the abstract does not say of what: both readings given"});
  ledger.push_back({"S9b", "72 h after the exchange: part of the earlier level reached", "60 %", 50, 90, "%", blood,
                    100 * exchanged->c3(end + 3) / exchanged->c3(9), "the other reading"});

  const auto blocked = w.run(settled({{"block_c5", 1}}));
  const char* noris = "Noris 2014 Blood 124:1715; Peffault de Latour 2015 Blood 125:775";
  ledger.push_back({"S10a", "C5 blocked: CH50", "under 10 %", 0, 10, "%", noris, blocked->serum(5).ch50, ""});
  ledger.push_back(
      {"S10b", "C5 blocked: C3 of before", "unchanged", 95, 105, "%", noris, 100 * blocked->c3(5) / 1.2, ""});
  ledger.push_back(
      {"S10c", "C5 blocked: C4 of before", "unchanged", 95, 105, "%", noris, 100 * blocked->c4(5) / 0.25, ""});

  const auto stored = w.run(settled({{"fridge_days", 4}}));
  const char* lab = "Lab Med Online 2014;4:152";
  ledger.push_back({"S13a", "serum four days at 4 C: C3 reads", "+17.6 %", 13.6, 21.6, "%", lab,
                    100 * (stored->measured(5).c3 / stored->serum(5).c3 - 1), "wiring"});
  ledger.push_back({"S13b", "the same: C4 reads", "+16.8 %", 12.8, 20.8, "%", lab,
                    100 * (stored->measured(5).c4 / stored->serum(5).c4 - 1), "wiring"});

  scenario::Scenario infusion;
  infusion.days = 20;
  infusion.events = {{5, body::lever_at("immunoglobulin"), 0.2, 0, 10, ""}};
  const auto infused = w.run(infusion);
  const char* ivig = "Blood 2004;103:465";
  ledger.push_back({"S15a", "immunoglobulin 2 g/kg: C4 used by day 1-2", "up to 40 %", 25, 55, "%", ivig,
                    100 * (1 - infused->c4(6.5) / 0.25), ""});
  ledger.push_back({"S15b", "the same: change of C3", "unchanged or +15-20 %", -15, 35, "%", ivig,
                    100 * (infused->c3(6.5) / 1.2 - 1), ""});
}

}  // namespace drawdown::study::truth
