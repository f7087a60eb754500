// What the columns of a table of results are called, in English and Spanish.
#pragma once

#include <optional>
#include <string_view>

#include "scenario/scenario.hpp"

namespace drawdown::labs {

enum class Column {
  none,
  date,
  c3,
  c4,
  c1q,
  ch50,
  ah50,
  c4d,
  factor_b,
  anti_dsdna,
  crp,
  urine_protein,
  haemoglobin,
  flare,
  treatment,
  c3_low,
  c3_high,
  c3_range,
  c4_low,
  c4_high,
  c4_range,
  time,
  unit,  // of C3 and C4 alike
  c3_unit,
  c4_unit,
  mark,  // the laboratory's own, of whatever stands in front of it
  c3_mark,
  c4_mark
};

// A column's name taken apart: what it is, and the unit it states ("C3 (mg/dL)").
struct Title {
  Column column = Column::none;
  std::optional<scenario::Unit> unit;
  bool other_unit = false;  // states a unit, and not one of these
};

// Words that say no more than where or what is measured may stand beside the name ("Serum C4 (g/L)", "S-C3").
[[nodiscard]] Title title_of(std::string_view cell);
// A name that speaks of a range and of no test ("Reference range").
[[nodiscard]] bool speaks_of_range(std::string_view cell);
// C3 or C4, if a name that is not understood speaks of one of them as a word of its own ("C4 by turbidimetry"; not
// "C3d", which is another test, nor "C3 comment").
[[nodiscard]] std::optional<Column> looks_like(std::string_view cell);

// "g/L" or "mg/dL", however it is written.
[[nodiscard]] std::optional<scenario::Unit> unit_named(std::string_view text);

}  // namespace drawdown::labs
