// A clinic: the people of a group run by the thousand (cohort.hpp), each read as a laboratory prints it, and only
// counted. Everything that is kept is a whole number - counts, sums of whole hundredths of g/L - so that parts added up
// in any order give the bytes of one run, and memory does not grow with people.
#pragma once

#include <array>
#include <atomic>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "simulate.hpp"
#include "study/people.hpp"

namespace drawdown::study {

struct ClinicAsked {
  std::string group;  // by id (people_groups.hpp)
  std::uint64_t seed = 1;
  std::uint64_t people = 0;  // 1 to `most_people`
  int days = 365;            // 30 to `longest_days`
  bool daily = false;        // count every day too
};
[[nodiscard]] bool operator==(const ClinicAsked& a, const ClinicAsked& b);
inline constexpr std::uint64_t most_people = 100'000'000;
inline constexpr int fewest_days = 30;

// When a person is read: at the first blood test, at the one on the day the illness turns (treatment, or what else ends
// it, begins), at the last before the story ends, and the lowest of all tests, each protein by itself. Who is tested
// more often has a lower lowest.
enum class Moment { first, turn, last, lowest };
inline constexpr std::array<std::string_view, 4> moment_names{"first", "turn", "last", "lowest"};

// Whole hundredths of g/L, as printed.
struct PrintedPair {
  int c3 = 0, c4 = 0;
};

struct ClinicPerson {
  std::uint64_t number = 0;
  bool complete = false;                  // else the run failed, and the rest is empty
  double usual_c3 = 0.0, usual_c4 = 0.0;  // in the blood without the illness (quiet_levers), g/L
  scenario::Laboratory laboratory;
  double severity = 0.0;                                  // of the group's lever
  std::size_t tests = 0;                                  // blood tests before the story ends
  std::array<std::optional<PrintedPair>, 4> read;         // by moment; nothing where the story ends before
  std::array<int, 3> test_day{};                          // of the first three moments, where there is one
  bool both_below_range = false, both_below_own = false;  // in one and the same test, whichever
  std::vector<PrintedPair> days;                          // in the blood, printed, if every day was asked for
};

// A reading below this, g/L, is below the own level without the illness by more than the noise of one sample (95 %,
// two-sided, log-normal).
[[nodiscard]] double own_limit(double usual, Test test);

// Counts by hundredths of g/L; the last bin holds all from there on.
class Histogram {
 public:
  static constexpr std::size_t bins = 1000;
  void add(int hundredths, std::uint64_t times = 1);
  void add(const Histogram& other);
  [[nodiscard]] std::uint64_t count() const { return count_; }
  [[nodiscard]] std::uint64_t at(std::size_t bin) const { return counts_[bin]; }
  // The smallest printed value with at least this share of people at it or below, g/L. 0 if there is nobody.
  [[nodiscard]] double quantile(double share) const;
  [[nodiscard]] double mean() const;  // g/L
  // g/L, estimated (over n - 1). Nothing of fewer than two.
  [[nodiscard]] std::optional<double> sd() const;

 private:
  std::array<std::uint64_t, bins> counts_{};
  std::uint64_t count_ = 0;
};

// How often: C3, C4, either, both.
using Low = std::array<std::uint64_t, 4>;
inline constexpr std::array<std::string_view, 4> low_names{"C3", "C4", "either", "both"};

struct MomentTally {
  std::uint64_t people = 0;
  Low below_range{};  // of the person's laboratory
  Low below_own{};    // own_limit()
  Histogram c3, c4;
  std::uint64_t products = 0;  // of both in hundredths, summed: for their correlation
  // Nothing of fewer than two people, or where one does not vary.
  [[nodiscard]] std::optional<double> correlation() const;
};

struct Tally {
  std::uint64_t people = 0;  // run
  std::uint64_t failed = 0;  // of them: the solver gave up
  std::array<MomentTally, 4> moments;
  std::vector<MomentTally> days;  // if asked for

  void add(const ClinicPerson& person);
  void add(const Tally& other);  // of other people of the same clinic
};

// Runs the people from `first` to before `last` (multiples of 64, or the end) and hands each over in order of number.
// Once *stop is true no more are begun; returns the number after the last person handed over. Throws
// std::invalid_argument for an unknown group, std::logic_error for numbers that are no multiples of 64 or days and
// people out of range.
std::uint64_t run_clinic(const ClinicAsked& asked, std::uint64_t first, std::uint64_t last,
                         const std::function<void(const ClinicPerson&)>& hand_over, std::size_t threads = 1,
                         const std::atomic<bool>* stop = nullptr);

// One person's whole run, worked out with the people they are run beside in the clinic, so that what it says of a day
// is what was counted, to the last bit. Throws as run_clinic() does.
[[nodiscard]] std::shared_ptr<const Run> open_person(const ClinicAsked& asked, std::uint64_t number);

// Where part `part` (from 1) of `parts` begins and ends: cut at multiples of 64, as even as that allows.
struct People {
  std::uint64_t first = 0, last = 0;
};
[[nodiscard]] People people_of_part(std::uint64_t people, std::uint64_t part, std::uint64_t parts);

// CRC-64 (ECMA-182, reflected, as XZ uses it), 16 hexadecimal digits. Text may be given bit by bit.
class Checksum {
 public:
  Checksum();
  void add(const std::string& text);
  [[nodiscard]] std::string digits() const;

 private:
  std::uint64_t state_;
};

// A word that changes with the model and the sampler, and with nothing else: what parts must agree in to be added up.
// 16 hexadecimal digits.
[[nodiscard]] std::string fingerprint();

}  // namespace drawdown::study
