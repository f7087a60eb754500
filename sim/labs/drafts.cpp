// Deciding for the whole, then line by line.
#include "labs/drafts.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "labs/facts.hpp"
#include "labs/slip_lines.hpp"
#include "readout/serum.hpp"
#include "scenario/visible.hpp"

namespace drawdown::labs {

namespace {

using scenario::Unit;

// Of C4 alone, sizes that either unit could have given: 0.5 to 3 of the one or the other.
constexpr scenario::Interval either_unit{0.5, 3.0};
// A median C3 from here on cannot be g/L.
constexpr double surely_mg_per_dl = 10.0;
// And from here on it is no mg/dL either.
constexpr double surely_mg_per_l = 450.0;

double to_g_per_l(Unit unit) {
  return unit == Unit::mg_per_dl ? 1.0 / readout::mg_per_dl : 1.0;
}
std::string figure(double v) {
  std::ostringstream out;
  out << v;
  return out.str();
}

class Settler {
 public:
  Settler(std::vector<Draft> drafts, const std::vector<Title>& titles, const ReadOptions& options, Reading& out)
      : drafts_(std::move(drafts)), titles_(titles), options_(options), out_(out) {}

  void settle() {
    settle_order();
    settle_units();
    // Of one day in the order of its times; what names none stands first, in the order of lines.
    const auto when = [](const Draft& d) { return std::pair{d.row.day, d.row.minute.value_or(-1)}; };
    std::stable_sort(drafts_.begin(), drafts_.end(), [&](const Draft& a, const Draft& b) { return when(a) < when(b); });
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
    out_.order_open = open + day_first > 0 && day_first == month_first;
    out_.order_mixed = out_.order_open && day_first > 0;
    if (options_.order) {
      out_.order = *options_.order;
      out_.order_open = false;
      out_.order_mixed = false;
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
      d.row.minute = d.date.minute;
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
      const double middle = median(c3);
      if (middle >= surely_mg_per_dl) guess = Unit::mg_per_dl;
      if (middle >= surely_mg_per_l && !options_.unit && !titled_unit(Column::c3)) {
        throw ReadError(scenario::visible(options_.name) +
                        ": C3 as large as this is in mg/L, which is not read; g/L and mg/dL are (divide by 10)");
      }
    } else if (!c4.empty()) {
      const double middle = median(c4);
      if (middle > proteins[1].plausible) guess = Unit::mg_per_dl;
      out_.unit_open = middle >= either_unit.low && middle <= either_unit.high;
    } else if (2 * cells_mg > cells_with) {
      guess = Unit::mg_per_dl;
    }
    const auto title = titled_unit(Column::c3) ? titled_unit(Column::c3) : titled_unit(Column::c4);
    for (const auto& stated : {titled_unit(Column::c3), titled_unit(Column::c4)}) {
      if (options_.unit && stated && *stated != *options_.unit) {
        throw ReadError(scenario::visible(options_.name) +
                        ": a column's name states another unit than was answered; g/L or mg/dL, but not both");
      }
    }
    out_.unit = options_.unit ? *options_.unit : title ? *title : guess;
    out_.unit_sure = options_.unit || title || all_cells;
    out_.unit_open = out_.unit_open && !out_.unit_sure;
  }

  // The range in g/L: each limit in its own unit, else in that of the line's value - and if that one slipped, and the
  // range can be none as it stands, with it.
  void settle_range(Draft& d, const Facts& of) {
    const DraftRange& given = d.*of.draft_range;
    if (!given.low && !given.high) return;
    const auto refuse_range = [&](Reason reason, const std::string& written) {
      d.row.*of.range_unread = true;
      refuse(out_, d, reason, of.name, written);
    };
    if (!given.low || !given.high) {
      return refuse_range(Reason::half_range, figure((given.low ? given.low : given.high)->value));
    }
    const auto in_grams = [&](const DraftRange::Limit& limit) {
      return limit.value * to_g_per_l(limit.unit.value_or(*(d.*of.unit)));
    };
    scenario::Interval range{in_grams(*given.low), in_grams(*given.high)};
    const std::string written = figure(given.low->value) + "-" + figure(given.high->value);
    if (!(range.high > range.low)) return refuse_range(Reason::bad_range, written);
    if (!of.can_be_range(range) && !given.low->unit && !given.high->unit) {
      range = {range.low / (d.*of.divided), range.high / (d.*of.divided)};
    }
    if (of.can_be_range(range)) {
      d.row.*of.range = range;
    } else if (!d.asked) {  // an asked value's range goes with it
      refuse_range(Reason::odd_range, written);
    }
  }

