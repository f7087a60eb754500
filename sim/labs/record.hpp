// One person's serial results as they were reported: a row a sample. Read by labs/read.hpp, judged by labs/judge.hpp.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/scenario.hpp"

namespace drawdown::labs {

// Marks that say something else than low and high: outside, and not on which side; inside.
inline constexpr int marked_outside = 2;
inline constexpr int marked_normal = 3;
// The mark says where the value lies.
[[nodiscard]] constexpr bool tells_side(int mark) {
  return mark != 0 && mark != marked_outside;
}

// A laboratory's figure. `below`: reported as less than `value` (below detection); `or_equal`: as at most that.
struct Value {
  double value = 0.0;
  bool below = false;
  bool or_equal = false;
  int mark = 0;  // the laboratory's own: -1 low, 1 high, `marked_outside`, `marked_normal`, 0 none
};

struct Row {
  std::size_t line = 0;       // in the text, from 1
  int day = 0;                // days since 1970-01-01
  std::optional<int> minute;  // of the day, where the date has a time: samples of one day stand in its order
  std::optional<Value> c3;    // g/L
  std::optional<Value> c4;    // g/L
  std::optional<Value> c1q;   // as reported, like the rest down to haemoglobin
  std::optional<Value> ch50;
  std::optional<Value> ah50;
  std::optional<Value> c4d;
  std::optional<Value> factor_b;
  std::optional<Value> anti_dsdna;
  std::optional<Value> crp;
  std::optional<Value> urine_protein;  // protein/creatinine ratio
  std::optional<Value> haemoglobin;
  std::optional<bool> flare;
  bool at_diagnosis = false;  // of the flares, the one in which the illness was found
  std::string treatment;
  std::optional<scenario::Interval> c3_range;  // of the laboratory that measured it, g/L
  std::optional<scenario::Interval> c4_range;
  // It names a range that could not be read: nobody knows where the value lies.
  bool c3_range_unread = false, c4_range_unread = false;
};

enum class Reason {
  no_date,
  bad_date,
  two_digit_year,
  date_out_of_range,
  date_against_the_others,
  bad_number,
  bad_unit,
  negative,
  zero,
  impossible_c3,
  impossible_c4,
  impossible_other,
  bad_range,
  half_range,
  odd_range,
  bad_flare,
  no_result,
  too_many_cells,
  same_as_line,
  open_quote,
  no_value,
  bad_mark,
  bad_time
};
// Their names, in order: what the words have a text for.
inline constexpr std::array<std::string_view, 23> reason_names{"no_date",
                                                               "bad_date",
                                                               "two_digit_year",
                                                               "date_out_of_range",
                                                               "date_against_the_others",
                                                               "bad_number",
                                                               "bad_unit",
                                                               "negative",
                                                               "zero",
                                                               "impossible_c3",
                                                               "impossible_c4",
                                                               "impossible_other",
                                                               "bad_range",
                                                               "half_range",
                                                               "odd_range",
                                                               "bad_flare",
                                                               "no_result",
                                                               "too_many_cells",
                                                               "same_as_line",
                                                               "open_quote",
                                                               "no_value",
                                                               "bad_mark",
                                                               "bad_time"};

// What was not taken, with why: a line, or only one cell of it. `detail` is the cell it is about, or the other line's
// number.
struct Rejected {
  std::size_t line = 0;
  bool whole = true;  // false: the rest of the line was read
  std::string text;
  Reason reason = Reason::no_result;
  std::string column;
  std::string detail;
};

}  // namespace drawdown::labs
