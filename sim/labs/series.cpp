// Days, marks, laboratories.
#include "labs/series.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <utility>

namespace drawdown::labs {

std::vector<bool> disputed_days(const std::vector<Row>& rows, Protein p, const Noise& noise) {
  const study::Variation& cv = noise.of(p);
  const study::ChangeLimits limits = study::log_change_limits(cv.analytical, cv.within, noise.z());
  std::vector<bool> disputed(rows.size(), false);
  for (std::size_t from = 0; from < rows.size();) {
    std::size_t to = from;
    double lowest = 0.0;
    double highest = 0.0;
    for (; to < rows.size() && rows[to].day == rows[from].day; ++to) {
      const auto& value = value_of(rows[to], p);
      if (!value || value->below) continue;
      lowest = highest > 0.0 ? std::min(lowest, value->value) : value->value;
      highest = std::max(highest, value->value);
    }
    // Either way round: the limits of a fall and of a rise are the same on the logarithm.
    const bool differ = highest > lowest && 100.0 * (highest / lowest - 1.0) > limits.up;
    for (std::size_t i = from; i < to; ++i) disputed[i] = differ;
    from = to;
  }
  return disputed;
}

namespace {

// Numbers laboratories by their ranges.
class Laboratories {
 public:
  std::size_t at(const std::optional<scenario::Interval>& range) {
    if (range) now_ = known_.emplace(std::pair(range->low, range->high), known_.size()).first->second;
    return now_;
  }
  [[nodiscard]] std::size_t count() const { return std::max<std::size_t>(1, known_.size()); }

 private:
  std::map<std::pair<double, double>, std::size_t> known_;
  std::size_t now_ = 0;
};

}  // namespace

Series series_of(const std::vector<Row>& rows, Protein p, const Noise& noise) {
  Series series;
  const std::vector<bool> disputed = disputed_days(rows, p, noise);
  Laboratories laboratories;
  std::vector<bool> treated;
  for (std::size_t from = 0, to = 0; from < rows.size(); from = to) {
    Visit visit;
    visit.day = rows[from].day;
    std::size_t measured = 0;
    std::size_t values = 0;
    double sum = 0.0;
    double lowest_limit = 1e300;
    bool flare = false;
    bool quiet = false;
    bool treatment = false;
    for (; to < rows.size() && rows[to].day == rows[from].day; ++to) {
      const auto& value = value_of(rows[to], p);
      // What is said of the day holds for its results, on whichever of its lines it stands.
      flare = flare || rows[to].flare == true;
      quiet = quiet || rows[to].flare == false;
      treatment = treatment || !rows[to].treatment.empty();
      if (!value || value->value <= 0.0) continue;
      values += 1;
      visit.row = to;
      visit.laboratory = laboratories.at(p == Protein::c3 ? rows[to].c3_range : rows[to].c4_range);
      if (value->below) {
        lowest_limit = std::min(lowest_limit, value->value);
      } else {
        measured += 1;
        sum += std::log(value->value);
      }
    }
    if (values == 0) continue;
    series.last_disputed = disputed[visit.row];
    if (disputed[visit.row]) {
      series.disputed += 1;
      continue;
    }
    visit.below = measured == 0;
    visit.log_value = visit.below ? std::log(lowest_limit) : sum / static_cast<double>(measured);
    visit.left = flare ? LeftOut::flare : quiet ? LeftOut::no : LeftOut::unmarked;
    series.quiet_is_known = series.quiet_is_known || visit.left == LeftOut::no;
    series.visits.push_back(visit);
    treated.push_back(treatment);
  }
  series.laboratories = laboratories.count();
  bool untreated = false;
  for (std::size_t i = 0; i < series.visits.size(); ++i) {
    LeftOut& left = series.visits[i].left;
    if (left == LeftOut::unmarked && !series.quiet_is_known) left = LeftOut::no;
    untreated = untreated || (left == LeftOut::no && !treated[i]);
  }
  for (std::size_t i = 0; i < series.visits.size(); ++i) {
    LeftOut& left = series.visits[i].left;
    if (left == LeftOut::no && treated[i]) {
      series.all_treated = !untreated;
      if (untreated) left = LeftOut::treated;
    }
    series.flares += left == LeftOut::flare ? 1 : 0;
    series.treated += left == LeftOut::treated ? 1 : 0;
    series.unmarked += left == LeftOut::unmarked ? 1 : 0;
  }
  return series;
}

}  // namespace drawdown::labs