  void finish() {
    for (const Facts& of : proteins) {
      const Unit titled = options_.unit ? *options_.unit : titled_unit(of.column).value_or(out_.unit);
      for (Draft& d : drafts_) {
        std::optional<Unit>& unit = d.*of.unit;
        if (!unit) unit = titled;
        std::optional<Value>& value = d.row.*of.value;
        if (value) value->value *= to_g_per_l(*unit);
      }
    }
    settle_slips(drafts_, options_.slips, out_);
    for (const Facts& of : proteins) {
      for (Draft& d : drafts_) {
        settle_range(d, of);
        std::optional<Value>& value = d.row.*of.value;
        if (!value || value->value <= of.most) continue;
        refuse(out_, d, of.impossible, of.name, d.*of.text);
        value.reset();
      }
    }
    std::map<std::vector<double>, std::size_t> seen;
    for (Draft& d : drafts_) {
      Row& r = d.row;
      if (!has_result(r) && (d.refused || d.asked)) continue;  // all it held has been reported
      const auto [found, is_new] = seen.emplace(all_of(r), r.line);
      if (!is_new) {
        reject(out_, d, Reason::same_as_line, {}, std::to_string(found->second));
      } else {
        if (options_.today && r.day > *options_.today) out_.after_today.push_back({r.line, r.day});
        out_.rows.push_back(std::move(r));
      }
    }
    say_whole();
  }
  // Everything a row says but its words: two lines are the same sample only if all of it is.
  static std::vector<double> all_of(const Row& r) {
    std::vector<double> all{static_cast<double>(r.day), r.minute.value_or(-1) * 1.0,
                            r.flare ? (r.at_diagnosis ? 2.0
                                       : *r.flare     ? 1.0
                                                      : 0.0)
                                    : -1.0};
    for (const auto* v : {&r.c3, &r.c4, &r.c1q, &r.ch50, &r.ah50, &r.c4d, &r.factor_b, &r.anti_dsdna, &r.crp,
                          &r.urine_protein, &r.haemoglobin}) {
      all.push_back(*v ? (*v)->value : -1.0);
      for (const bool said : {*v && (*v)->below, *v && (*v)->or_equal}) all.push_back(said ? 1.0 : 0.0);
      all.push_back(*v ? (*v)->mark : 0);
    }
    for (const auto* range : {&r.c3_range, &r.c4_range}) {
      all.push_back(*range ? (*range)->low : -1.0);
      all.push_back(*range ? (*range)->high : -1.0);
    }
    return all;
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
  return r.c3 || r.c4 || r.c1q || r.ch50 || r.ah50 || r.c4d || r.factor_b || r.anti_dsdna || r.crp || r.urine_protein ||
         r.haemoglobin;
}

void settle(std::vector<Draft> drafts, const std::vector<Title>& titles, const ReadOptions& options, Reading& out) {
  Settler(std::move(drafts), titles, options, out).settle();
}

namespace {
bool says_none(const Rejected& r) {
  return r.reason == Reason::no_value || r.reason == Reason::no_result;
}
}  // namespace

std::size_t Reading::unread() const {
  return static_cast<std::size_t>(std::count_if(rejected.begin(), rejected.end(), [](const Rejected& r) {
    return r.reason != Reason::same_as_line && !says_none(r);
  }));
}

std::size_t Reading::without_result() const {
  return static_cast<std::size_t>(std::count_if(rejected.begin(), rejected.end(), says_none));
}

}  // namespace drawdown::labs
