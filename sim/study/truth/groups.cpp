// Findings in groups of people: how often a level is low, what treatment brings back, how good the test is.
#include <string>

#include "study/change_value.hpp"
#include "study/truth/experiments.hpp"
#include "study/truth/sampling.hpp"

namespace drawdown::study::truth {

namespace {

void flares(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  // Group data: ten points either way, fifteen where one small series stands alone.
  const char* narayanan = "Narayanan 2010 MJAFI 66:102";
  const Shares in_renal = low_in(w, "flare-with-kidney", before_treatment, 100 * seed + 11);
  const Shares in_other = low_in(w, "flare-without-kidney", before_treatment, 100 * seed + 12);
  ledger.push_back(sampled(w,
                           {"G1a", "renal flares: C3 low", "92 %", 77, 100, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_renal.c3));
  ledger.push_back(sampled(w,
                           {"G1b", "renal flares: C4 low", "85 %", 70, 100, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_renal.c4));
  ledger.push_back(sampled(w,
                           {"G1c", "other flares: C3 low", "43 %", 28, 58, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_other.c3));
  ledger.push_back(sampled(w,
                           {"G1d", "other flares: C4 low", "53 %", 38, 68, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_other.c4));
  // A clinic: a fifth of flares renal, half moderate ones elsewhere, the rest mild.
  const Shares in_mild = low_in(w, "mild-flare", before_treatment, 100 * seed + 16);
  ledger.push_back(
      sampled(w,
              {"G1e", "all flares of a clinic (a fifth renal, three in ten mild): C3 or C4 low", "about half", 40, 65,
               "%", "common practice, no source", 0.0, "either test low; the mix of flares assumed"},
              mixed({{0.2, in_renal.either}, {0.5, in_other.either}, {0.3, in_mild.either}})));
}

void relapses(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  const Shares at_relapse = low_in(w, "kidney-relapse", before_treatment, 100 * seed + 13);
  const Shares quiet = low_in(w, "kidney-relapse", when_quiet, 100 * seed + 14);
  const char* birmingham = "Birmingham 2010 Lupus (71 people, 70 flares)";
  ledger.push_back(sampled(w,
                           {"G2a", "C3 at a renal relapse: sensitivity", "75 %", 60, 90, "%", birmingham, 0.0,
                            "the severity of the group was chosen by it; in other series C4 is as sensitive as C3"},
                           at_relapse.c3));
  ledger.push_back(
      sampled(w, {"G2b", "C3 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 0.0, ""}, left_of(quiet.c3)));
  ledger.push_back(sampled(w, {"G2c", "C4 at a renal relapse: sensitivity", "48 %", 33, 63, "%", birmingham, 0.0, ""},
                           at_relapse.c4));
  ledger.push_back(
      sampled(w, {"G2d", "C4 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 0.0, ""}, left_of(quiet.c4)));
}

void without_people(std::vector<TruthEntry>& ledger, const World& w) {
  const char* individual = "within and between CVs from memory; formula Fraser & Harris 1989";
  const char* arithmetic = "arithmetic on these CVs, no run of the model; judging results uses 15.6 and 33.4 % between";
  ledger.push_back({"G3a", "C3: index of individuality (low: a wide interval hides a personal fall)", "0.33 (derived)",
                    0.30, 0.36, "", individual, index_of_individuality(3.0, 5.2, 18.0), arithmetic});
  ledger.push_back({"G3b", "C4: index of individuality", "0.27 (derived)", 0.22, 0.34, "", individual,
                    index_of_individuality(4.0, 8.9, 30.7), arithmetic});

  const char* aringer = "2019 EULAR/ACR classification, Aringer 2019";
  ledger.push_back({"G6a", "points for C3 or C4 low", "3", 2.9, 3.1, "points", aringer,
                    1.0 * eular_acr_complement_points(true, false), ""});
  ledger.push_back({"G6b", "points for both low", "4", 3.9, 4.1, "points", aringer,
                    1.0 * eular_acr_complement_points(true, true), ""});
  ledger.push_back({"G6c", "SLEDAI-2K points for low complement", "2", 1.9, 2.1, "points", "SLEDAI-2K (from memory)",
                    1.0 * sledai_complement_points(false, true), ""});
  // A kidney injured by deposits that fix no complement: protein in the urine, nothing used up.
  const auto losing = w.run(settled({{"antibody_drive", 8},
                                     {"antigen_release", 4},
                                     {"share_kidney", 1},
                                     {"fixation", 0},
                                     {"acute_phase_response", 0}}));
  ledger.push_back({"G7a", "an injured kidney losing protein without consumption: urine protein",
                    "present (moderate loss)", 0.1, 1.0, "relative", "Hebert 1991 Kidney Int 39:811",
                    losing->serum(10).urine_protein, ""});
  ledger.push_back({"G7b", "the same: C3 of normal", "not lowered", 95, 105, "%", "Hebert 1991 Kidney Int 39:811",
                    100 * losing->c3(10) / 1.2, "loss of C3 itself in the urine is not modelled"});
  ledger.push_back({"G7c", "the same: C4 of normal", "not lowered", 95, 105, "%", "Hebert 1991 Kidney Int 39:811",
                    100 * losing->c4(10) / 0.25, ""});
}

void treated(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  // Six months of treatment, mixed severity, incomplete response.
  std::vector<double> c3_gain;
  std::vector<double> c4_gain;
  std::size_t isolated = 0;
  std::size_t never_c3 = 0;
  std::size_t never_c4 = 0;
  each_person(w, "nephritis-mixed", 100 * seed + 15, 330, [&](const Course& course) {
    const int start = course.treatment_day();
    const int end = start + six_months;
    const double c3_after = course.read(Test::c3, end, six_months_later);
    const double c4_after = course.read(Test::c4, end, six_months_later);
    c3_gain.push_back(c3_after - course.read(Test::c3, start, before_treatment));
    c4_gain.push_back(c4_after - course.read(Test::c4, start, before_treatment));
    isolated += below(c3_after, c3_limit) && !below(c4_after, c4_limit) ? 1U : 0U;
    // Of the person's own blood tests, as printed: nobody normalised who was never once read so.
    const auto always_low = [&](Test test, double limit) {
      const std::vector<double>& visits = course.who().visits;
      for (std::uint32_t visit = 0; visit < visits.size() && visits[visit] <= end; ++visit) {
        if (!below(course.read(test, static_cast<int>(visits[visit]), visit), limit)) return false;
      }
      return true;
    };
    never_c3 += always_low(Test::c3, c3_limit) ? 1U : 0U;
    never_c4 += always_low(Test::c4, c4_limit) ? 1U : 0U;
  });
  const char* front = "Front Immunol 2025 10.3389/fimmu.2025.1655825";
  ledger.push_back(sampled(
      w,
      {"S3a", "nephritis, six months of treatment, " + std::to_string(sampled_people) + " people: median rise of C3",
       "+0.20 g/L (n 445)", 0.12, 0.28, "g/L", front, 0.0,
       "the severity of the group was chosen by it, response assumed"},
      median_of(std::move(c3_gain))));
  ledger.push_back(sampled(w, {"S3b", "the same: median rise of C4", "+0.05 g/L", 0.02, 0.08, "g/L", front, 0.0, ""},
                           median_of(std::move(c4_gain))));
  ledger.push_back(sampled(
      w, {"S3c", "the same: C3 alone still low", "20-26 %", 10, 36, "%", "Kidney Int Rep 2022 PMC9727529", 0.0, ""},
      share_of(w, isolated)));
  ledger.push_back(
      sampled(w,
              {"G4a", "C3 low at every blood test, quiet time before the flare included", "4.0 % never normalise", 0,
               14, "%", "Durcan 2016; Steiman 2010", 0.0, "some stay low when well"},
              share_of(w, never_c3)));
  ledger.push_back(sampled(
      w,
      {"G4b", "C4 low at every blood test", "3.2 % never normalise", 0, 13, "%", "Durcan 2016; Steiman 2010", 0.0, ""},
      share_of(w, never_c4)));
}

}  // namespace

void groups(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed) {
  if (w.wanted({"G1"})) flares(ledger, w, seed);
  if (w.wanted({"G2"})) relapses(ledger, w, seed);
  if (w.wanted({"G3", "G6", "G7"})) without_people(ledger, w);
  if (w.wanted({"S3", "G4"})) treated(ledger, w, seed);
}

}  // namespace drawdown::study::truth
