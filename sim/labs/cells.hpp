// Lines into cells, and cells into figures (what is said in words: spoken_cells.cpp). The cells are libcsv's; which
// lines belong together is found here, so that a quote that is never closed costs one line and not the rest of the
// file.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "labs/record.hpp"

namespace drawdown::labs {

struct Line {
  std::size_t number = 0;  // of its first line, from 1
  std::string text;
  std::vector<std::string> cells;  // trimmed; empty for a blank line
  bool open_quote = false;
};

// Cells of one line: of a line that has more, so many and one are kept.
inline constexpr std::size_t most_cells = 300;

// ',' ';' '\t' or ' ': the one that most of the first lines agree on.
[[nodiscard]] char delimiter_of(std::string_view text);

class Splitter {
 public:
  explicit Splitter(char delimiter);
  Splitter(const Splitter&) = delete;
  Splitter(Splitter&&) = delete;
  Splitter& operator=(const Splitter&) = delete;
  Splitter& operator=(Splitter&&) = delete;
  ~Splitter();
  // The cells of one record.
  [[nodiscard]] std::vector<std::string> cells(std::string_view record);

 private:
  struct Parser;
  Parser* parser_;
  bool blanks_ = false;  // blanks between cells: several count as one
};

// The records of a text, `most` of them at most: where a quoted cell holds line ends, several lines are one record.
// `looked_at` counts the bytes searched for quotes.
[[nodiscard]] std::vector<Line> lines_of(std::string_view text, char delimiter,
                                         std::size_t most = std::string_view::npos, std::size_t* looked_at = nullptr);

// "1.10", "1,10", "<0.02", "below 0.02", "110 mg/dL", "0.05 L", "0.05* g/L". A number is digits with at most one point
// or comma; a laboratory's mark for low or high is left aside.
struct NumberCell {
  std::optional<Value> value;  // nothing = an empty cell ("", "-", "NA", "n/a")
  std::string unit;            // what stood after the number
  bool wrong = false;
};
[[nodiscard]] NumberCell read_number(std::string_view cell);

[[nodiscard]] std::string_view trimmed(std::string_view text);
// Small letters and digits only, accents taken off: what names are compared by.
[[nodiscard]] std::string plain_name(std::string_view text);

// Nothing stands there: "", "-", "NA", "n/a".
[[nodiscard]] bool says_nothing(std::string_view cell);
// Words that say there is no result, and no digit beside them: "pending", "haemolysed", "not done", "insufficient", in
// English and Spanish. That is no value, and nothing that could not be read.
[[nodiscard]] bool says_no_result(std::string_view cell);

// The laboratory's mark in a column of its own: "L", "low", "H", "alto", an arrow, "N", "normal". "A",
// "abn", "*": outside, and it does not say on which side.
struct MarkCell {
  int mark = 0;  // as Value's
  bool wrong = false;
};
[[nodiscard]] MarkCell read_mark(std::string_view cell);

// "0.90-1.80", "0,9 – 1,8", "0.9 to 1.8", "90-180 mg/dL", "(0.90-1.80)", "[0.9 – 1.8] g/L", "Ref: 0.9-1.8"; `unit` is
// what stood behind it. `half`: only one limit (">0.90"). Nothing if it is no range.
struct RangeCell {
  double low = 0.0, high = 0.0;  // as written
  std::string unit;
  bool half = false;
};
[[nodiscard]] std::optional<RangeCell> read_range(std::string_view cell);

}  // namespace drawdown::labs
