// Findings in groups of people: how often a level is low, what treatment brings back, how good the test is.
#include <algorithm>
#include <cmath>
#include <functional>
#include <stdexcept>
#include <string>
#include <thread>

#include "study/change_value.hpp"
#include "study/cohort.hpp"
#include "study/people.hpp"
#include "study/truth/experiments.hpp"

namespace drawdown::study::truth {

namespace {

constexpr double c3_limit = 0.90;
constexpr double c4_limit = 0.10;

// Blood tests, numbered so that each has noise of its own.
constexpr std::uint32_t when_quiet = 1001;
constexpr std::uint32_t before_treatment = 1002;
constexpr std::uint32_t six_months_later = 1003;
constexpr int six_months = 180;

// A person's C3 and C4 in the blood, day by day.
class Course {
 public:
  Course(const Person& who, const std::vector<double>& daily) : who_(&who), daily_(&daily) {}
  [[nodiscard]] const Person& who() const { return *who_; }
  [[nodiscard]] double level(Test test, int day) const {
    return (*daily_)[2 * static_cast<std::size_t>(day) + (test == Test::c3 ? 0 : 1)];
  }
  [[nodiscard]] double read(Test test, int day, std::uint32_t visit) const {
    return reading(*who_, test, level(test, day), visit);
  }
  [[nodiscard]] int treatment_day() const { return static_cast<int>(who_->treatment_day); }

 private:
  const Person* who_;
  const std::vector<double>* daily_;
};

// The group's people, `sampled_people` of them, each followed for so many days.
void each_person(const char* group, std::uint64_t seed, int days, const std::function<void(const Course&)>& take) {
  const auto who = [&](std::size_t number) { return person(group_named(group), seed, number); };
  const Cohort cohort(
      body::make_body(body::Patient{}), [&](std::size_t number) { return story_of(who(number), days); },
      sampled_people);
  const auto& known = body::standard_model()->known();
  CohortReads reads{{}, {known.c3, known.c4}, {}};
  for (int day = 0; day <= days; ++day) reads.days.push_back(day);
  const auto deliver = [&](std::size_t first, const std::vector<CohortCourse>& block) {
    for (std::size_t i = 0; i < block.size(); ++i) {
      // A person the solver gave up on would silently leave the figure.
      if (block[i].read.empty()) throw std::runtime_error("a sampled person was not run to the end");
      take(Course(who(first + i), block[i].read));
    }
  };
  const std::size_t threads = std::max(1U, std::thread::hardware_concurrency());
  (void)cohort.run(0, sampled_people, reads, deliver, threads);
}

// A figure of a sample, with its 95 % interval.
struct Figure {
  double value = 0.0, low = 0.0, high = 0.0;
};

// Wilson's interval (1927, J Am Stat Assoc 22:209), %.
Figure share_of(std::size_t count) {
  constexpr double n = sampled_people;
  constexpr double z = 1.959964;
  const double p = static_cast<double>(count) / n;
  const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
  const double half = z * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n);
  return {100 * p, 100 * std::max(0.0, middle - half), 100 * std::min(1.0, middle + half)};
}
Figure left_of(const Figure& f) {  // of 100 %
  return {100 - f.value, 100 - f.high, 100 - f.low};
}
// Of independent samples, each with its weight.
Figure mixed(const std::vector<std::pair<double, Figure>>& parts) {
  Figure all;
  double below = 0.0;
  double above = 0.0;
  for (const auto& [weight, f] : parts) {
    all.value += weight * f.value;
    below += std::pow(weight * (f.value - f.low), 2);
    above += std::pow(weight * (f.high - f.value), 2);
  }
  all.low = all.value - std::sqrt(below);
  all.high = all.value + std::sqrt(above);
  return all;
}
// The interval by ranks: n / 2 -/+ 1.96 sqrt(n) / 2.
Figure median_of(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  const std::size_t middle = values.size() / 2;
  const auto away = static_cast<std::size_t>(std::ceil(0.98 * std::sqrt(static_cast<double>(values.size()))));
  return {values[middle], values[middle - away], values[middle + away]};
}

struct Shares {
  Figure c3, c4, either;
};
// What a laboratory prints of a group's people, all quiet on day 0 or each in the flare on the day treatment begins.
Shares low_in(const char* group, std::uint32_t visit, std::uint64_t seed) {
  std::size_t c3 = 0;
  std::size_t c4 = 0;
  std::size_t either = 0;
  each_person(group, seed, 150, [&](const Course& course) {
    const int day = visit == when_quiet ? 0 : course.treatment_day();
    const bool low_c3 = below(course.read(Test::c3, day, visit), c3_limit);
    const bool low_c4 = below(course.read(Test::c4, day, visit), c4_limit);
    c3 += low_c3 ? 1U : 0U;
    c4 += low_c4 ? 1U : 0U;
    either += low_c3 || low_c4 ? 1U : 0U;
  });
  return {share_of(c3), share_of(c4), share_of(either)};
}

TruthEntry sampled(TruthEntry entry, const Figure& figure) {
  entry.model = figure.value;
  entry.people = sampled_people;
  entry.model_low = figure.low;
  entry.model_high = figure.high;
  return entry;
}

}  // namespace

