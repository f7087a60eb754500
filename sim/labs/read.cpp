// Which column is what, which unit and date order hold, and each line's way into a row or to the rejected ones.
#include "labs/read.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "labs/cells.hpp"
#include "labs/columns.hpp"
#include "labs/slips.hpp"
#include "readout/serum.hpp"
#include "scenario/visible.hpp"

namespace drawdown::labs {

namespace {

using scenario::Unit;

constexpr double most_c3 = 6.0;  // g/L: more was never reported (assumed)
constexpr double most_c4 = 2.0;
constexpr double most_other = 1e6;
// A median C3 from here on cannot be g/L.
constexpr double surely_mg_per_dl = 10.0;

// A line on its way: what its cells say, before the unit and the date order of the whole are known.
struct Draft {
  Row row;
  std::string text;
  DateCell date;
  std::string date_text;
  std::optional<Unit> c3_unit, c4_unit;  // stated in the cell
};

class Reader {
 public:
  Reader(const std::string& text, const ReadOptions& options) : options_(options) {
    std::string_view rest = text;
    if (rest.substr(0, 3) == "\xEF\xBB\xBF") rest.remove_prefix(3);
    if (text.size() > most_bytes) fail(1, "more than 16 MiB; at most that is read");
    const std::size_t nul = rest.find('\0');
    if (nul != std::string_view::npos) {
      const auto at =
          static_cast<std::size_t>(std::count(rest.begin(), rest.begin() + static_cast<std::ptrdiff_t>(nul), '\n'));
      fail(at + 1, "this is not text (a zero byte); CSV or typed lines are read");
    }
    lines_ = lines_of(rest, delimiter_of(rest), most_rows + 1);
    if (lines_.size() > most_rows) fail(most_rows + 1, "more than 200000 lines; at most so many are read");
  }

  Reading read() {
    std::size_t first = 0;
    while (first < lines_.size() && lines_[first].cells.empty() && !lines_[first].open_quote) first += 1;
    if (first == lines_.size()) fail(1, "there is nothing in it; a line is: date, C3, C4");
    const std::size_t from = read_titles(lines_[first]) ? first + 1 : first;
    out_.blank_lines = first;
    for (std::size_t i = from; i < lines_.size(); ++i) take(lines_[i]);
    settle_order();
    settle_units();
    std::stable_sort(drafts_.begin(), drafts_.end(),
                     [](const Draft& a, const Draft& b) { return a.row.day < b.row.day; });
    finish();
    std::stable_sort(out_.rejected.begin(), out_.rejected.end(),
                     [](const Rejected& a, const Rejected& b) { return a.line < b.line; });
    return std::move(out_);
  }

 private:
  [[noreturn]] void fail(std::size_t line, const std::string& what) const {
    throw ReadError(scenario::visible(options_.name) + ":" + std::to_string(line) + ": " + what);
  }

  void reject(const Draft& d, Reason reason, std::string column = {}, std::string detail = {}) {
    out_.rejected.push_back({d.row.line, d.text, reason, std::move(column), std::move(detail)});
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
      const bool data = !line.cells.empty() && !take_apart(line.cells[0]).wrong;
      if (!data) fail(line.number, "neither names of columns (date, C3, C4, ...) nor a line of date, C3, C4");
      titles_ = {{Column::date, {}}, {Column::c3, {}}, {Column::c4, {}}};
      titles_text_ = {"date", "C3", "C4"};
      return false;
    }
    out_.named_columns = true;
    std::map<Column, std::size_t> seen;
    for (std::size_t i = 0; i < titles_.size(); ++i) {
      if (titles_[i].column == Column::none) {
        if (!titles_text_[i].empty()) out_.ignored_columns.push_back(titles_text_[i]);
      } else if (!seen.emplace(titles_[i].column, i).second) {
        fail(line.number, "the column '" + scenario::shortened(titles_text_[i], 80) + "' is there twice");
      }
    }
    if (seen.count(Column::date) == 0) fail(line.number, "no column is the date (date, fecha)");
    if (seen.count(Column::c3) + seen.count(Column::c4) == 0) fail(line.number, "no column is C3 or C4");
    return true;
  }

  void take(const Line& line) {
    Draft d;
    d.row.line = line.number;
    d.text = line.text;
    if (line.open_quote) return reject(d, Reason::open_quote);
    if (line.cells.empty() ||
        std::all_of(line.cells.begin(), line.cells.end(), [](const auto& c) { return c.empty(); })) {
      out_.blank_lines += 1;
      return;
    }
    if (line.cells.size() > most_cells) return reject(d, Reason::too_many_cells, {}, "…");
    for (std::size_t i = titles_.size(); i < line.cells.size(); ++i) {
      if (!line.cells[i].empty()) return reject(d, Reason::too_many_cells, {}, line.cells[i]);
    }
    d.date.wrong = Reason::no_date;
    for (std::size_t i = 0; i < std::min(titles_.size(), line.cells.size()); ++i) {
      if (!take_cell(d, i, line.cells[i])) return;
    }
    if (d.date.wrong) return reject(d, *d.date.wrong, "date", d.date_text);
    const Row& r = d.row;
    const bool any = r.c3 || r.c4 || r.c1q || r.ch50 || r.anti_dsdna || r.crp || r.urine_protein || r.haemoglobin;
    if (!any) return reject(d, Reason::no_result);
    drafts_.push_back(std::move(d));
  }

