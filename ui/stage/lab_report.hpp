// The last reports of a story as one sheet, the way a laboratory prints them: a column a report, a mark where a value
// lies outside the range, and one where it differs from the person's own usual by more than the noise of one reading.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "simulate.hpp"

namespace drawdown::stage {

inline constexpr std::size_t most_reports = 6;
inline constexpr double days_between_reports = 28.0;

struct LabCell {
  double value = 0.0;  // in the line's own unit; C3 and C4 in g/L
  int mark = 0;        // against the range: -1 below, 1 above
  int own = 0;         // against the own usual: -1 below it by more than noise, 1 above
};

struct LabLine {
  std::string key;                         // its words: lab.<key>
  std::optional<body::ReadoutId> readout;  // none: C3, C4
  double low = 0.0, high = 0.0;            // the range; high 0: none is printed
  std::optional<double> usual;             // the person's own, quiet; none: not known for this test
  std::vector<LabCell> cells;              // by report
  std::optional<double> percent;           // of the last report against the one before; C3 and C4 only
  bool beyond = false;                     // that is more than the noise of two readings
};

struct LabReport {
  std::vector<double> days;  // of the samples, the newest last
  std::vector<LabLine> lines;
};

// The report on `day` and those before it, `days_between_reports` apart, at most `most_reports`. `number` says which of
// the day's possible samples was drawn, as in lab_sample().
[[nodiscard]] LabReport lab_report(const Run& run, double day, unsigned number, const scenario::Laboratory& laboratory);

// What one reading may differ from a known usual by noise alone, either way: exp(+-1.96 s), s = sqrt(ln(1 + CV^2)).
[[nodiscard]] int against_usual(double value, double usual, double log_sd);

}  // namespace drawdown::stage
