// A clinic's counts as text: the parts on their way to be added up, and the tables at the end. All CSV (RFC 4180).
#pragma once

#include <stdexcept>
#include <string>

#include "study/clinic.hpp"

namespace drawdown::study {

// One part's counts, with all that must agree for parts to be added up.
struct ClinicPart {
  ClinicAsked asked;
  std::string program;   // version and fingerprint()
  bool each = false;     // a row for each person was written beside it
  std::string each_sum;  // the checksum of those rows
  std::uint64_t part = 1, parts = 1;
  Tally tally;
};

// Cannot be read, or does not fit the others: why, and what is allowed. The line where there is one.
class PartError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// Ends in its own checksum: a text cut short or altered is not read.
[[nodiscard]] std::string part_text(const ClinicPart& part);
// Throws PartError.
[[nodiscard]] ClinicPart read_part(const std::string& text);

// All parts of one clinic, in any order, as one. Throws PartError naming what does not agree, which part is missing or
// which is there twice.
[[nodiscard]] ClinicPart merged(const std::vector<ClinicPart>& parts);

// A row a moment: people, how often C3, C4, either and both are below the range and below the own limit (people and %),
// percentiles (nearest rank), mean and sd of both, and their correlation. g/L. What cannot be told is left empty.
[[nodiscard]] std::string summary_csv(const ClinicPart& whole);
// A row a day: of levels in the blood, printed, without the noise of a sample.
[[nodiscard]] std::string daily_csv(const ClinicPart& whole);
// A row a person.
[[nodiscard]] std::string each_header(const ClinicAsked& asked);
[[nodiscard]] std::string each_row(const ClinicPerson& person);

}  // namespace drawdown::study