  // False if the line was rejected.
  bool take_cell(Draft& d, std::size_t i, const std::string& cell) {
    const Column column = titles_[i].column;
    Row& r = d.row;
    switch (column) {
      case Column::none:
        return true;
      case Column::date:
        d.date = take_apart(cell);
        d.date_text = cell;
        return true;
      case Column::treatment:
        r.treatment = cell;
        return true;
      case Column::flare:
        return take_flare(d, i, cell);
      case Column::c3_range:
      case Column::c4_range:
        return take_range(d, i, cell);
      default:
        break;
    }
    const NumberCell read = read_number(cell);
    const auto refuse = [&](Reason reason) {
      reject(d, reason, titles_text_[i], cell);
      return false;
    };
    if (read.wrong) return refuse(Reason::bad_number);
    if (!read.value) return true;
    if (read.value->value < 0.0) return refuse(Reason::negative);
    if (!(read.value->value < most_other)) return refuse(Reason::impossible_other);
    const auto set_low = [&](std::optional<scenario::Interval>& range) {
      range = {read.value->value, range ? range->high : 0.0};
    };
    const auto set_high = [&](std::optional<scenario::Interval>& range) {
      range = {range ? range->low : 0.0, read.value->value};
    };
    const auto unit = unit_named(read.unit);
    switch (column) {
      case Column::c3:
      case Column::c4:
        if (!read.unit.empty() && !unit) return refuse(Reason::bad_number);
        (column == Column::c3 ? r.c3 : r.c4) = read.value;
        (column == Column::c3 ? d.c3_unit : d.c4_unit) = unit;
        break;
      case Column::c1q:
        r.c1q = read.value;
        break;
      case Column::ch50:
        r.ch50 = read.value;
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
        set_low(r.c3_range);
        break;
      case Column::c3_high:
        set_high(r.c3_range);
        break;
      case Column::c4_low:
        set_low(r.c4_range);
        break;
      case Column::c4_high:
        set_high(r.c4_range);
        break;
      default:
        break;
    }
    return true;
  }

  bool take_flare(Draft& d, std::size_t i, const std::string& cell) {
    const std::string plain = plain_name(cell);
    const auto is = [&](std::initializer_list<std::string_view> words) {
      return std::find(words.begin(), words.end(), plain) != words.end();
    };
    if (plain.empty() || is({"na"})) return true;
    if (is({"yes", "y", "1", "true", "si", "s", "x"})) {
      d.row.flare = true;
    } else if (is({"no", "n", "0", "false"})) {
      d.row.flare = false;
    } else {
      reject(d, Reason::bad_flare, titles_text_[i], cell);
      return false;
    }
    return true;
  }

  bool take_range(Draft& d, std::size_t i, const std::string& cell) {
    if (cell.empty() || plain_name(cell) == "na") return true;
    const auto range = read_range(cell);
    if (!range) {
      reject(d, Reason::bad_range, titles_text_[i], cell);
      return false;
    }
    (titles_[i].column == Column::c3_range ? d.row.c3_range : d.row.c4_range) = *range;
    return true;
  }

  void settle_order() {
    std::size_t day_first = 0;
    std::size_t month_first = 0;
    std::size_t open = 0;
    for (const Draft& d : drafts_) {
      if (d.date.plain) continue;
      if (d.date.first > 12 && d.date.second <= 12) day_first += 1;
      if (d.date.second > 12 && d.date.first <= 12) month_first += 1;
      if (d.date.first <= 12 && d.date.second <= 12 && d.date.first != d.date.second) open += 1;
    }
    out_.order = month_first > day_first ? DateOrder::month_first : DateOrder::day_first;
    out_.order_open = open > 0 && day_first == month_first;
    if (options_.order) {
      out_.order = *options_.order;
      out_.order_open = false;
    }
    std::vector<Draft> kept;
    kept.reserve(drafts_.size());
    for (Draft& d : drafts_) {
      const DateRead date = read_date(d.date, out_.order);
      if (date.wrong) {
        reject(d, *date.wrong, "date", d.date_text);
        continue;
      }
      d.row.day = date.days;
      kept.push_back(std::move(d));
    }
    drafts_ = std::move(kept);
  }

  [[nodiscard]] std::optional<Unit> titled_unit(Column column) const {
    for (const Title& title : titles_) {
      if (title.column == column) return title.unit;
    }
    return std::nullopt;
  }

