// What the commands print: the course as CSV, a run's key figures as a table, the tracer study, the equations.
#pragma once

#include <string>

#include "simulate.hpp"
#include "study/tracer.hpp"

namespace drawdown::command {

// The two comment lines a table begins with: program version and story; the caution.
[[nodiscard]] std::string csv_head(const Run& run);
// One row a day, after these lines and a header with units.
[[nodiscard]] std::string course_csv(const Run& run);
// The course at about a dozen days, to read.
[[nodiscard]] std::string course_table(const Run& run);
[[nodiscard]] std::string tracer_table(const study::TracerResult& result, const std::string& protein, double day);
// The levers by what they do to C3 and C4 on a day, largest first.
[[nodiscard]] std::string effects_table(const Run& run, double day, bool forward);
// Levers, then the network's species, reactions and constants.
[[nodiscard]] std::string equations_text();
[[nodiscard]] std::string lever_table();

}  // namespace drawdown::command
