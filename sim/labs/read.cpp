// Which column is what, and what each line's cells say.
#include "labs/read.hpp"

#include <algorithm>
#include <map>

#include "labs/cells.hpp"
#include "labs/columns.hpp"
#include "labs/drafts.hpp"
#include "scenario/visible.hpp"

namespace drawdown::labs {

namespace {

constexpr double most_other = 1e6;

bool is_range(Column column) {
  return column == Column::c3_low || column == Column::c3_high || column == Column::c3_range ||
         column == Column::c4_low || column == Column::c4_high || column == Column::c4_range;
}
bool is_level_or_range(Column column) {
  return column == Column::c3 || column == Column::c4 || is_range(column);
}

class Reader {
 public:
  Reader(const std::string& text, const ReadOptions& options) : options_(options) {
    std::string_view rest = text;
    if (rest.substr(0, 3) == "\xEF\xBB\xBF") rest.remove_prefix(3);
    if (text.size() > most_bytes) fail(1, "more than 16 MiB; at most that is read");
    if (rest.substr(0, 2) == "\xFF\xFE" || rest.substr(0, 2) == "\xFE\xFF") {
      fail(1, "this is text of 16 bits a letter (UTF-16); save it as UTF-8, then it is read");
    }
    const std::size_t nul = rest.find('\0');
    if (nul != std::string_view::npos) {
      const auto at =
          static_cast<std::size_t>(std::count(rest.begin(), rest.begin() + static_cast<std::ptrdiff_t>(nul), '\n'));
      fail(at + 1, "this is not text (a zero byte); CSV or typed lines are read");
    }
    const char delimiter = delimiter_of(rest);
    blanks_ = delimiter == ' ';
    lines_ = lines_of(rest, delimiter, most_rows + 1);
    if (lines_.size() > most_rows) fail(most_rows + 1, "more than 200000 lines; at most so many are read");
  }

  Reading read() {
    std::size_t first = 0;
    while (first < lines_.size() && lines_[first].cells.empty() && !lines_[first].open_quote) first += 1;
    if (first == lines_.size()) fail(1, "there is nothing in it; a line is: date, C3, C4");
    const std::size_t from = read_titles(lines_[first]) ? first + 1 : first;
    out_.blank_lines = first;
    for (std::size_t i = from; i < lines_.size(); ++i) take(std::move(lines_[i]));
    settle(std::move(drafts_), titles_, options_, out_);
    return std::move(out_);
  }

 private:
  [[noreturn]] void fail(std::size_t line, const std::string& what) const {
    throw ReadError(scenario::visible(options_.name) + ":" + std::to_string(line) + ": " + what);
  }

