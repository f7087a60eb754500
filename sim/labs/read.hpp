// Serial results from text: a CSV file, a pasted table, or typed lines. Takes commas, semicolons, tabs or blanks
// between cells, a byte-order mark, quoted cells, decimal points or commas, "<0.02" (and other ways to say less than),
// a laboratory's mark beside a figure ("0.05 L", "0.05*") or in a column of its own, missing cells, and intervals by
// row. A cell that says there is no result ("pending", "haemolysed"), and a date with none, are told with their reason
// and are not unread: there was nothing to read.
//
// The first line may name the columns, in any order, in English or Spanish: date, C3, C4 (with a unit: "C3 (mg/dL)"),
// C1q, CH50, AH50, C4d, factor B, anti-dsDNA, CRP, urine protein/creatinine, haemoglobin, flare, treatment, C3 low, C3
// high, C3 range, C3 flag, and the same for C4. Without names the columns are date, C3, C4. Nothing is dropped
// silently: every line is a row, a rejected line with its reason, blank, or the names; a cell that cannot be read costs
// that cell alone, with its reason; every column not understood is listed.
#pragma once

#include <map>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "labs/columns.hpp"
#include "labs/dates.hpp"
#include "labs/record.hpp"

namespace drawdown::labs {

// Far beyond any one person's results, and still read and told within seconds.
inline constexpr std::size_t most_bytes = std::size_t{16} * 1024 * 1024;
inline constexpr std::size_t most_rows = 200000;  // lines

// The text as a whole cannot be read: "NAME:LINE: what is wrong, what is allowed".
class ReadError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// keep: as written. convert: in the other unit, where that explains the value; else it stays asked about.
// convert_or_keep: the same, and what no unit explains is as written.
enum class SlipAnswer { keep, convert, convert_or_keep };

struct ReadOptions {
  std::optional<DateOrder> order;      // what the person answered
  std::optional<scenario::Unit> unit;  // likewise
  std::optional<SlipAnswer>
      slips;                     // likewise: possible slips of unit are as written, or are to be read in the other unit
  std::optional<int> today;      // days since 1970-01-01, where the person is; nothing: no date lies after it
  std::string name = "results";  // for errors
};

// A value whose unit may have slipped: about 100 or 1000 times more or less than the file's others of its protein, or
// than is common where no other can be what it says, or more than can be (labs/slips.hpp); or a limit of detection that
// no laboratory has. Until the person answers it is in no row: it makes no change, no usual level, no trend. Kept as
// written it counts, unless it is impossible: then it is rejected. Where no unit explains it, only keeping it or
// correcting the line is an answer.
struct Slip {
  std::size_t line = 0;
  int day = 0;
  bool c4 = false;              // else C3
  bool below = false;           // reported as less than that
  double written = 0.0;         // g/L, as the file's unit has it
  double times = 1.0;           // as many times the file's others, or what is common
  bool from_common = false;     // measured against what is common: the file has no other value to go by
  std::optional<double> meant;  // g/L, in the other unit
  scenario::Unit unit = scenario::Unit::g_per_l;  // it was read in
  bool or_equal = false;                          // at most that
  // Of a line both of whose halves are asked about, with one factor, what the other half says: one question for both.
  struct Half {
    bool below = false;
    bool or_equal = false;
    double written = 0.0;
    double meant = 0.0;  // g/L both
  };
  std::optional<Half> other;
  bool told = false;  // its question stands with the other half
};

// What the columns are called in the text, where it names them.
using Titles = std::map<Column, std::string>;

struct Reading {
  std::vector<Row> rows;        // in order of day
  std::vector<Slip> slips;      // still to be answered
  std::vector<Slip> converted;  // read in the other unit, as the person answered: rows hold what was meant
  std::vector<Rejected> rejected;
  std::vector<std::string> ignored_columns;
  std::size_t blank_lines = 0;
  bool named_columns = false;
  Titles titles;

  scenario::Unit unit = scenario::Unit::g_per_l;
  bool unit_sure = false;  // stated by the person, the names or the cells; else taken from the size of the values
  // Nothing states the unit and the sizes could be either's: ask. Until then, as `unit` says.
  bool unit_open = false;
  DateOrder order = DateOrder::day_first;
  // Every date that two numbers before the year leave open could be read either way: ask. Until then, day first.
  bool order_open = false;
  // As many dates can only be day first as can only be month first: ask too; those against the answer are rejected.
  bool order_mixed = false;

  // A row whose date lies after `today`: taken as it stands, and said.
  struct AfterToday {
    std::size_t line = 0;
    int day = 0;
  };
  std::vector<AfterToday> after_today;  // in order of day

  // Lines and cells that hold something nobody could read, or read as possible; a line that stands twice is none, nor
  // is what says itself that there is no result.
  [[nodiscard]] std::size_t unread() const;
  // Lines and cells that say so, or hold a date and nothing else.
  [[nodiscard]] std::size_t without_result() const;
};

// Throws ReadError: no date or neither C3 nor C4 among the columns, too large, not text.
[[nodiscard]] Reading read(const std::string& text, const ReadOptions& options = {});

}  // namespace drawdown::labs
