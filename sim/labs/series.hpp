// One protein's results as a series of visits: one value a day, which of them tell the person's own usual level, and
// where another laboratory measured.
#pragma once

#include <cstddef>
#include <vector>

#include "labs/noise.hpp"

namespace drawdown::labs {

// Why a visit does not count for the usual level. Only marks decide, never the value.
enum class LeftOut { no, flare, treated, unmarked };

struct Visit {
  std::size_t row = 0;         // the day's last with a value
  int day = 0;                 // days since 1970-01-01
  double log_value = 0.0;      // ln g/L; the mean of the day's measured ones; of the lowest limit, if none is measured
  bool below = false;          // less than that
  std::size_t laboratory = 0;  // 0, 1 ... as they first appear
  LeftOut left = LeftOut::no;
};

// A day whose results differ by more than noise is no visit: nobody knows which of them holds.
//
// Where a line says that there was no flare, only such visits count, and those that say nothing are left out
// (`unmarked`); where none says so, all do but the flares. A visit with a treatment beside it is left out as long as
// one of those that count has none: where all have one, the usual level is that under treatment.
//
// The laboratory is told by the range beside the value: another range, another laboratory. A value without one is
// taken to be the one's before it (the first ones', the first that is named).
struct Series {
  std::vector<Visit> visits;  // in order of day
  std::size_t laboratories = 1;
  std::size_t flares = 0, treated = 0, unmarked = 0;  // visits left out of the usual level
  std::size_t disputed = 0;                           // days whose results differ by more than noise
  bool last_disputed = false;                         // the newest day is one
  bool quiet_is_known = false;                        // a line says that there was no flare
  bool all_treated = false;                           // every visit that counts has a treatment beside it
};
[[nodiscard]] Series series_of(const std::vector<Row>& rows, Protein p, const Noise& noise);

// By row: it lies on a day whose measured results differ by more than noise.
[[nodiscard]] std::vector<bool> disputed_days(const std::vector<Row>& rows, Protein p, const Noise& noise);

}  // namespace drawdown::labs
