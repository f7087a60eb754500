// What serial results can say, and what they cannot: whether the level changed (labs/change.hpp), each value in its
// interval, the pattern of the pair, and, as figures that are no findings, how far two results that follow each other
// differ. Levels in g/L, changes and coefficients of variation in %.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "labs/change.hpp"
#include "labs/marker.hpp"

namespace drawdown::labs {

// Between-person variation, % (from memory: Ricos 1999 Scand J Clin Lab Invest 59:491).
[[nodiscard]] double between_persons(Protein p);

// Of two results. Of many pairs one in twenty lies beyond by noise alone, so that no pair is a finding by itself.
struct Change {
  std::size_t from = 0, to = 0;    // rows
  double percent = 0.0;            // of the first
  study::ChangeLimits log_normal;  // Fokkema
  bool at_least = false;           // one of the two is below detection: the change is as large as this or larger
  bool falls_only = false;         // only falls are asked about: of the limits `down` alone is used
  bool asked = true;               // false: a rise, where only falls are asked about; then it is never beyond
  bool beyond = false;             // by the log-normal limits: what the words go by
};
[[nodiscard]] Change change_between(double before, double after, const study::Variation& cv, double z,
                                    bool falls_only = false);

enum class Position { unknown, below, inside, above };
// A value that the laboratory marked low, high or normal lies so where it names no interval; where it names one that
// says otherwise nobody knows. One that it marked as outside without saying on which side is never inside.
struct Placed {
  Position position = Position::unknown;
  double share = 0.0;         // of the interval's width above its lower limit; below 0 and above 1 outside
  bool own_interval = false;  // the row names its laboratory's interval
  bool common = false;        // held against the common one: the row names none, and no mark stands for it
};
// A value below detection is below the interval if its limit is (less than a limit equal to the interval's is below it,
// at most that is not known); else nobody knows.
[[nodiscard]] Placed place(const Value& value, const scenario::Interval& range);

// unclear: for one of the pair nobody knows whether it is below, having only a limit that lies in the interval.
// disagree: two results of the day lie differently in their ranges.
enum class Pattern { unknown, neither, both, c3_only, c4_only, unclear, disagree };
inline constexpr std::array<std::string_view, 7> pattern_names{"unknown", "neither", "both",    "c3_only",
                                                               "c4_only", "unclear", "disagree"};

struct Twice {
  std::size_t first = 0, second = 0;  // rows
  bool beyond = false;                // the day's results differ by more than noise, either way
};

// What a protein's values were held against: the rows' own intervals, and the general one for rows that name none. A
// row without one is not given another row's: a laboratory prints its range beside each result, and where it does not
// nobody knows which held.
struct Ranges {
  std::vector<std::pair<scenario::Interval, std::size_t>> own;  // each with its rows, the newest row's first
  std::size_t more = 0;                                         // rows with intervals beyond the first `most_ranges`
  std::size_t general = 0;                                      // rows with a value and no interval
  std::size_t marked = 0;                                       // the same, but the laboratory marked the value itself
  // What a chart draws as one band: the general one if any row was held against it, else the rows' own if it is one.
  [[nodiscard]] std::optional<scenario::Interval> band(const scenario::Interval& common) const;
};
inline constexpr std::size_t most_ranges = 20;
[[nodiscard]] Ranges ranges_of(const std::vector<Row>& rows, Protein p);

struct OfProtein {
  std::vector<Placed> placed;  // by row; unknown where it was not measured
  Ranges ranges;
  // Each value against the measured one of an earlier day before it; a measured one also against a limit between.
  std::vector<Change> changes;
  std::optional<std::size_t> newest;  // row of the last value
  std::vector<Twice> twice;           // two values on one day that differ: told, and no change
  LevelChange level;                  // whether it changed, against the own usual level
  // The last value lies below its interval, and within what is usual for this person.
  bool low_but_usual = false;
  double highest = 0.0;        // of all values, so that nothing that draws them reads every row again
  bool flares = false;         // a row says so
  double individuality = 0.0;  // index: below 0.6 an interval says little about one person (Harris 1974, from memory)
};

struct Judgement {
  OfProtein c3, c4;
  Marker marker;  // whether the two go with the person's flares
  // Of the last day with both, each the day's last, be they on one line or on two; its last row.
  Pattern pattern = Pattern::unknown;
  Position pattern_c3 = Position::unknown, pattern_c4 = Position::unknown;
  std::optional<std::size_t> pattern_of;
  // A level changed by more than noise, or two results of one day differ by more than that.
  bool any_beyond = false;
  // On the last day of one of the two a result of it lies below its range.
  bool low_now = false;
};
// Rows in order of day; the interval is used where a row names none.
[[nodiscard]] Judgement judge(const std::vector<Row>& rows, const Noise& noise, const scenario::Laboratory& laboratory);

}  // namespace drawdown::labs
