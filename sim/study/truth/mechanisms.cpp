// Findings that set no constant: each asks a mechanism of the model for what others measured.
#include <algorithm>
#include <cmath>

#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

namespace {

constexpr double usual_c3 = 1.2;
constexpr double usual_c4 = 0.25;

double nm(const Run& run, double day, const char* species) {
  return run.state(day)[run.body().model->species(species)];
}
// A protein's level beside the standard person's.
double relative(const Run& run, double day, const char* protein) {
  const auto& rows = run.body().model->proteins();
  const auto& row = rows[body::protein_at(protein)];
  return nm(run, day, protein) / body::nanomolar(row.level, row.mass);
}
double use(const Run& run, const char* protein) {
  return fractional_catabolic_rate(run, 5.0, protein);
}
Levers with(Levers levers, const Levers& more) {
  for (const auto& [name, value] : more) {
    const auto same = [n = std::string(name)](const auto& lever) { return n == lever.first; };
    const auto found = std::find_if(levers.begin(), levers.end(), same);
    if (found != levers.end()) {
      found->second = value;
    } else {
      levers.emplace_back(name, value);
    }
  }
  return levers;
}

void loop(std::vector<TruthEntry>& ledger, const World& w) {
  const auto flare = w.run(settled(renal_flare()));
  const auto without_b = w.run(settled(with(renal_flare(), {{"factor_b_gene_copies", 0}})));
  const auto without_d = w.run(settled(with(renal_flare(), {{"factor_d_gene_copies", 0}})));
  const char* harboe = "Harboe & Mollnes 2008 J Cell Mol Med 12:1074";
  const auto falls = [&](const Run& without, const char* species) {
    return 100 * (1 - nm(without, 5, species) / nm(*flare, 5, species));
  };
  ledger.push_back({"P5a", "complexes, factor B taken out: fall of C5a", "80-90 % (serum)", 65, 95, "%", harboe,
                    falls(*without_b, "C5a"), ""});
  ledger.push_back(
      {"P5b", "the same: fall of sC5b-9", "80-90 % (serum)", 65, 95, "%", harboe, falls(*without_b, "sC5b9"), ""});
  ledger.push_back({"P5c", "complexes, factor D taken out: fall of C5a", "80-90 % (serum)", 65, 95, "%", harboe,
                    falls(*without_d, "C5a"), ""});

  const auto nephritis = [&](double drive) {
    return w.run(settled(with(renal_flare(), {{"antibody_drive", drive}, {"antigen_release", 0.6 * drive}})));
  };
  const auto severe =
      nephritis(find(1.0, 10.0, 0.45, [&](double drive) { return nephritis(drive)->c3(5) / usual_c3; }));
  const char* perrin = "Perrin 1975 J Clin Invest; Charlesworth 1974 (Hunsicker 1972: low in 8 of 12)";
  ledger.push_back({"P6a", "nephritis with C3 at 0.45 of usual: factor B of usual", "only slightly lower", 70, 95, "%",
                    perrin, 100 * relative(*severe, 5, "FB"), ""});
  const auto healthy = w.run(settled({}));
  const auto weak = w.run(settled(with(renal_flare(), {{"hepatic_output", 0.4}})));
  ledger.push_back({"P6b", "a renal flare with a liver at four tenths: factor B use beside rest",
                    "normal or slightly raised", 0.9, 1.4, "times", perrin, use(*weak, "FB") / use(*healthy, "FB"),
                    ""});
  ledger.push_back({"P6c", "the same: C3 use beside rest", "clearly raised", 1.8, 4, "times", perrin,
                    use(*weak, "C3") / use(*healthy, "C3"), ""});

  const auto extreme = [&](double output) {
    return w.run(
        settled(with(renal_flare(), {{"antibody_drive", 10}, {"antigen_release", 6}, {"hepatic_output", output}})));
  };
  const auto worst = extreme(0.85);
  const char* range = "to 5.3 %/h: Sliwinski & Zvaifler 1972; 0.3-0.6 g/L";
  ledger.push_back({"K10a", "the most severe nephritis, liver at 0.85: C3", "0.40-0.55", 0.40, 0.55, "g/L", range,
                    worst->c3(5), ""});
  ledger.push_back({"K10b", "the same: C3 use", "4-5.5 %/h", 4, 5.5, "%/h", range, 100 * use(*worst, "C3"), ""});
  const auto quiet = w.run(settled({{"antibody_drive", 1.4}, {"acute_phase_response", 0.3}}));
  const auto active = w.run(settled(with(renal_flare(), {{"antibody_drive", 4}, {"antigen_release", 2}})));
  const char* series = "Int Arch Allergy 1983;70:12 (Tseng 2018 disagrees on H and I)";
  for (const auto& [id, protein, low, high] : {std::tuple{"P7a", "C5", 75.0, 98.0},
                                               {"P7b", "C4BP", 75.0, 98.0},
                                               {"P7c", "P", 75.0, 98.0},
                                               {"P7d", "FH", 85.0, 105.0},
                                               {"P7e", "FI", 85.0, 105.0}}) {
    ledger.push_back({id, std::string("active beside quiet nephritis: ") + protein,
                      low < 80 ? "lower, inside normal" : "hardly changed", low, high, "%", series,
                      100 * relative(*active, 5, protein) / relative(*quiet, 5, protein), ""});
  }

  const auto burnt = [&](double strength) { return w.run(settled({{"cryoglobulin", strength}})); };
  const auto dengue = burnt(find(0.0, 1.0, 0.6, [&](double x) { return burnt(x)->c4(5) / usual_c4; }));
  const char* shaio = "Shaio 1992 Trans R Soc Trop Med Hyg 86:672";
  ledger.push_back({"P8a", "the classical pathway alone brings C4 to 0.6: CH50", "-45 %", 45, 75, "%", shaio,
                    dengue->serum(5).ch50, ""});
  ledger.push_back({"P8b", "the same: AH50", "hardly touched", 90, 110, "%", shaio, dengue->serum(5).ah50, ""});
  ledger.push_back(
      {"P8c", "the same: C3 of usual", "hardly touched", 85, 115, "%", shaio, 100 * dengue->c3(5) / usual_c3, ""});
}

void infection(std::vector<TruthEntry>& ledger, const World& w) {
  const auto of = [&](double severity, double hours) {
    scenario::Scenario s;
    s.days = 20;
    s.events = {{0, body::lever_at("infection"), severity, 0, hours, ""}};
    return w.run(s);
  };
  const char* shock_source = "Greenwood 1976 BMJ 1:797; Brandtzaeg 1996 J Infect Dis 173:647";
  const auto focal = of(0.3, 24.0 * 10);
  const auto shock = of(1.0, 24.0 * 4);
  ledger.push_back({"P10a", "infection in one place, day 7: C3 of usual", "above controls", 102, 200, "%", shock_source,
                    100 * focal->c3(7) / usual_c3, ""});
  ledger.push_back({"P10b", "septic shock, day 3: C3 of usual", "low", 30, 85, "%", shock_source,
                    100 * shock->c3(3) / usual_c3, ""});
  ledger.push_back(
      {"P10c", "the same: C4 of usual", "no different", 85, 150, "%", shock_source, 100 * shock->c4(3) / usual_c4, ""});
  const auto ratio = [](const Run& r, double day) { return r.serum(day).c4d / r.c4(day); };
  const char* lin = "Lin 1993; Clin Diagn Lab Immunol 1996;3:175; Crit Care Med 1982";
  ledger.push_back({"P11a", "septic shock, day 3: C4d/C4 beside before", "not raised", 0.5, 1.5, "times", lin,
                    ratio(*shock, 3) / ratio(*shock, 0), ""});
  ledger.push_back({"P11b", "the same: Bb/B beside before", "raised", 1.3, 50, "times", lin,
                    (nm(*shock, 3, "Bb") / nm(*shock, 3, "FB")) / (nm(*shock, 0, "Bb") / nm(*shock, 0, "FB")),
                    "raised 1.29 times by the acute phase alone, without germs"});
  ledger.push_back({"P11c", "the same, treated on day 4: C3 of usual on day 10", "recovers in survivors", 90, 200, "%",
                    lin, 100 * shock->c3(10) / usual_c3, ""});
  const auto dengue = of(1.0, 24.0 * 6);
  const char* bokisch = "Bokisch 1973 NEJM 289:996";
  ledger.push_back(
      {"P9a", "dengue shock, day 5: C3 of usual", "20-40 %", 20, 45, "%", bokisch, 100 * dengue->c3(5) / usual_c3, ""});
  ledger.push_back(
      {"P9b", "the same: C5 of usual", "20-40 %", 20, 45, "%", bokisch, 100 * relative(*dengue, 5, "C5"), ""});
  ledger.push_back(
      {"P9c", "the same: C9 of usual", "not lower", 85, 200, "%", bokisch, 100 * relative(*dengue, 5, "C9"), ""});
  ledger.push_back({"P9d", "the same: C3 use beside rest", "markedly raised", 1.5, 10, "times", bokisch,
                    fractional_catabolic_rate(*dengue, 5.0, "C3") / 0.021, ""});
}

void regulators(std::vector<TruthEntry>& ledger, const World& w) {
  const char* vyse = "Vyse 1994; Nielsen 1989 Scand J Immunol 30:711";
  const auto no_i = w.run(settled({{"factor_i_gene_copies", 0}}));
  ledger.push_back(
      {"P15a", "factor I missing: C3 of usual", "about 30 %", 15, 40, "%", vyse, 100 * no_i->c3(5) / usual_c3, ""});
  ledger.push_back(
      {"P15b", "the same: factor B of usual", "low", 0, 30, "%", vyse, 100 * relative(*no_i, 5, "FB"), ""});
  ledger.push_back({"P15c", "half the factor I genes: C3 of usual", "near normal or mildly low", 80, 100, "%", vyse,
                    100 * w.run(settled({{"factor_i_gene_copies", 1}}))->c3(5) / usual_c3, ""});
  ledger.push_back({"P15d", "half the factor H genes: C3 of usual", "near normal or mildly low", 70, 95, "%", vyse,
                    100 * w.run(settled({{"factor_h_gene_copies", 1}}))->c3(5) / usual_c3, ""});

  const char* guide = "laboratory guideline table; Brazilian family";
  const auto pair_of = [&](const char* lever, double copies) { return w.run(settled({{lever, copies}}))->serum(5); };
  for (const auto& [id, lever, ch_low, ch_high, ah_low, ah_high] :
       {std::tuple{"P23a", "c1q_gene_copies", 0.0, 5.0, 90.0, 120.0},
        {"P23b", "c2_gene_copies", 0.0, 5.0, 90.0, 120.0},
        {"P23c", "c4_gene_copies", 0.0, 5.0, 90.0, 120.0},
        {"P23d", "c3_gene_copies", 0.0, 5.0, 0.0, 5.0},
        {"P23e", "c5_gene_copies", 0.0, 5.0, 0.0, 5.0},
        {"P23f", "factor_b_gene_copies", 90.0, 120.0, 0.0, 5.0},
        {"P23g", "factor_d_gene_copies", 90.0, 120.0, 0.0, 5.0},
        {"P23h", "properdin_gene_copies", 85.0, 120.0, 0.0, 60.0},
        {"P23i", "c9_gene_copies", 40.0, 60.0, 0.0, 70.0}}) {
    const auto s = pair_of(lever, 0);
    ledger.push_back({std::string(id) + "1", std::string(lever) + " none: CH50", "pattern of the table", ch_low,
                      ch_high, "%", guide, s.ch50, ""});
    ledger.push_back({std::string(id) + "2", std::string(lever) + " none: AH50", "pattern of the table", ah_low,
                      ah_high, "%", guide, s.ah50, ""});
  }
  ledger.push_back(
      {"P23j", "half the C3 genes: CH50", "0.75-0.95", 75, 95, "%", guide, pair_of("c3_gene_copies", 1).ch50, ""});
}

void factors_and_food(std::vector<TruthEntry>& ledger, const World& w) {
  const auto terminal = w.run(settled({{"c5_nephritic_factor", 1}}));
  const char* varade = "Varade, Forristal & West 1990 Am J Kidney Dis";
  ledger.push_back({"P14a", "nephritic factor of C5 type: C5 of usual", "low in 8 of 8", 5, 60, "%", varade,
                    100 * relative(*terminal, 5, "C5"), ""});
  ledger.push_back({"P14b", "the same: properdin of usual", "low in 8 of 8", 5, 75, "%", varade,
                    100 * relative(*terminal, 5, "P"), ""});
  const char* olusi = "Olusi 1976";
  const auto starved = w.run(settled({{"malnutrition", 1}}));
  ledger.push_back(
      {"P16a", "severe malnutrition: C3 of usual", "0.5-0.8", 50, 80, "%", olusi, 100 * starved->c3(5) / usual_c3, ""});
  ledger.push_back(
      {"P16b", "the same: C4 of usual", "unchanged", 90, 110, "%", olusi, 100 * starved->c4(5) / usual_c4, ""});
  const char* thinner = "Eur J Clin Invest 2012;42:503";
  const auto slim = w.run(settled({{"malnutrition", 0.3}}));
  ledger.push_back({"P16c", "weight loss: change of C3", "-10 to -15 %", -18, -8, "%", thinner,
                    100 * (slim->c3(5) / usual_c3 - 1), ""});
  ledger.push_back(
      {"P16d", "weight loss: change of C4", "unchanged", -3, 3, "%", thinner, 100 * (slim->c4(5) / usual_c4 - 1), ""});

  // Complexes in the blood.
  const Levers flare = renal_flare();
  const auto usual = w.run(settled(flare));
  const auto few = w.run(settled(with(flare, {{"red_cell_receptors", 0.5}})));
  const auto no_c3 = w.run(settled(with(flare, {{"c3_gene_copies", 0}})));
  const char* halma = "Halma 1992; Clin Exp Immunol 1989;75:329";
  const auto leaves = [](const Run& r) {
    double out = 0.0;
    const auto& n = r.body().network;
    const auto rates = body::reaction_rates(r.body(), r.state(5), r.levers(5));
    const int at = n.species_index("complexes");
    for (std::size_t i = 0; i < rates.size(); ++i) {
      for (const auto& c : n.reactions[i].changes) {
        if (c.species == at && c.count < 0) out += rates[i];
      }
    }
    return out / nm(r, 5, "complexes");
  };
  const auto deposits = [](const Run& r, double day) {
    double sum = 0.0;
    for (const auto& t : r.body().model->tissues()) sum += nm(r, day, ("deposit_" + t.name).c_str());
    return sum;
  };
  ledger.push_back({"P22a", "no C3 at all: speed at which complexes leave the blood", "faster (3.3 against 7.0 min)",
                    1.02, 5, "times", halma, leaves(*no_c3) / leaves(*usual), ""});
  ledger.push_back({"P22b", "half the red cells' receptors: settled complexes", "trapped in tissue", 1.05, 5, "times",
                    halma, deposits(*few, 5) / deposits(*usual, 5), ""});
  const auto falling = w.run(from_day_zero(with(flare, {{"antibody_drive", 10}}), 120));
  ledger.push_back({"P19", "a severe flare from day 30 to day 110: complexes in the blood", "fall as C1q falls", 0.1,
                    1.0, "times", "J Autoimmun 1999", nm(*falling, 110, "complexes") / nm(*falling, 30, "complexes"),
                    "not met: see the limits"});
}

void liver(std::vector<TruthEntry>& ledger, const World& w) {
  const char* source = "Potter 1973; Homann 1997 Gut 40:544";
  const auto healthy = w.run(settled({}));
  const auto failing = w.run(settled({{"hepatic_output", 0.4}}));
  ledger.push_back({"P17a", "a liver at four tenths: fall of C4 beside fall of C3", "C4 at least as much", 1.0, 2,
                    "times", source, (1 - failing->c4(5) / usual_c4) / (1 - failing->c3(5) / usual_c3), ""});
  ledger.push_back({"P17b", "the same: C3 use beside rest", "not raised", 0.85, 1.15, "times", source,
                    use(*failing, "C3") / use(*healthy, "C3"), ""});
  ledger.push_back({"P17c", "the same: C4 use beside rest", "not raised", 0.85, 1.15, "times", source,
                    use(*failing, "C4") / use(*healthy, "C4"), ""});
}

void antibodies(std::vector<TruthEntry>& ledger, const World& w) {
  const char* vasculitis = "ACR series n 57; Wisnieski 1995 Medicine 74:24";
  const auto alone = w.run(settled({{"anti_c1q", 1}}));
  ledger.push_back({"P20a", "antibodies to C1q, no complexes: C4 of usual", "little", 80, 105, "%", vasculitis,
                    100 * alone->c4(5) / usual_c4, ""});
  const auto skin = w.run(settled({{"antibody_drive", 4},
                                   {"antigen_release", 2},
                                   {"anti_c1q", 3},
                                   {"share_kidney", 0},
                                   {"share_skin", 1},
                                   {"acute_phase_response", 0.3}}));
  ledger.push_back({"P20b", "vasculitis with antibodies to C1q: C1q of usual", "low", 0, 30, "%", vasculitis,
                    100 * relative(*skin, 5, "C1"), ""});
  ledger.push_back({"P20c", "the same: C4 of usual", "low", 0, 60, "%", vasculitis, 100 * skin->c4(5) / usual_c4, ""});
  ledger.push_back(
      {"P20d", "the same: C3 of usual", "0.6-1.0", 60, 100, "%", vasculitis, 100 * skin->c3(5) / usual_c3, ""});
  ledger.push_back({"P20e", "the same: C1 inhibitor of usual", "normal", 85, 115, "%", vasculitis,
                    100 * relative(*skin, 5, "C1INH"), ""});

  const char* stegert = "Stegert 2015 Mol Immunol 67:3; Front Immunol 2016;7:55";
  const auto debris = [&](const Levers& levers) { return nm(*w.run(settled(levers)), 5, "antigen"); };
  const auto antibody = [&](const Levers& levers) { return nm(*w.run(settled(levers)), 5, "antibody"); };
  ledger.push_back({"P24a", "C1q missing: debris beside usual", "stays", 1.3, 10, "times", stegert,
                    debris({{"c1q_gene_copies", 0}}) / debris({}), ""});
  ledger.push_back({"P24b", "C1q missing: antibody", "follows (lupus in 55 %)", 0.3, 10, "relative", stegert,
                    antibody({{"c1q_gene_copies", 0}}), ""});
  ledger.push_back({"P24c", "C2 missing: antibody", "lupus in 10 %", -0.001, 0.2, "relative", stegert,
                    antibody({{"c2_gene_copies", 0}}), ""});
}

}  // namespace

void mechanisms(std::vector<TruthEntry>& ledger, const World& w) {
  loop(ledger, w);
  infection(ledger, w);
  regulators(ledger, w);
  liver(ledger, w);
  factors_and_food(ledger, w);
  antibodies(ledger, w);
}

}  // namespace drawdown::study::truth