  void settle_units() {
    std::vector<double> c3;
    std::vector<double> c4;
    bool all_cells = !drafts_.empty();
    std::size_t cells_mg = 0;
    std::size_t cells_with = 0;
    for (const Draft& d : drafts_) {
      if (d.row.c3 && !d.c3_unit) c3.push_back(d.row.c3->value);
      if (d.row.c4 && !d.c4_unit) c4.push_back(d.row.c4->value);
      all_cells = all_cells && (!d.row.c3 || d.c3_unit) && (!d.row.c4 || d.c4_unit);
      for (const auto& unit : {d.c3_unit, d.c4_unit}) {
        if (!unit) continue;
        cells_with += 1;
        if (*unit == Unit::mg_per_dl) cells_mg += 1;
      }
    }
    const auto median = [](std::vector<double>& v) {
      const auto middle = v.begin() + static_cast<std::ptrdiff_t>((v.size() - 1) / 2);
      std::nth_element(v.begin(), middle, v.end());
      return *middle;
    };
    Unit guess = Unit::g_per_l;
    if (!c3.empty()) {
      if (median(c3) >= surely_mg_per_dl) guess = Unit::mg_per_dl;
    } else if (!c4.empty()) {
      if (median(c4) > most_c4) guess = Unit::mg_per_dl;
    } else if (2 * cells_mg > cells_with) {
      guess = Unit::mg_per_dl;
    }
    const auto title = titled_unit(Column::c3) ? titled_unit(Column::c3) : titled_unit(Column::c4);
    out_.unit = options_.unit ? *options_.unit : title ? *title : guess;
    out_.unit_sure = options_.unit || title || all_cells;
  }

  // Takes values whose unit may have slipped out of their rows, or reads them as the person answered.
  void settle_slips() {
    for (const bool c4 : {false, true}) {
      std::vector<std::pair<Draft*, double>> with;
      for (Draft& d : drafts_) {
        const auto& value = c4 ? d.row.c4 : d.row.c3;
        if (value && !value->below && value->value > 0.0) with.emplace_back(&d, value->value);
      }
      std::vector<double> values;
      values.reserve(with.size());
      for (const auto& one : with) values.push_back(one.second);
      const std::vector<double> factors = slip_factors(values, c4 ? 0.25 : 1.2);
      for (std::size_t i = 0; i < with.size(); ++i) {
        Draft& d = *with[i].first;
        if (factors[i] != 1.0) answer_slip(d, c4 ? d.row.c4 : d.row.c3, c4, factors[i]);
      }
    }
  }
  void answer_slip(const Draft& d, std::optional<Value>& value, bool c4, double factor) {
    if (options_.slips == SlipAnswer::keep) return;
    if (options_.slips == SlipAnswer::convert) {
      value->value /= factor;
      return;
    }
    out_.slips.push_back({d.row.line, d.row.day, c4, value->value, factor});
    value.reset();
  }

  void finish() {
    std::map<std::pair<int, std::pair<double, double>>, std::size_t> seen;
    const Unit c3_title = options_.unit ? *options_.unit : titled_unit(Column::c3).value_or(out_.unit);
    const Unit c4_title = options_.unit ? *options_.unit : titled_unit(Column::c4).value_or(out_.unit);
    const auto to_g_per_l = [](Unit unit) { return unit == Unit::mg_per_dl ? 1.0 / readout::mg_per_dl : 1.0; };
    for (Draft& d : drafts_) {
      Row& r = d.row;
      const double c3_factor = to_g_per_l(d.c3_unit.value_or(c3_title));
      const double c4_factor = to_g_per_l(d.c4_unit.value_or(c4_title));
      if (r.c3) r.c3->value *= c3_factor;
      if (r.c4) r.c4->value *= c4_factor;
      const auto scale = [](std::optional<scenario::Interval>& range, double factor) {
        if (range) range = {range->low * factor, range->high * factor};
      };
      scale(r.c3_range, c3_factor);
      scale(r.c4_range, c4_factor);
    }
    settle_slips();
    for (Draft& d : drafts_) {
      Row& r = d.row;
      const auto wrong = [](const std::optional<scenario::Interval>& range) {
        return range && !(range->high > range->low);
      };
      if (wrong(r.c3_range) || wrong(r.c4_range)) {
        reject(d, Reason::bad_range, wrong(r.c3_range) ? "C3" : "C4");
      } else if (r.c3 && r.c3->value > most_c3) {
        reject(d, Reason::impossible_c3, "C3");
      } else if (r.c4 && r.c4->value > most_c4) {
        reject(d, Reason::impossible_c4, "C4");
      } else {
        const auto key = std::make_pair(r.day, std::make_pair(r.c3 ? r.c3->value : -1.0, r.c4 ? r.c4->value : -1.0));
        const auto [found, is_new] = seen.emplace(key, r.line);
        if (!is_new) {
          reject(d, Reason::same_as_line, {}, std::to_string(found->second));
        } else {
          out_.rows.push_back(std::move(r));
        }
      }
    }
  }

  const ReadOptions& options_;
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