void groups(std::vector<TruthEntry>& ledger, std::uint64_t seed) {
  // Group data: ten points either way, fifteen where one small series stands alone.
  const char* narayanan = "Narayanan 2010 MJAFI 66:102";
  const Shares in_renal = low_in("flare-with-kidney", before_treatment, 100 * seed + 11);
  const Shares in_other = low_in("flare-without-kidney", before_treatment, 100 * seed + 12);
  ledger.push_back(sampled({"G1a", "renal flares: C3 low", "92 %", 77, 100, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_renal.c3));
  ledger.push_back(sampled({"G1b", "renal flares: C4 low", "85 %", 70, 100, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_renal.c4));
  ledger.push_back(sampled({"G1c", "other flares: C3 low", "43 %", 28, 58, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_other.c3));
  ledger.push_back(sampled({"G1d", "other flares: C4 low", "53 %", 38, 68, "%", narayanan, 0.0,
                            "one series; the severity of the group was chosen by it"},
                           in_other.c4));
  // A clinic: a fifth of flares renal, half moderate ones elsewhere, the rest mild.
  const Shares in_mild = low_in("mild-flare", before_treatment, 100 * seed + 16);
  ledger.push_back(
      sampled({"G1e", "all flares of a clinic (a fifth renal, three in ten mild): C3 or C4 low", "about half", 40, 65,
               "%", "common practice, no source", 0.0, "either test low; the mix of flares assumed"},
              mixed({{0.2, in_renal.either}, {0.5, in_other.either}, {0.3, in_mild.either}})));

  const Shares at_relapse = low_in("kidney-relapse", before_treatment, 100 * seed + 13);
  const Shares quiet = low_in("kidney-relapse", when_quiet, 100 * seed + 14);
  const char* birmingham = "Birmingham 2010 Lupus (71 people, 70 flares)";
  ledger.push_back(sampled({"G2a", "C3 at a renal relapse: sensitivity", "75 %", 60, 90, "%", birmingham, 0.0,
                            "the severity of the group was chosen by it; in other series C4 is as sensitive as C3"},
                           at_relapse.c3));
  ledger.push_back(
      sampled({"G2b", "C3 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 0.0, ""}, left_of(quiet.c3)));
  ledger.push_back(
      sampled({"G2c", "C4 at a renal relapse: sensitivity", "48 %", 33, 63, "%", birmingham, 0.0, ""}, at_relapse.c4));
  ledger.push_back(
      sampled({"G2d", "C4 when quiet: specificity", "71 %", 56, 86, "%", birmingham, 0.0, ""}, left_of(quiet.c4)));

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
  std::size_t isolated = 0;
  std::size_t never_c3 = 0;
  std::size_t never_c4 = 0;
  each_person("nephritis-mixed", 100 * seed + 15, 330, [&](const Course& course) {
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
      {"S3a", "nephritis, six months of treatment, " + std::to_string(sampled_people) + " people: median rise of C3",
       "+0.20 g/L (n 445)", 0.12, 0.28, "g/L", front, 0.0,
       "the severity of the group was chosen by it, response assumed"},
      median_of(std::move(c3_gain))));
  ledger.push_back(sampled({"S3b", "the same: median rise of C4", "+0.05 g/L", 0.02, 0.08, "g/L", front, 0.0, ""},
                           median_of(std::move(c4_gain))));
  ledger.push_back(sampled(
      {"S3c", "the same: C3 alone still low", "20-26 %", 10, 36, "%", "Kidney Int Rep 2022 PMC9727529", 0.0, ""},
      share_of(isolated)));
  ledger.push_back(
      sampled({"G4a", "C3 low at every blood test, quiet time before the flare included", "4.0 % never normalise", 0,
               14, "%", "Durcan 2016; Steiman 2010", 0.0, "some stay low when well"},
              share_of(never_c3)));
  ledger.push_back(sampled(
      {"G4b", "C4 low at every blood test", "3.2 % never normalise", 0, 13, "%", "Durcan 2016; Steiman 2010", 0.0, ""},
      share_of(never_c4)));
}

}  // namespace drawdown::study::truth