  // True if the line names the columns.
  bool read_titles(const Line& line) {
    bool any = false;
    if (line.cells.size() > most_cells) {
      fail(line.number, "more than " + std::to_string(most_cells) + " columns; at most so many are read");
    }
    for (const std::string& cell : line.cells) {
      titles_.push_back(title_of(cell));
      titles_text_.push_back(cell);
      any = any || titles_.back().column != Column::none;
    }
    if (!any) {
      const auto cells = with_whole_date(line.cells, 0, std::nullopt, line.cells.size(), blanks_);
      const bool data = !cells.empty() && !take_apart(cells[0]).wrong;
      if (!data) fail(line.number, "neither names of columns (date, C3, C4, ...) nor a line of date, C3, C4");
      titles_ = {{Column::date, {}, false}, {Column::c3, {}, false}, {Column::c4, {}, false}};
      titles_text_ = {"date", "C3", "C4"};
      return false;
    }
    out_.named_columns = true;
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      const bool level = titles_[i].column == Column::c3 || titles_[i].column == Column::c4;
      const std::string& text = titles_text_[i];
      const bool open = std::count(text.begin(), text.end(), '(') != std::count(text.begin(), text.end(), ')');
      if ((level || is_range(titles_[i].column)) && open) {
        fail(line.number, "a bracket is not closed in the column '" + scenario::shortened(text, 80) +
                              "'; it may have been cut in two");
      }
      if ((level || is_range(titles_[i].column)) && titles_[i].other_unit) {
        fail(line.number, "the unit of the column '" + scenario::shortened(titles_text_[i], 80) +
                              "' is not one that is read; g/L and mg/dL are");
      }
    }
    give_marks_away();
    std::map<Column, std::size_t> seen;
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      if (titles_[i].column == Column::none) {
        if (!titles_text_[i].empty()) out_.ignored_columns.push_back(titles_text_[i]);
      } else if (!seen.emplace(titles_[i].column, i).second) {
        fail(line.number, "the column '" + scenario::shortened(titles_text_[i], 80) + "' is there twice");
      }
    }
    // A range that does not say of what would be passed over, and another one used.
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      if (titles_[i].column == Column::none && speaks_of_range(titles_text_[i])) {
        fail(line.number, "the column '" + scenario::shortened(titles_text_[i], 80) +
                              "' does not say whose range it is; write C3 range or C4 range");
      }
    }
    // What could be the pair's column and is not understood is not passed over.
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      const auto looks = titles_[i].column == Column::none ? looks_like(titles_text_[i]) : std::nullopt;
      if (looks && seen.count(*looks) == 0) {
        fail(line.number, "the column '" + scenario::shortened(titles_text_[i], 80) +
                              "' is not understood; write C3 or C4, with the unit: C3 (g/L), C4 (mg/dL)");
      }
    }
    for (const auto& [column, i] : seen) out_.titles.emplace(column, titles_text_[i]);
    if (seen.count(Column::date) == 0) fail(line.number, "no column is the date (date, fecha)");
    if (seen.count(Column::c3) + seen.count(Column::c4) == 0) fail(line.number, "no column is C3 or C4");
    return true;
  }

  // A column of marks that names no protein is that of the level in front of it, where only one stands there: "C3,
  // flag, C4, flag"; behind both nobody knows whose it is, and it is listed as not used.
  void give_marks_away() {
    std::vector<Column> levels;  // since the last such column
    for (Title& title : titles_) {
      if (title.column == Column::c3 || title.column == Column::c4) levels.push_back(title.column);
      if (title.column != Column::mark) continue;
      title.column = levels.size() != 1             ? Column::none
                     : levels.front() == Column::c3 ? Column::c3_mark
                                                    : Column::c4_mark;
      levels.clear();
    }
  }
  [[nodiscard]] std::optional<std::size_t> place_of(Column column) const {
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      if (titles_[i].column == column) return i;
    }
    return std::nullopt;
  }

  void take(Line line) {
    Draft d;
    d.row.line = line.number;
    d.text = line.text;
    if (line.open_quote) return reject(out_, d, Reason::open_quote);
    if (line.cells.empty() ||
        std::all_of(line.cells.begin(), line.cells.end(), [](const auto& c) { return c.empty(); })) {
      out_.blank_lines += 1;
      return;
    }
    if (line.cells.size() > most_cells) return reject(out_, d, Reason::too_many_cells, {}, "…");
    line.cells = with_whole_date(std::move(line.cells), *place_of(Column::date), place_of(Column::time), titles_.size(),
                                 blanks_);
    for (std::size_t i = titles_.size(); i < line.cells.size(); ++i) {
      if (!line.cells[i].empty()) return reject(out_, d, Reason::too_many_cells, {}, line.cells[i]);
    }
    d.date.wrong = Reason::no_date;
    // The date first: where that is wrong the line is, whatever else it holds.
    for (std::size_t i = 0; i < std::min(titles_.size(), line.cells.size()); ++i) {
      if (titles_[i].column != Column::date) continue;
      d.date = take_apart(line.cells[i]);
      d.date_text = line.cells[i];
    }
    if (d.date.wrong && names_columns(line)) {
      fail(line.number, "the columns are named again; one table at a time is read");
    }
    if (d.date.wrong) return reject(out_, d, *d.date.wrong, "date", d.date_text);
    for (std::size_t i = 0; i < std::min(titles_.size(), line.cells.size()); ++i) take_cell(d, i, line.cells[i]);
    take_units(d);
    take_marks(d);
    if (!take_time(d)) return reject(out_, d, Reason::bad_time, "time", d.time_text);
    if (!has_result(d.row) && !d.refused) {
      // A note beside it may say why.
      const bool why = !d.row.treatment.empty();
      return reject(out_, d, why ? Reason::no_value : Reason::no_result, why ? "note" : "", d.row.treatment);
    }
    drafts_.push_back(std::move(d));
  }
  void take_cell(Draft& d, std::size_t i, const std::string& cell) {
    const Column column = titles_[i].column;
    Row& r = d.row;
    switch (column) {
      case Column::none:
      case Column::date:
        return;
      case Column::treatment:
        r.treatment = cell;
        return;
      case Column::time:
        d.time_text = cell;
        return;
      case Column::unit:
        if (d.c3_stated.empty()) d.c3_stated = cell;
        if (d.c4_stated.empty()) d.c4_stated = cell;
        return;
      case Column::c3_unit:
        d.c3_stated = cell;
        return;
      case Column::c4_unit:
        d.c4_stated = cell;
        return;
      case Column::c3_mark:
      case Column::c4_mark:
        (column == Column::c3_mark ? d.c3_mark : d.c4_mark) = cell;
        return;
      case Column::flare:
        return take_flare(d, i, cell);
      case Column::c3_range:
      case Column::c4_range:
        return take_range(d, i, cell);
      default:
        break;
    }
    const NumberCell read = read_number(cell);
    const auto refuse_it = [&](Reason reason) {
      if (is_range(column)) range_unread(d, column);
      refuse(out_, d, reason, titles_text_[i], cell);
    };
    if (read.wrong) return refuse_it(!is_range(column) && says_no_result(cell) ? Reason::no_value : Reason::bad_number);
    if (!read.value) return;
    if (read.value->value < 0.0) return refuse_it(Reason::negative);
    if (!(read.value->value < most_other)) return refuse_it(Reason::impossible_other);
    const auto unit = unit_named(read.unit);
    if (is_level_or_range(column) && !read.unit.empty() && !unit) return refuse_it(Reason::bad_unit);
    const DraftRange::Limit limit{read.value->value, unit ? unit : titles_[i].unit};
    switch (column) {
      case Column::c3:
      case Column::c4:
        if (!(read.value->value > 0.0)) return refuse_it(Reason::zero);
        (column == Column::c3 ? r.c3 : r.c4) = read.value;
        (column == Column::c3 ? d.c3_unit : d.c4_unit) = unit;
        (column == Column::c3 ? d.c3_text : d.c4_text) = cell;
        break;
      case Column::c1q:
        r.c1q = read.value;
        break;
      case Column::ch50:
        r.ch50 = read.value;
        break;
      case Column::ah50:
        r.ah50 = read.value;
        break;
      case Column::c4d:
        r.c4d = read.value;
        break;
      case Column::factor_b:
        r.factor_b = read.value;
        break;
      case Column::anti_dsdna:
        r.anti_dsdna = read.value;
        break;
      case Column::crp:
        r.crp = read.value;
        break;
      case Column::urine_protein:
        r.urine_protein = read.value;
        break;
      case Column::haemoglobin:
        r.haemoglobin = read.value;
        break;
      case Column::c3_low:
        d.c3_range.low = limit;
        break;
      case Column::c3_high:
        d.c3_range.high = limit;
        break;
      case Column::c4_low:
        d.c4_range.low = limit;
        break;
      case Column::c4_high:
        d.c4_range.high = limit;
        break;
      default:
        break;
    }
  }

  static void range_unread(Draft& d, Column column) {
    const bool c3 = column == Column::c3_low || column == Column::c3_high || column == Column::c3_range;
    (c3 ? d.row.c3_range_unread : d.row.c4_range_unread) = true;
  }

  // A unit in a column of its own, where the value's cell states none.
  void take_units(Draft& d) {
    const auto one = [&](std::optional<Value>& value, std::optional<scenario::Unit>& unit, const std::string& stated,
                         const char* name) {
      if (!value || stated.empty()) return;
      const auto named = unit_named(stated);
      if (!named || (unit && *unit != *named)) {
        refuse(out_, d, Reason::bad_unit, name, stated);
        value.reset();
        return;
      }
      unit = named;
    };
    one(d.row.c3, d.c3_unit, d.c3_stated, "C3");
    one(d.row.c4, d.c4_unit, d.c4_stated, "C4");
  }

  // The laboratory's mark in a column of its own. Against one that stands beside the figure nobody knows which holds.
  void take_marks(Draft& d) {
    const auto one = [&](std::optional<Value>& value, const std::string& text, const char* name) {
      const MarkCell read = read_mark(text);
      if (read.wrong) return refuse(out_, d, Reason::bad_mark, name, text);
      if (!value || read.mark == 0) return;
      value->mark = value->mark == 0 || value->mark == read.mark ? read.mark : marked_outside;
    };
    one(d.row.c3, d.c3_mark, "C3 flag");
    one(d.row.c4, d.c4_mark, "C4 flag");
  }

  // A time of day in a column of its own. False if the line cannot be taken: with blanks between cells a figure may
  // stand where the time is missing.
  [[nodiscard]] bool take_time(Draft& d) {
    if (says_nothing(d.time_text) || d.date.minute) return true;
    const DateCell with = take_apart(d.date_text + " " + d.time_text);
    if (blanks_ && d.time_text.find(':') == std::string::npos) return false;
    if (with.wrong || !with.minute) {
      refuse(out_, d, Reason::bad_time, "time", d.time_text);
    } else {
      d.date.minute = with.minute;
    }
    return true;
  }

  [[nodiscard]] static bool names_columns(const Line& line) {
    bool date = false;
    bool level = false;
    for (const std::string& cell : line.cells) {
      const Column column = title_of(cell).column;
      date = date || column == Column::date;
      level = level || column == Column::c3 || column == Column::c4;
    }
    return date && level;
  }

  void take_flare(Draft& d, std::size_t i, const std::string& cell) {
    const std::string plain = plain_name(cell);
    const auto is = [&](std::initializer_list<std::string_view> words) {
      return std::find(words.begin(), words.end(), plain) != words.end();
    };
    if (plain.empty() || is({"na"})) return;
    // The illness was found in it: a flare too.
    d.row.at_diagnosis = is({"diagnosis", "atdiagnosis", "diagnostico", "aldiagnostico", "eneldiagnostico"});
    if (d.row.at_diagnosis || is({"yes", "y", "1", "true", "si", "s", "x"})) {
      d.row.flare = true;
    } else if (is({"no", "n", "0", "false"})) {
      d.row.flare = false;
    } else {
      refuse(out_, d, Reason::bad_flare, titles_text_[i], cell);
    }
  }

  void take_range(Draft& d, std::size_t i, const std::string& cell) {
    if (says_nothing(cell)) return;
    const auto range = read_range(cell);
    const auto unit = range ? unit_named(range->unit) : std::nullopt;
    if (range && range->half) {
      range_unread(d, titles_[i].column);
      return refuse(out_, d, Reason::half_range, titles_text_[i], cell);
    }
    if (!range || (!range->unit.empty() && !unit)) {
      range_unread(d, titles_[i].column);
      return refuse(out_, d, Reason::bad_range, titles_text_[i], cell);
    }
    const auto stated = unit ? unit : titles_[i].unit;
    (titles_[i].column == Column::c3_range ? d.c3_range : d.c4_range) =
        DraftRange{DraftRange::Limit{range->low, stated}, DraftRange::Limit{range->high, stated}};
  }

  const ReadOptions& options_;
  bool blanks_ = false;  // between cells
  std::vector<Line> lines_;
  std::vector<Title> titles_;
  std::vector<std::string> titles_text_;
  std::vector<Draft> drafts_;
  Reading out_;
};

}  // namespace

Reading read(const std::string& text, const ReadOptions& options) {
  return Reader(text, options).read();
}

}  // namespace drawdown::labs
