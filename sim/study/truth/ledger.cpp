// Putting the ledger together, and saying what the model cannot do.
#include "study/change_value.hpp"
#include "study/truth/experiments.hpp"

namespace drawdown::study {

namespace truth {

void calculators(std::vector<TruthEntry>& ledger) {
  const char* fraser = "Fraser & Harris 1989 Crit Rev Clin Lab Sci 27:409";
  const char* fokkema = "Fokkema 2006 Clin Chem 52:1602 (from memory)";
  const auto exact = [&](const char* id, const char* what, const char* published, double value, double step,
                         const char* unit, const char* source, double model) {
    ledger.push_back({id, what, published, value - step, value + step, unit, source, model, ""});
  };
  exact("R1", "reference change value, symmetric: CVa 3, CVi 5.2", "16.6 %", 16.6, 0.05, "%", fraser,
        reference_change_value(3, 5.2));
  exact("R2a", "the same, log-normal, up", "+18.1 %", 18.1, 0.05, "%", fokkema, log_change_limits(3, 5.2).up);
  exact("R2b", "the same, log-normal, down", "-15.3 %", -15.3, 0.05, "%", fokkema, log_change_limits(3, 5.2).down);
  exact("R3a", "reference change value, symmetric: CVa 4, CVi 8.9", "27.0 %", 27.0, 0.06, "%", fraser,
        reference_change_value(4, 8.9));
  exact("R3b", "the same, log-normal, up", "+31.0 %", 31.0, 0.05, "%", fokkema, log_change_limits(4, 8.9).up);
  exact("R3c", "the same, log-normal, down", "-23.6 %", -23.6, 0.06, "%", fokkema, log_change_limits(4, 8.9).down);
  exact("R4a", "likelihood ratio of a positive test: sensitivity 75, specificity 71", "2.59", 2.59, 0.005, "",
        "definition", likelihood_ratios(75, 71).positive);
  exact("R4b", "of a negative test", "0.35", 0.35, 0.005, "", "definition", likelihood_ratios(75, 71).negative);
  exact("R5", "steady level of C3 made at 0.48 mg/kg/h, used at 5.3 %/h, 40 mL/kg", "0.226 g/L", 0.226, 0.0005, "g/L",
        "level = synthesis / (FCR x plasma volume)", steady_level(0.48, 0.053, 40));
}

}  // namespace truth

std::vector<TruthEntry> truth_chapter(TruthChapter chapter, std::uint64_t seed) {
  std::vector<TruthEntry> ledger;
  switch (chapter) {
    case TruthChapter::kinetics:
      truth::kinetics(ledger);
      break;
    case TruthChapter::patterns:
      truth::serum_patterns(ledger);
      break;
    case TruthChapter::treatments:
      truth::treatments(ledger);
      break;
    case TruthChapter::wider:
      truth::wider_evidence(ledger);
      break;
    case TruthChapter::mechanisms:
      truth::mechanisms(ledger);
      break;
    case TruthChapter::groups:
      truth::groups(ledger, seed);
      truth::group_findings(ledger, seed);
      break;
    case TruthChapter::calculators:
      truth::calculators(ledger);
      break;
  }
  return ledger;
}

std::vector<TruthEntry> truth_ledger() {
  std::vector<TruthEntry> ledger;
  for (const TruthChapter chapter :
       {TruthChapter::kinetics, TruthChapter::patterns, TruthChapter::treatments, TruthChapter::wider,
        TruthChapter::mechanisms, TruthChapter::groups, TruthChapter::calculators}) {
    for (TruthEntry& entry : truth_chapter(chapter)) ledger.push_back(std::move(entry));
  }
  return ledger;
}

std::vector<std::string> known_limits() {
  return {
      "C1-inhibitor deficiency: papers find C3 used a little faster and made more (C3 use 2.6-3.2 %/h); the model "
      "leaves "
      "C3 at rest.",
      "C6, C7 and C8 are not modelled apart: C5b goes on to the attack complex with C9 alone.",
      "P9b: in shock with germs in the blood C5 falls to 64 % of usual here; in dengue shock it was 20-40 % (Bokisch "
      "1973). The model's leak through vessels is the same for all large proteins and small.",
      "Complex formation, settling, inflammation and injury run on relative amounts with assumed rates; only their "
      "effect on complement is held to published figures.",
      "Protein loss in the urine does not lower C3 and C4 here; Hebert 1991 (Kidney Int 39:811) finds none either for "
      "moderate loss.",
      "Medicines act as classes with one strength; doses, side effects and failures are not modelled.",
      "In sampled people weight and plasma volume move no level (all amounts are per litre of plasma); age and sex are "
      "not drawn.",
      "The wall of a clotting vessel is no tissue of the model: skin, joints and lining stand for it.",
  };
}

}  // namespace drawdown::study
