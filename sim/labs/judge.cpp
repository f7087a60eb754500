// The judgements.
#include "labs/judge.hpp"

#include <algorithm>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <iterator>

namespace drawdown::labs {

namespace {

constexpr double days_a_month = 30.44;
constexpr double shortest_trend = 28.0;

double median(std::vector<double> v) {
  std::sort(v.begin(), v.end());
  const std::size_t n = v.size();
  return n % 2 == 1 ? v[n / 2] : 0.5 * (v[n / 2 - 1] + v[n / 2]);
}

struct Point {
  std::size_t row;
  double day;
  double log_value;  // of the limit, where the value is below detection
  bool below;
};
std::vector<Point> points_of(const std::vector<Row>& rows, Protein p) {
  std::vector<Point> points;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& value = value_of(rows[i], p);
    if (!value || value->value <= 0.0) continue;
    points.push_back({i, static_cast<double>(rows[i].day), std::log(value->value), value->below});
  }
  return points;
}

}  // namespace

double between_persons(Protein p) {
  return p == Protein::c3 ? 15.6 : 33.4;
}

const std::optional<Value>& value_of(const Row& row, Protein p) {
  return p == Protein::c3 ? row.c3 : row.c4;
}

namespace {
// Whether a change with its limits is beyond them.
void hold_to_limits(Change& c, bool falls_only) {
  c.falls_only = falls_only;
  c.asked = !falls_only || c.percent <= 0.0;
  c.beyond_symmetric = c.asked && std::abs(c.percent) > c.symmetric;
  c.beyond = c.asked && (c.percent > c.log_normal.up || c.percent < c.log_normal.down);
}
}  // namespace

Change change_between(double before, double after, const study::Variation& cv, double z, bool falls_only) {
  Change c;
  c.percent = 100.0 * (after / before - 1.0);
  c.symmetric = study::reference_change_value(cv.analytical, cv.within, z);
  c.log_normal = study::log_change_limits(cv.analytical, cv.within, z);
  hold_to_limits(c, falls_only);
  return c;
}

Placed place(const Value& of, const scenario::Interval& range) {
  Placed placed;
  const double value = of.value;
  const bool hidden = of.or_equal ? value >= range.low : value > range.low;
  if (!(range.high > range.low) || (of.below && hidden)) return placed;
  placed.share = (value - range.low) / (range.high - range.low);
  placed.position = value < range.low || of.below ? Position::below
                    : value > range.high          ? Position::above
                                                  : Position::inside;
  return placed;
}

Usual usual_level(const std::vector<Row>& rows, Protein p, const Noise& noise) {
  Usual usual;
  usual.quiet_is_known = std::any_of(rows.begin(), rows.end(), [](const Row& r) { return r.flare.has_value(); });
  std::vector<double> logs;
  double highest_limit = -1e300;
  for (const Point& point : points_of(rows, p)) {
    if (usual.quiet_is_known && rows[point.row].flare != false) continue;
    logs.push_back(point.log_value);
    if (point.below) highest_limit = std::max(highest_limit, point.log_value);
  }
  usual.values = logs.size();
  if (logs.size() < fewest_quiet) return usual;
  const double middle = median(logs);
  // Of an even number the lower of the two in the middle counts too.
  std::vector<double> sorted = logs;
  std::sort(sorted.begin(), sorted.end());
  usual.hidden = highest_limit >= sorted[(sorted.size() - 1) / 2];
  if (usual.hidden) return usual;
  std::vector<double> off;
  off.reserve(logs.size());
  for (const double x : logs) off.push_back(std::abs(x - middle));
  const double spread = std::max(study::log_sd(noise.of(p)), 1.4826 * median(off));
  const double half = 1.959964 * 1.2533 * spread / std::sqrt(static_cast<double>(logs.size()));
  usual.level = std::exp(middle);
  usual.low = std::exp(middle - half);
  usual.high = std::exp(middle + half);
  return usual;
}

