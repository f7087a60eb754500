// Which intervals a person's values were held against.
#include <algorithm>

#include "labs/judge.hpp"

namespace drawdown::labs {

Ranges ranges_of(const std::vector<Row>& rows, Protein p) {
  Ranges ranges;
  for (auto row = rows.rbegin(); row != rows.rend(); ++row) {
    if (!value_of(*row, p)) continue;
    const auto& own = p == Protein::c3 ? row->c3_range : row->c4_range;
    if (p == Protein::c3 ? row->c3_range_unread : row->c4_range_unread) continue;  // held against none
    if (!own) {
      (tells_side(value_of(*row, p)->mark) ? ranges.marked : ranges.general) += 1;
      continue;
    }
    const auto same = std::find_if(ranges.own.begin(), ranges.own.end(), [&](const auto& one) {
      return one.first.low == own->low && one.first.high == own->high;
    });
    if (same != ranges.own.end()) {
      same->second += 1;
    } else if (ranges.own.size() == most_ranges) {
      ranges.more += 1;
    } else {
      ranges.own.emplace_back(*own, 1);
    }
  }
  return ranges;
}

std::optional<scenario::Interval> Ranges::band(const scenario::Interval& common) const {
  if (own.empty() || general > 0) return common;
  if (own.size() == 1) return own.front().first;
  return std::nullopt;
}

}  // namespace drawdown::labs
