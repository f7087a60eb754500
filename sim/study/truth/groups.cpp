// Findings in groups of people: how often a level is low, what treatment brings back, how good the test is.
#include <algorithm>
#include <string>

#include "study/change_value.hpp"
#include "study/people.hpp"
#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

namespace {

constexpr double c3_limit = 0.90;
constexpr double c4_limit = 0.10;

struct Shares {
  double c3 = 0, c4 = 0, either = 0;
};

// How many are sampled for a figure, and of those whose six months of treatment are followed.
constexpr std::uint64_t people = 300;
constexpr std::uint64_t treated = 320;

// Blood tests, numbered so that each has noise of its own.
constexpr std::uint32_t when_quiet = 1001;
constexpr std::uint32_t before_treatment = 1002;
constexpr std::uint32_t six_months_later = 1003;

double reading_of(const Run& run, const Person& who, Test test, double day, std::uint32_t visit) {
  return reading(who, test, test == Test::c3 ? run.c3(day) : run.c4(day), visit);
}

// What a laboratory prints of a group's people, all quiet on day 0 or each in the flare on the day treatment begins.
Shares low_in(const char* group, std::uint32_t visit, std::uint64_t seed) {
  Shares low;
  constexpr double share = 100.0 / people;
  for (std::uint64_t i = 0; i < people; ++i) {
    const Person who = person(group_named(group), seed, i);
    const double day = visit == when_quiet ? 0.0 : who.treatment_day;
    const auto course = run(story_of(who, day + 1.0));
    const bool c3 = below(reading_of(*course, who, Test::c3, day, visit), c3_limit);
    const bool c4 = below(reading_of(*course, who, Test::c4, day, visit), c4_limit);
    low.c3 += c3 ? share : 0.0;
    low.c4 += c4 ? share : 0.0;
    low.either += c3 || c4 ? share : 0.0;
  }
  return low;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

void groups(std::vector<TruthEntry>& ledger) {
  // Group data: ten points either way, fifteen where one small series stands alone.
  const char* narayanan = "Narayanan 2010 MJAFI 66:102";
  const Shares in_renal = low_in("flare-with-kidney", before_treatment, 11);
  const Shares in_other = low_in("flare-without-kidney", before_treatment, 12);
  ledger.push_back({"G1a", "renal flares: C3 low", "92 %", 77, 100, "%", narayanan, in_renal.c3,
                    "one series; the severity of the group was chosen by it"});
  ledger.push_back({"G1b", "renal flares: C4 low", "85 %", 70, 100, "%", narayanan, in_renal.c4,
                    "one series; the severity of the group was chosen by it"});
  ledger.push_back({"G1c", "other flares: C3 low", "43 %", 28, 58, "%", narayanan, in_other.c3,
                    "one series; the severity of the group was chosen by it"});
  ledger.push_back({"G1d", "other flares: C4 low", "53 %", 38, 68, "%", narayanan, in_other.c4,
                    "one series; the severity of the group was chosen by it"});
  // A clinic: a fifth of flares renal, half moderate ones elsewhere, the rest mild.
  const Shares in_mild = low_in("mild-flare", before_treatment, 16);
  ledger.push_back({"G1e", "all flares of a clinic (a fifth renal, three in ten mild): C3 or C4 low", "about half", 40,
                    65, "%", "common practice, no source",
                    0.2 * in_renal.either + 0.5 * in_other.either + 0.3 * in_mild.either,
                    "either test low; the mix of flares assumed"});

  const Shares at_relapse = low_in("kidney-relapse", before_treatment, 13);
  const Shares quiet = low_in("kidney-relapse", when_quiet, 14);
  const char* birmingham = "Birmingham 2010 Lupus (71 people, 70 flares)";
  ledger.push_back({"G2a", "C3 at a renal relapse: sensitivity", "75 %", 60, 90, "%", birmingham, at_relapse.c3,
                    "the severity of the group was chosen by it; in other series C4 is as sensitive as C3"});
  ledger.push_back({"G2b", "C3 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 100 - quiet.c3, ""});
  ledger.push_back({"G2c", "C4 at a renal relapse: sensitivity", "48 %", 33, 63, "%", birmingham, at_relapse.c4, ""});
  ledger.push_back({"G2d", "C4 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 100 - quiet.c4, ""});

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
  const auto losing = run(settled({{"antibody_drive", 8},
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

  // Six months of treatment, mixed severity, incomplete response.
  std::vector<double> c3_gain;
  std::vector<double> c4_gain;
  double isolated = 0;
  double never_c3 = 0;
  double never_c4 = 0;
  constexpr double share = 100.0 / treated;
  for (std::uint64_t i = 0; i < treated; ++i) {
    const Person who = person(group_named("nephritis-mixed"), 15, i);
    const double start = who.treatment_day;
    const double end = start + 180.0;
    const auto course = run(story_of(who, end + 1.0));
    const double c3_after = reading_of(*course, who, Test::c3, end, six_months_later);
    const double c4_after = reading_of(*course, who, Test::c4, end, six_months_later);
    c3_gain.push_back(c3_after - reading_of(*course, who, Test::c3, start, before_treatment));
    c4_gain.push_back(c4_after - reading_of(*course, who, Test::c4, start, before_treatment));
    isolated += below(c3_after, c3_limit) && !below(c4_after, c4_limit) ? share : 0.0;
    double highest_c3 = 0;
    double highest_c4 = 0;
    for (double day = 0; day <= end; day += 20) {
      highest_c3 = std::max(highest_c3, course->c3(day));
      highest_c4 = std::max(highest_c4, course->c4(day));
    }
    never_c3 += below(highest_c3, c3_limit) ? share : 0.0;
    never_c4 += below(highest_c4, c4_limit) ? share : 0.0;
  }
  const char* six_months = "Front Immunol 2025 10.3389/fimmu.2025.1655825";
  ledger.push_back({"S3a",
                    "nephritis, six months of treatment, " + std::to_string(treated) + " people: median rise of C3",
                    "+0.20 g/L (n 445)", 0.12, 0.28, "g/L", six_months, median(c3_gain),
                    "the severity of the group was chosen by it, response assumed"});
  ledger.push_back(
      {"S3b", "the same: median rise of C4", "+0.05 g/L", 0.02, 0.08, "g/L", six_months, median(c4_gain), ""});
  ledger.push_back(
      {"S3c", "the same: C3 alone still low", "20-26 %", 10, 36, "%", "Kidney Int Rep 2022 PMC9727529", isolated, ""});
  ledger.push_back({"G4a", "C3 low throughout, quiet time before the flare included", "4.0 % never normalise", 0, 14,
                    "%", "Durcan 2016; Steiman 2010", never_c3, "some stay low when well"});
  ledger.push_back(
      {"G4b", "C4 low throughout", "3.2 % never normalise", 0, 13, "%", "Durcan 2016; Steiman 2010", never_c4, ""});
}

}  // namespace drawdown::study::truth