namespace {

Trend line_through(const std::vector<Point>& points, double known, double prior_weight) {
  const auto n = static_cast<double>(points.size());
  double t_mean = 0.0;
  double y_mean = 0.0;
  for (const Point& q : points) {
    t_mean += q.day / n;
    y_mean += q.log_value / n;
  }
  double tt = 0.0;
  double ty = 0.0;
  for (const Point& q : points) {
    tt += (q.day - t_mean) * (q.day - t_mean);
    ty += (q.day - t_mean) * (q.log_value - y_mean);
  }
  const double slope = ty / tt;
  double rss = 0.0;
  for (const Point& q : points) {
    const double off = q.log_value - y_mean - slope * (q.day - t_mean);
    rss += off * off;
  }
  const double freedom = n - 2.0 + prior_weight;
  const double variance = (rss + prior_weight * known * known) / freedom;
  const double se = std::sqrt(variance / tt);
  const double q = boost::math::quantile(boost::math::students_t(freedom), 0.975);
  const auto percent = [](double per_day) { return 100.0 * (std::exp(days_a_month * per_day) - 1.0); };
  return Trend{points.size(), false, percent(slope), percent(slope - q * se), percent(slope + q * se)};
}

}  // namespace

std::optional<Trend> trend(const std::vector<Row>& rows, Protein p, const Noise& noise, double prior_weight) {
  std::vector<Point> points = points_of(rows, p);
  if (points.size() < 3 || points.back().day - points.front().day < shortest_trend) return std::nullopt;
  const double known = study::log_sd(noise.of(p));
  if (std::none_of(points.begin(), points.end(), [](const Point& q) { return q.below; })) {
    return line_through(points, known, prior_weight);
  }
  std::vector<Point> measured;
  std::copy_if(points.begin(), points.end(), std::back_inserter(measured), [](const Point& q) { return !q.below; });
  double middle = 0.0;
  for (const Point& q : points) middle += q.day / static_cast<double>(points.size());
  // The line that goes most one way: limits stand where they help it, a tenth of them where that does.
  const auto extreme = [&](bool upwards) {
    std::vector<Point> moved = points;
    for (Point& q : moved) {
      const bool late = q.day > middle;
      if (q.below && late != upwards) q.log_value -= std::log(10.0);
    }
    return line_through(moved, known, prior_weight);
  };
  Trend most_rising = extreme(true);
  Trend most_falling = extreme(false);
  most_rising.at_least = most_falling.at_least = true;
  if (most_rising.falling()) return most_rising;
  if (most_falling.rising()) return most_falling;
  if (measured.size() < 3 || measured.back().day - measured.front().day < shortest_trend) return std::nullopt;
  Trend told = line_through(measured, known, prior_weight);
  // What the measured values alone would show, the hidden ones may deny.
  if (told.falling() || told.rising()) return std::nullopt;
  told.low = std::min({most_falling.low, told.low, 0.0});
  told.high = std::max({most_rising.high, told.high, 0.0});
  return told;
}

namespace {

// Of a change between a limit and a value: it went at least so far, whatever lies under the limit.
bool tells_change(const Value& from, const Value& to, const Change& c) {
  return from.below != to.below && (to.below ? c.percent < 0.0 : c.percent > 0.0);
}

// Where a line falls, what the last measured value rose by since the lowest one, if that is more than noise; where it
// rises, the other way round.
std::optional<Change> turned(const std::vector<Row>& rows, const std::vector<Point>& points,
                             const std::optional<Trend>& trend, Protein p, const Noise& noise) {
  if (!trend || (!trend->falling() && !trend->rising())) return std::nullopt;
  const double sign = trend->falling() ? 1.0 : -1.0;
  std::optional<std::size_t> end;
  std::optional<std::size_t> last;
  for (const Point& q : points) {
    if (q.below) continue;
    last = q.row;
    if (!end || sign * value_of(rows[q.row], p)->value <= sign * value_of(rows[*end], p)->value) end = q.row;
  }
  if (!end || rows[*end].day == rows[*last].day) return std::nullopt;
  Change c = change_between(value_of(rows[*end], p)->value, value_of(rows[*last], p)->value, noise.of(p), noise.z());
  c.from = *end;
  c.to = *last;
  if (!c.beyond) return std::nullopt;
  return c;
}

// Rows of days whose measured results differ by more than noise: nothing is compared with them.
std::vector<bool> disputed_days(const std::vector<Row>& rows, Protein p, const Noise& noise) {
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
    const bool differ = highest > lowest && (change_between(lowest, highest, noise.of(p), noise.z()).beyond ||
                                             change_between(highest, lowest, noise.of(p), noise.z()).beyond);
    for (std::size_t i = from; i < to; ++i) disputed[i] = differ;
    from = to;
  }
  return disputed;
}

