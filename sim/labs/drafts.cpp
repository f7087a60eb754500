// Deciding for the whole, then line by line.
#include "labs/drafts.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "labs/slips.hpp"
#include "readout/serum.hpp"

namespace drawdown::labs {

namespace {

using scenario::Unit;

constexpr double most_c3 = 6.0;  // g/L: more was never reported (assumed)
constexpr double most_c4 = 2.0;
// What is common, and the most that can be what it says when a slip of unit is possible, g/L (assumed).
constexpr double common_c3 = 1.2;
constexpr double common_c4 = 0.25;
constexpr double plausible_c3 = 4.0;
constexpr double plausible_c4 = 1.0;
// A median C3 from here on cannot be g/L.
constexpr double surely_mg_per_dl = 10.0;

class Settler {
 public:
  Settler(std::vector<Draft> drafts, const std::vector<Title>& titles, const ReadOptions& options, Reading& out)
      : drafts_(std::move(drafts)), titles_(titles), options_(options), out_(out) {}

  void settle() {
    settle_order();
    settle_units();
    std::stable_sort(drafts_.begin(), drafts_.end(),
                     [](const Draft& a, const Draft& b) { return a.row.day < b.row.day; });
    finish();
    std::stable_sort(out_.rejected.begin(), out_.rejected.end(),
                     [](const Rejected& a, const Rejected& b) { return a.line < b.line; });
  }

 private:
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
        reject(out_, d, *date.wrong, "date", d.date_text);
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
      const SlipFactors found = slip_factors(values, c4 ? common_c4 : common_c3, c4 ? plausible_c4 : plausible_c3);
      for (std::size_t i = 0; i < with.size(); ++i) {
        Draft& d = *with[i].first;
        if (found.factors[i] != 1.0) answer_slip(d, c4, found.factors[i], found.from_common);
      }
    }
  }
  void answer_slip(Draft& d, bool c4, double factor, bool from_common) {
    std::optional<Value>& value = c4 ? d.row.c4 : d.row.c3;
    if (options_.slips == SlipAnswer::keep) return;
    if (options_.slips == SlipAnswer::convert) {
      value->value /= factor;
      return;
    }
    out_.slips.push_back({d.row.line, d.row.day, c4, value->value, factor, from_common});
    value.reset();
    d.asked = true;
  }

  void finish() {
    std::map<std::vector<double>, std::size_t> seen;
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
      refuse_wrong(d, r.c3, r.c3_range, most_c3, Reason::impossible_c3, "C3");
      refuse_wrong(d, r.c4, r.c4_range, most_c4, Reason::impossible_c4, "C4");
      if (!has_result(r) && (d.refused || d.asked)) continue;  // all it held has been reported
      const auto [found, is_new] = seen.emplace(all_of(r), r.line);
      if (!is_new) {
        reject(out_, d, Reason::same_as_line, {}, std::to_string(found->second));
      } else {
        out_.rows.push_back(std::move(r));
      }
    }
    say_whole();
  }
  // Everything a row says but its words: two lines are the same sample only if all of it is.
  static std::vector<double> all_of(const Row& r) {
    std::vector<double> all{static_cast<double>(r.day), r.flare ? (*r.flare ? 1.0 : 0.0) : -1.0};
    for (const auto* v : {&r.c3, &r.c4, &r.c1q, &r.ch50, &r.anti_dsdna, &r.crp, &r.urine_protein, &r.haemoglobin}) {
      all.push_back(*v ? (*v)->value : -1.0);
      all.push_back(*v && (*v)->below ? 1.0 : 0.0);
    }
    return all;
  }
  void refuse_wrong(Draft& d, std::optional<Value>& value, std::optional<scenario::Interval>& range, double most,
                    Reason reason, const char* name) {
    const auto text = [](double v) {
      std::ostringstream out;
      out << v;
      return out.str();
    };
    if (range && !(range->high > range->low)) {
      refuse(out_, d, Reason::bad_range, name, text(range->low) + "-" + text(range->high));
      range.reset();
    }
    if (value && value->value > most) {
      refuse(out_, d, reason, name, text(value->value));
      value.reset();
    }
  }
  // A line of which nothing was left was not read at all.
  void say_whole() {
    std::set<std::size_t> kept;
    for (const Row& row : out_.rows) kept.insert(row.line);
    for (Rejected& rejected : out_.rejected) rejected.whole = rejected.whole || kept.count(rejected.line) == 0;
  }

  std::vector<Draft> drafts_;
  const std::vector<Title>& titles_;
  const ReadOptions& options_;
  Reading& out_;
};

}  // namespace

void reject(Reading& out, const Draft& d, Reason reason, std::string column, std::string detail) {
  out.rejected.push_back({d.row.line, true, d.text, reason, std::move(column), std::move(detail)});
}

void refuse(Reading& out, Draft& d, Reason reason, std::string column, std::string detail) {
  reject(out, d, reason, std::move(column), std::move(detail));
  out.rejected.back().whole = false;
  d.refused = true;
}

bool has_result(const Row& r) {
  return r.c3 || r.c4 || r.c1q || r.ch50 || r.anti_dsdna || r.crp || r.urine_protein || r.haemoglobin;
}

void settle(std::vector<Draft> drafts, const std::vector<Title>& titles, const ReadOptions& options, Reading& out) {
  Settler(std::move(drafts), titles, options, out).settle();
}

std::size_t Reading::unread() const {
  return static_cast<std::size_t>(std::count_if(rejected.begin(), rejected.end(),
                                                [](const Rejected& r) { return r.reason != Reason::same_as_line; }));
}

}  // namespace drawdown::labs
