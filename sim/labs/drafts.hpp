// The lines of a text on their way to rows: what only all of them together can say - the order of dates, the unit,
// values whose unit may have slipped - and what of them is kept.
#pragma once

#include <string>
#include <vector>

#include "labs/columns.hpp"
#include "labs/dates.hpp"
#include "labs/read.hpp"

namespace drawdown::labs {

// A range as a line gives it, whole or by halves, each limit in the unit stated for it or in that of the line's value.
struct DraftRange {
  struct Limit {
    double value = 0.0;
    std::optional<scenario::Unit> unit;
  };
  std::optional<Limit> low, high;
};

// A line: what its cells say, before the unit and the date order of the whole are known.
struct Draft {
  Row row;
  std::string text;
  DateCell date;
  std::string date_text;
  std::optional<scenario::Unit> c3_unit, c4_unit;  // stated in the cell
  DraftRange c3_range, c4_range;
  std::string c3_text, c4_text;      // as typed
  std::string c3_stated, c4_stated;  // a column of units says
  std::string c3_mark, c4_mark;      // a column of the laboratory's marks says
  std::string time_text;
  // A value whose unit slipped: what it is to be divided by to be what was meant, and a range without a unit with it.
  double c3_divided = 1.0, c4_divided = 1.0;
  bool refused = false;  // a cell was
  bool asked = false;    // a value's unit may have slipped
};

void reject(Reading& out, const Draft& d, Reason reason, std::string column = {}, std::string detail = {});
// Only this cell: the line goes on without it.
void refuse(Reading& out, Draft& d, Reason reason, std::string column, std::string detail);
[[nodiscard]] bool has_result(const Row& row);

// Turns the drafts into rows in order of day, with all that is asked and refused; what was refused before stays.
void settle(std::vector<Draft> drafts, const std::vector<Title>& titles, const ReadOptions& options, Reading& out);

}  // namespace drawdown::labs