// From the first measured value to the last of days that are not disputed.
std::optional<Change> overall(const std::vector<Row>& rows, const std::vector<Point>& points,
                              const std::vector<bool>& disputed, Protein p, const Noise& noise) {
  std::vector<std::size_t> measured;
  for (const Point& q : points) {
    if (!q.below && !disputed[q.row]) measured.push_back(q.row);
  }
  if (measured.size() < 3 || rows[measured.front()].day == rows[measured.back()].day) return std::nullopt;
  Change c = change_between(value_of(rows[measured.front()], p)->value, value_of(rows[measured.back()], p)->value,
                            noise.of(p), noise.z(), noise.one_sided);
  c.from = measured.front();
  c.to = measured.back();
  if (!c.beyond) return std::nullopt;
  return c;
}

OfProtein judge_one(const std::vector<Row>& rows, Protein p, const Noise& noise, const scenario::Interval& range) {
  OfProtein out;
  for (const Row& row : rows) {
    const auto& own = p == Protein::c3 ? row.c3_range : row.c4_range;
    const auto& value = value_of(row, p);
    const bool unread = p == Protein::c3 ? row.c3_range_unread : row.c4_range_unread;
    Placed placed = value && !unread ? place(*value, own ? *own : range) : Placed{};
    // The laboratory's own mark stands for a range it does not name; against one it names, nobody knows.
    if (value && value->mark == marked_outside) {
      if (placed.position == Position::inside) placed.position = Position::unknown;
    } else if (value && value->mark != 0) {
      const Position marked = value->mark == marked_normal ? Position::inside
                              : value->mark < 0            ? Position::below
                                                           : Position::above;
      placed.position = !own || placed.position == marked ? marked : Position::unknown;
    }
    placed.own_interval = own.has_value();
    placed.common = value && !own && !unread && !tells_side(value->mark);
    if (value) out.highest = std::max(out.highest, value->value);
    out.flares = out.flares || row.flare == true;
    out.placed.push_back(placed);
  }
  out.ranges = ranges_of(rows, p);
  // Beside a limit the limit stands for the value: a fall to it, or a rise from it, is then at least so large. Two of
  // them, or a value that may have gone either way, tell nothing.
  const std::vector<bool> disputed = disputed_days(rows, p, noise);
  std::optional<std::size_t> last;      // any
  std::optional<std::size_t> measured;  // of an earlier day
  std::optional<std::size_t> today;     // measured on the day being read
  const auto compare = [&](std::size_t from_row, std::size_t to_row) {
    const Value& from = *value_of(rows[from_row], p);
    const Value& to = *value_of(rows[to_row], p);
    Change c = change_between(from.value, to.value, noise.of(p), noise.z(), noise.one_sided);
    c.from = from_row;
    c.to = to_row;
    c.at_least = from.below || to.below;
    if (!c.at_least || tells_change(from, to, c)) out.changes.push_back(c);
  };
  for (std::size_t i = 0; i < rows.size(); ++i) {
    const auto& to = value_of(rows[i], p);
    if (!to) continue;
    if (last && rows[*last].day == rows[i].day) {
      const Value& other = *value_of(rows[*last], p);
      if (other.value != to->value || other.below != to->below) {
        const Change between = change_between(other.value, to->value, noise.of(p), noise.z());
        out.twice.push_back({*last, i, disputed[i] || (tells_change(other, *to, between) && between.beyond)});
      }
    } else {
      if (today) measured = today;
      today.reset();
      if (measured && !disputed[i]) compare(*measured, i);
      if (last && last != measured && !to->below && !disputed[*last] && !disputed[i]) compare(*last, i);
    }
    if (!to->below && !disputed[i]) today = i;
    last = i;
  }
  out.newest = last;
  const std::vector<Point> points = points_of(rows, p);
  out.usual = usual_level(rows, p, noise);
  // A last value below detection lies at least so far under the usual level; over it, its limit tells nothing.
  const bool tells = !points.empty() && out.usual.level &&
                     !(points.back().below && points.back().log_value >= std::log(*out.usual.level));
  if (tells && out.usual.quiet_is_known) {
    // The usual level is known better than one value: its own uncertainty takes the place of the first value's noise.
    const double one = study::log_sd(noise.of(p));
    const double of_usual = std::log(out.usual.high / *out.usual.level) / 1.959964;
    const double limit = noise.z() * std::hypot(one, of_usual);
    Change c;
    c.from = c.to = points.back().row;
    const double log_change = points.back().log_value - std::log(*out.usual.level);
    c.at_least = points.back().below;
    c.percent = 100.0 * (std::exp(log_change) - 1.0);
    c.log_normal = {100.0 * (std::exp(limit) - 1.0), 100.0 * (std::exp(-limit) - 1.0)};
    c.symmetric = 100.0 * limit;
    hold_to_limits(c, noise.one_sided);
    out.latest_from_usual = c;
  }
  out.trend = trend(rows, p, noise);
  out.overall = overall(rows, points, disputed, p, noise);
  out.turned = turned(rows, points, out.trend, p, noise);
  out.trend_hidden = !out.trend && points.size() >= 3 && points.back().day - points.front().day >= shortest_trend;
  const study::Variation& cv = noise.of(p);
  out.individuality = study::index_of_individuality(cv.analytical, cv.within, between_persons(p));
  return out;
}

}  // namespace

