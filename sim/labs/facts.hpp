// What is known of C3 and of C4 before a file is read, and where a line keeps what it says of them.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "labs/columns.hpp"
#include "labs/drafts.hpp"

namespace drawdown::labs {

// What is known of each of the pair beforehand, g/L; all assumed.
struct Facts {
  const char* name;
  bool c4;
  Column column;
  double most;                      // more was never reported
  double common;                    // what is common,
  double plausible;                 // and the most that can be what it says
  double least_limit;               // no laboratory's limit of detection is lower
  scenario::Interval lower, upper;  // where a range's limits lie
  Reason impossible;
  std::optional<Value> Row::*value;
  std::optional<scenario::Interval> Row::*range;
  std::optional<scenario::Unit> Draft::*unit;
  DraftRange Draft::*draft_range;
  std::string Draft::*text;
  bool Row::*range_unread;
  double Draft::*divided;
  [[nodiscard]] bool can_be_range(const scenario::Interval& range_of) const {
    return range_of.low >= lower.low && range_of.low <= lower.high && range_of.high >= upper.low &&
           range_of.high <= upper.high;
  }
};
inline constexpr std::array<Facts, 2> proteins{Facts{"C3",
                                                     false,
                                                     Column::c3,
                                                     6.0,
                                                     1.2,
                                                     4.0,
                                                     0.01,
                                                     {0.2, 2.0},
                                                     {0.6, 5.0},
                                                     Reason::impossible_c3,
                                                     &Row::c3,
                                                     &Row::c3_range,
                                                     &Draft::c3_unit,
                                                     &Draft::c3_range,
                                                     &Draft::c3_text,
                                                     &Row::c3_range_unread,
                                                     &Draft::c3_divided},
                                               Facts{"C4",
                                                     true,
                                                     Column::c4,
                                                     2.0,
                                                     0.25,
                                                     0.9,
                                                     0.002,
                                                     {0.01, 0.5},
                                                     {0.08, 1.5},
                                                     Reason::impossible_c4,
                                                     &Row::c4,
                                                     &Row::c4_range,
                                                     &Draft::c4_unit,
                                                     &Draft::c4_range,
                                                     &Draft::c4_text,
                                                     &Row::c4_range_unread,
                                                     &Draft::c4_divided}};
}  // namespace drawdown::labs
