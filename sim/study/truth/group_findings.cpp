// Findings in groups of people that set no constant of the model: which of the two is low more often where, what moves
// together, how fast treatment brings the levels back.
#include <algorithm>
#include <string>

#include "study/truth/experiments.hpp"
#include "study/truth/sampling.hpp"

namespace drawdown::study::truth {

namespace {

void which_is_low(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  const char* renal = "Narayanan 2010 MJAFI 66:102; Ricker 1991; Birmingham 2010";
  const char* dispute =
      "papers disagree: C3 more often in these three (92 and 85, 95 and 56, 75 and 48 %), C4 in Cameron 1973";
  const Shares kidney = low_in(w, "flare-with-kidney", before_treatment, 100 * seed + 21);
  const Shares relapse = low_in(w, "kidney-relapse", before_treatment, 100 * seed + 22);
  const Shares other = low_in(w, "flare-without-kidney", before_treatment, 100 * seed + 23);
  const Shares mixed_nephritis = low_in(w, "nephritis-mixed", before_treatment, 100 * seed + 24);
  ledger.push_back(
      sampled(w, {"P1a", "renal flares: C3 low", "92, 95, 75 %", 75, 95, "%", renal, 0.0, dispute}, kidney.c3));
  ledger.push_back(
      sampled(w, {"P1b", "renal flares: C3 low less C4 low", "7, 39, 27 points", 0, 45, "points", renal, 0.0, dispute},
              kidney.c3_more));
  ledger.push_back(
      sampled(w, {"P1c", "renal relapses: C3 low less C4 low", "27 points", 0, 45, "points", renal, 0.0, dispute},
              relapse.c3_more));
  const Figure c4_more{-other.c3_more.value, -other.c3_more.high, -other.c3_more.low};
  ledger.push_back(sampled(w,
                           {"P2", "flares without kidney disease: C4 low less C3 low", "10 and 11 points", 0, 20,
                            "points", "Narayanan 2010 MJAFI 66:102; two trials n 1684, limits 0.90 and 0.16 g/L", 0.0,
                            "limits 0.90 and 0.10 g/L here"},
                           c4_more));
  ledger.push_back(sampled(w,
                           {"P4", "nephritis in hospital: C3 or C4 low", "86 % (180 of 210)", 78, 94, "%",
                            "Xiao 2022 J Mod Lab Med 37:39", 0.0, ""},
                           mixed({{0.5, kidney.either}, {0.5, mixed_nephritis.either}})));
}

void what_goes_together(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::vector<double> c3;
  std::vector<double> c4;
  for (const std::string group : {"quiet-lupus", "flare-without-kidney", "flare-with-kidney"}) {
    each_person(w, group.c_str(), 100 * seed + 25, 150, [&](const Course& course) {
      const int day = group == "quiet-lupus" ? 0 : course.treatment_day();
      c3.push_back(course.read(Test::c3, day, before_treatment));
      c4.push_back(course.read(Test::c4, day, before_treatment));
    });
  }
  ledger.push_back(
      sampled(w,
              {"P3", "people with lupus, a third quiet, a third in a flare of the kidney: C3 with C4",
               "r 0.845 (n 1012)", 0.65, 0.90, "r", "cohort of 1012 people 2006-13", 0.0, "the mix of people assumed"},
              correlation_of(c3, c4)));
}

void in_health(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::vector<double> level;
  std::vector<double> b;
  std::vector<double> i;
  each_person(w, "healthy", 100 * seed + 26, 1,
              [&](const Course& course) {
                level.push_back(course.level(Test::c3, 0));
                b.push_back(course.of(2, 0));
                i.push_back(course.of(3, 0));
              },
              {"FB", "FI"});
  const char* petz = "Petz 1969 J Clin Invest 48:2469; Clin Exp Immunol 1977;28:61";
  ledger.push_back(sampled(w,
                           {"P12a", "healthy people: spread of C3", "15 % (derived)", 10, 17, "%", petz, 0.0,
                            "the sampler's spread was set by it"},
                           variation_of(level)));
  ledger.push_back(sampled(w,
                           {"P12b", "healthy people: factor B with factor I", "r 0.71", 0.4, 0.95, "r", petz, 0.0,
                            "the sampler's correlation was set by it"},
                           correlation_of(b, i)));
}

void in_infection(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::vector<double> c3_early;
  std::vector<double> b_early;
  std::vector<double> c4_early;
  each_person(w, "severe-infection", 100 * seed + 27, 60,
              [&](const Course& course) {
                const int day = static_cast<int>(course.who().onset_day) + 3;
                c3_early.push_back(course.level(Test::c3, day));
                c4_early.push_back(course.level(Test::c4, day));
                b_early.push_back(course.of(2, day));
              },
              {"FB"});
  const char* septic = "Crit Care Med 1982 (C3 and B r 0.85; C3 and C4 apart)";
  const Figure with_b = correlation_of(c3_early, b_early);
  const Figure with_c4 = correlation_of(c3_early, c4_early);
  ledger.push_back(sampled(w,
                           {"P11d", "severe infection, day 3: r of C3 with factor B less r of C3 with C4", "above 0", 0,
                            2, "r", septic, 0.0, ""},
                           {with_b.value - with_c4.value, with_b.low - with_c4.high, with_b.high - with_c4.low}));
}

void with_nephritic_factor(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::vector<double> c3;
  std::vector<double> c5;
  std::size_t never_low = 0;
  std::size_t c4_low = 0;
  each_person(w, "c3-glomerulopathy", 100 * seed + 28, 300,
              [&](const Course& course) {
                const int day = course.treatment_day();
                c3.push_back(course.level(Test::c3, day));
                c5.push_back(course.of(2, day));
                bool ever = false;
                for (std::uint32_t visit = 0; visit < 6; ++visit) {
                  ever =
                      ever || below(course.read(Test::c3, day - 5 * static_cast<int>(visit), 2000 + visit), c3_limit);
                }
                never_low += ever ? 0U : 1U;
                c4_low += below(course.read(Test::c4, day, before_treatment), c4_limit) ? 1U : 0U;
              },
              {"C5"});
  const char* glomerulopathy = "Am J Nephrol 2022;53:675; Schwertz 2001";
  ledger.push_back(sampled(w,
                           {"P21a", "C3 glomerulopathy: C3 with C5", "r 0.80", 0.5, 0.9, "r", glomerulopathy, 0.0, ""},
                           correlation_of(c3, c5)));
  ledger.push_back(sampled(w,
                           {"P21b", "with a nephritic factor, six blood tests: C3 never low", "1 in 5", 10, 30, "%",
                            glomerulopathy, 0.0, "severity of the group assumed"},
                           share_of(w, never_low)));
  ledger.push_back(sampled(
      w,
      {"P21c", "the same: C4 low", "normal", 0, 8, "%", glomerulopathy, 0.0, "healthy people below 0.10 g/L count too"},
      share_of(w, c4_low)));
}

void what_treatment_does(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::vector<double> early;
  each_person(w, "nephritis-mixed", 100 * seed + 29, 330, [&](const Course& course) {
    const int start = course.treatment_day();
    const auto rise = [&](int days) { return course.level(Test::c3, start + days) - course.level(Test::c3, start); };
    early.push_back(100 * rise(91) / rise(six_months));
  });
  ledger.push_back(sampled(w,
                           {"P18", "nephritis treated: part of six months' rise of C3 that is there after three",
                            "mainly in the first 3 months", 65, 200, "%", "PMID 38802607 (n 428)", 0.0, ""},
                           median_of(std::move(early))));
}

void with_il6_blocked(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  std::size_t c3 = 0;
  std::size_t c4 = 0;
  each_person(w, "arthritis-il6-blocked", 100 * seed + 30, 500, [&](const Course& course) {
    const int day = std::min(500, course.treatment_day() + 365);
    c3 += below(course.read(Test::c3, day, before_treatment), c3_limit) ? 1U : 0U;
    c4 += below(course.read(Test::c4, day, before_treatment), 0.14) ? 1U : 0U;
  });
  const char* romano = "Romano 2018 Clin Rheumatol (16 people)";
  ledger.push_back(sampled(w,
                           {"S12c", "arthritis, IL-6 blocked for a year: C3 below the range", "69 %", 46, 92, "%",
                            romano, 0.0, "16 people: two standard errors either way"},
                           share_of(w, c3)));
  ledger.push_back(sampled(w,
                           {"S12d", "the same: C4", "56 %", 31, 81, "%", romano, 0.0,
                            "16 people; the paper's limit is not known to us, 0.14 g/L taken"},
                           share_of(w, c4)));
}

}  // namespace

void group_findings(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  if (w.wanted({"P1a", "P1b", "P1c", "P2", "P4"})) which_is_low(ledger, w, seed);
  if (w.wanted({"P3"})) what_goes_together(ledger, w, seed);
  if (w.wanted({"P12"})) in_health(ledger, w, seed);
  if (w.wanted({"P11d"})) in_infection(ledger, w, seed);
  if (w.wanted({"P21"})) with_nephritic_factor(ledger, w, seed);
  if (w.wanted({"P18"})) what_treatment_does(ledger, w, seed);
  if (w.wanted({"S12"})) with_il6_blocked(ledger, w, seed);
}

}  // namespace drawdown::study::truth