Judgement judge(const std::vector<Row>& rows, const Noise& noise, const scenario::Laboratory& laboratory) {
  Judgement j;
  j.c3 = judge_one(rows, Protein::c3, noise, laboratory.c3);
  j.c4 = judge_one(rows, Protein::c4, noise, laboratory.c4);
  // The day's last of each, day by day from the newest; whether the day's others lie as it does.
  std::size_t newest = 0;
  std::optional<std::size_t> with_c3;
  std::optional<std::size_t> with_c4;
  bool disagree = false;
  const auto take = [&](const OfProtein& of, std::size_t i, std::optional<std::size_t>& with) {
    if (with && of.placed[*with].position != of.placed[i].position) disagree = true;
    if (!with) with = i;
  };
  for (std::size_t i = rows.size(); i-- > 0;) {
    if (i + 1 == rows.size() || rows[i].day != rows[i + 1].day) {
      newest = i;
      with_c3 = with_c4 = std::nullopt;
      disagree = false;
    }
    if (rows[i].c3) take(j.c3, i, with_c3);
    if (rows[i].c4) take(j.c4, i, with_c4);
    if (!with_c3 || !with_c4 || (i > 0 && rows[i - 1].day == rows[i].day)) continue;
    j.pattern_of = newest;
    const Position of_c3 = j.c3.placed[*with_c3].position;
    const Position of_c4 = j.c4.placed[*with_c4].position;
    j.pattern_c3 = of_c3;
    j.pattern_c4 = of_c4;
    const bool known = of_c3 != Position::unknown && of_c4 != Position::unknown;
    const bool c3 = of_c3 == Position::below;
    const bool c4 = of_c4 == Position::below;
    j.pattern = disagree   ? Pattern::disagree
                : !known   ? Pattern::unclear
                : c3 && c4 ? Pattern::both
                : c3       ? Pattern::c3_only
                : c4       ? Pattern::c4_only
                           : Pattern::neither;
    break;
  }
  for (const OfProtein* p : {&j.c3, &j.c4}) {
    for (std::size_t i = rows.size(); p->newest && i-- > 0 && rows[i].day >= rows[*p->newest].day;) {
      j.low_now = j.low_now || p->placed[i].position == Position::below;
    }
    for (const Twice& t : p->twice) j.any_beyond = j.any_beyond || t.beyond;
    const bool slow = p->trend && (p->trend->falling() || (p->trend->rising() && !noise.one_sided));
    j.any_beyond = j.any_beyond || slow || p->overall.has_value();
    for (const Change& c : p->changes) j.any_beyond = j.any_beyond || c.beyond;
    j.any_beyond = j.any_beyond || (p->latest_from_usual && p->latest_from_usual->beyond);
  }
  return j;
}

}  // namespace drawdown::labs
