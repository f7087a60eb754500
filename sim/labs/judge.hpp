// What serial results can say, and what they cannot: each change against noise, each value in its interval, the
// person's own usual level, the trend, and the pattern of the pair. Levels in g/L, changes and coefficients of
// variation in %.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "labs/record.hpp"
#include "study/change_value.hpp"

namespace drawdown::labs {

enum class Protein { c3, c4 };

struct Noise {
  study::Variation c3 = study::c3_variation;
  study::Variation c4 = study::c4_variation;
  bool one_sided = false;  // only falls are asked about: z 1.645 instead of 1.960
  [[nodiscard]] const study::Variation& of(Protein p) const { return p == Protein::c3 ? c3 : c4; }
  [[nodiscard]] double z() const { return one_sided ? 1.644854 : 1.959964; }
};

// Between-person variation, % (from memory: Ricos 1999 Scand J Clin Lab Invest 59:491).
[[nodiscard]] double between_persons(Protein p);

struct Change {
  std::size_t from = 0, to = 0;    // rows
  double percent = 0.0;            // of the first
  double symmetric = 0.0;          // reference change value, Fraser & Harris
  study::ChangeLimits log_normal;  // Fokkema
  bool at_least = false;           // one of the two is below detection: the change is as large as this or larger
  bool falls_only = false;         // only falls are asked about: of the limits `down` alone is used
  bool asked = true;               // false: a rise, where only falls are asked about; then it is never beyond
  bool beyond_symmetric = false;
  bool beyond = false;  // by the log-normal limits: what the words go by
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

// The person's own level when quiet: the median of the logarithms of quiet values. Its uncertainty takes the larger of
// the known noise and the values' own spread (median absolute deviation, times 1.4826), and the median's efficiency
// (standard error 1.2533 s / sqrt(n)). Fewer than three quiet values: no usual level.
// A value below detection is less than its limit, whatever it is: where the limit itself lies under the middle, the
// median does not ask how far. Where it does not, or the middle falls among such values, there is no usual level.
struct Usual {
  std::size_t values = 0;       // quiet ones
  bool hidden = false;          // enough of them, but the middle lies among those below detection
  bool quiet_is_known = false;  // from the flare column; else every value counts, and this is only the middle of them
  std::optional<double> level;
  double low = 0.0, high = 0.0;  // 95 %
};
inline constexpr std::size_t fewest_quiet = 3;
[[nodiscard]] Usual usual_level(const std::vector<Row>& rows, Protein p, const Noise& noise);

// Straight line through the logarithms against time, flat prior on the line, inverse-gamma prior on the scatter's
// variance centred on the known noise and worth four values: the slope's posterior is Student t with n - 2 + 4 degrees
// of freedom. Fewer than three values, or less than four weeks: no trend.
//
// Values below detection: each may be anything from a tenth of its limit to the limit. Of all such lines the one that
// rises most and the one that falls most are drawn. A fall is told only if the first still falls, and then that line,
// as "at least"; a rise only if the second still rises. Otherwise the figure is that of the measured values alone, if
// they show no trend either; fewer than three of them, or a trend that the hidden values may deny: no trend is told. So
// limits that change make no trend, and a limit above all values makes no figure.
struct Trend {
  std::size_t values = 0;
  bool at_least = false;
  double percent_a_month = 0.0;  // of 30.44 days
  double low = 0.0, high = 0.0;  // 95 % credible
  [[nodiscard]] bool falling() const { return high < 0.0; }
  [[nodiscard]] bool rising() const { return low > 0.0; }
};
inline constexpr double prior_values = 4.0;
[[nodiscard]] std::optional<Trend> trend(const std::vector<Row>& rows, Protein p, const Noise& noise,
                                         double prior_weight = prior_values);

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
  std::optional<std::size_t> newest;        // row of the last value
  std::vector<Twice> twice;                 // two values on one day that differ: told, and no change
  std::optional<Change> latest_from_usual;  // the last value against the usual level, where that is known to be quiet
  Usual usual;
  std::optional<Trend> trend;
  // From the first measured value to the last, if there is one between and it is more than noise: steps that are each
  // within it may add up.
  std::optional<Change> overall;
  std::optional<Change>
      turned;  // where the trend falls or rises: since its lowest or highest value it went back, beyond noise
  bool trend_hidden = false;   // values and time enough for one, but they are limits of detection
  double highest = 0.0;        // of all values, so that nothing that draws them reads every row again
  bool flares = false;         // a row says so
  double individuality = 0.0;  // index: below 0.6 an interval says little about one person (Harris 1974, from memory)
};

struct Judgement {
  OfProtein c3, c4;
  // Of the last day with both, each the day's last, be they on one line or on two; its last row.
  Pattern pattern = Pattern::unknown;
  Position pattern_c3 = Position::unknown, pattern_c4 = Position::unknown;
  std::optional<std::size_t> pattern_of;
  // A change, what two results of one day differ by, or a trend is more than noise.
  bool any_beyond = false;
  // On the last day of one of the two a result of it lies below its range.
  bool low_now = false;
};
// Rows in order of day; the interval is used where a row names none.
[[nodiscard]] Judgement judge(const std::vector<Row>& rows, const Noise& noise, const scenario::Laboratory& laboratory);

[[nodiscard]] const std::optional<Value>& value_of(const Row& row, Protein p);

}  // namespace drawdown::labs
