// Sampled people for the ledger: a group run day by day, what a laboratory prints of it, and figures with their 95 %
// interval.
#pragma once

#include <functional>
#include <utility>
#include <vector>

#include "body/model.hpp"
#include "study/people.hpp"
#include "study/truth.hpp"
#include "study/truth/world.hpp"

namespace drawdown::study::truth {

inline constexpr double c3_limit = 0.90;  // g/L
inline constexpr double c4_limit = 0.10;

// Blood tests, numbered so that each has noise of its own.
inline constexpr std::uint32_t when_quiet = 1001;
inline constexpr std::uint32_t before_treatment = 1002;
inline constexpr std::uint32_t six_months_later = 1003;
inline constexpr int six_months = 180;

// A person's proteins in the blood, day by day.
class Course {
 public:
  Course(const Person& who, const std::vector<double>& daily, std::size_t proteins)
      : who_(&who), daily_(&daily), proteins_(proteins) {}
  [[nodiscard]] const Person& who() const { return *who_; }
  // g/L of the n-th protein asked for; C3 and C4 are the first two. Throws std::out_of_range for a day after the last.
  [[nodiscard]] double of(std::size_t protein, int day) const {
    return daily_->at(proteins_ * static_cast<std::size_t>(day) + protein);
  }
  [[nodiscard]] double level(Test test, int day) const { return of(test == Test::c3 ? 0 : 1, day); }
  // As a laboratory prints it.
  [[nodiscard]] double read(Test test, int day, std::uint32_t visit) const {
    return reading(*who_, test, level(test, day), visit);
  }
  [[nodiscard]] int treatment_day() const { return static_cast<int>(who_->treatment_day); }

 private:
  const Person* who_;
  const std::vector<double>* daily_;
  std::size_t proteins_;
};

// The group's people, as many as the world samples, each followed for so many days; `more` proteins are read beside C3
// and C4. Throws std::runtime_error if one of them is not run to the end.
void each_person(const World& w, const char* group, std::uint64_t seed, int days,
                 const std::function<void(const Course&)>& take, const std::vector<const char*>& more = {});

// A figure of a sample, with its 95 % interval.
struct Figure {
  double value = 0.0, low = 0.0, high = 0.0;
};
// So many of those sampled, %: Wilson's interval (1927, J Am Stat Assoc 22:209).
[[nodiscard]] Figure share_of(const World& w, std::size_t count);
[[nodiscard]] Figure left_of(const Figure& share);  // of 100 %
// Of independent samples, each with its weight.
[[nodiscard]] Figure mixed(const std::vector<std::pair<double, Figure>>& parts);
// The interval by ranks: n / 2 -/+ 1.96 sqrt(n) / 2.
[[nodiscard]] Figure median_of(std::vector<double> values);
// Of one sample: how many more are `first` only than `second` only, %; interval of paired shares (McNemar's variance).
[[nodiscard]] Figure difference_of(const World& w, std::size_t first_only, std::size_t second_only);
// Pearson's r, the interval by Fisher's z (1921, Metron 1:3).
[[nodiscard]] Figure correlation_of(const std::vector<double>& x, const std::vector<double>& y);
// Standard deviation over mean, %; interval by 1.96 standard errors cv sqrt((1/2 + cv^2) / n).
[[nodiscard]] Figure variation_of(const std::vector<double>& values);

struct Shares {
  Figure c3, c4, either, c3_more;  // % below the limits; c3_more: C3 low less C4 low
};
// What a laboratory prints of a group's people, all quiet on day 0 or each in the flare on the day treatment begins.
[[nodiscard]] Shares low_in(const World& w, const char* group, std::uint32_t visit, std::uint64_t seed);

[[nodiscard]] TruthEntry sampled(const World& w, TruthEntry entry, const Figure& figure);

}  // namespace drawdown::study::truth
