// Putting the ledger together, and saying what the model cannot do.
#include <cmath>
#include <iomanip>
#include <locale>
#include <sstream>

#include "study/change_value.hpp"
#include "study/truth/experiments.hpp"
#include "study/truth/standing.hpp"

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

namespace {

// Rows are listed by what they are worth, away from the row that "the same" speaks of: its situation is put in.
void name_the_same(std::vector<TruthEntry>& ledger) {
  const std::string same = "the same";
  std::string situation;
  for (TruthEntry& entry : ledger) {
    if (entry.situation.rfind(same, 0) == 0) {
      entry.situation = situation + entry.situation.substr(same.size());
    } else {
      situation = entry.situation.substr(0, entry.situation.rfind(": "));
    }
  }
}

}  // namespace

}  // namespace truth

std::vector<TruthEntry> truth_chapter(TruthChapter chapter, std::uint64_t seed) {
  return truth_chapter(chapter, truth::World(), seed);
}

std::vector<TruthEntry> truth_chapter(TruthChapter chapter, const truth::World& world, std::uint64_t seed) {
  std::vector<TruthEntry> ledger;
  switch (chapter) {
    case TruthChapter::kinetics:
      truth::kinetics(ledger, world);
      break;
    case TruthChapter::patterns:
      truth::serum_patterns(ledger, world);
      break;
    case TruthChapter::treatments:
      truth::treatments(ledger, world);
      break;
    case TruthChapter::wider:
      truth::wider_evidence(ledger, world);
      break;
    case TruthChapter::mechanisms:
      truth::mechanisms(ledger, world);
      break;
    case TruthChapter::groups:
      truth::groups(ledger, world, seed);
      truth::group_findings(ledger, world, seed);
      break;
    case TruthChapter::calculators:
      truth::calculators(ledger);
      break;
  }
  if (chapter != TruthChapter::calculators) truth::name_the_same(ledger);
  for (TruthEntry& entry : ledger) truth::stand(entry);
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

const char* name_of(TruthKind kind) {
  switch (kind) {
    case TruthKind::wiring:
      return "wiring";
    case TruthKind::calibrated:
      return "calibrated";
    case TruthKind::independent:
      return "independent";
    case TruthKind::holds_anyway:
      return "holds anyway";
    case TruthKind::unsaid:
      break;
  }
  return "unsaid";
}

std::string told_limit(const TruthEntry& entry) {
  std::ostringstream figure;
  figure.imbue(std::locale::classic());
  figure << ' ' << std::fixed << std::setprecision(std::abs(entry.model) < 10 ? 2 : 0) << entry.model << ' '
         << entry.unit;
  for (std::string& limit : known_limits()) {
    if (limit.rfind(entry.id + ":", 0) == 0 && limit.find(figure.str()) != std::string::npos) return std::move(limit);
  }
  return {};
}

TruthCount counted(const std::vector<TruthEntry>& ledger) {
  TruthCount count;
  for (const TruthEntry& e : ledger) {
    count.independent += e.kind == TruthKind::independent ? 1U : 0U;
    count.inside += e.kind == TruthKind::independent && e.inside() ? 1U : 0U;
    count.calibrated += e.kind == TruthKind::calibrated ? 1U : 0U;
    count.wiring += e.kind == TruthKind::wiring ? 1U : 0U;
    count.anyway += e.kind == TruthKind::holds_anyway ? 1U : 0U;
    if (!e.disputed.empty()) count.disputed.push_back(&e);
    if (e.inside()) continue;
    count.not_met.push_back(&e);
    if (told_limit(e).empty()) count.untold.push_back(&e);
  }
  return count;
}

std::vector<std::string> known_limits() {
  return {
      "K7d: in C1-inhibitor deficiency C3 is used at 2.10 %/h here and made as at rest; the paper finds 2.6-3.2 %/h "
      "and "
      "more made (Carpenter 1969). Nothing here lets C4 cleaved in the fluid reach C3.",
      "C6, C7 and C8 are not modelled apart: C5b goes on to the attack complex with C9 alone.",
      "P9b: in shock with germs in the blood C5 falls to 64 % of usual here; in dengue shock it was 20-40 % (Bokisch "
      "1973). The model's leak through vessels is the same for all large proteins and small.",
      "P19: in a severe flare complexes in the blood are 1.10 times as many on day 110 as on day 30 here; they were "
      "found "
      "to fall as C1q falls (J Autoimmun 1999). Nothing here makes fewer of them as C1q falls.",
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
