// The judgements.
#include "labs/judge.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::labs {

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
  c.beyond = c.asked && (c.percent > c.log_normal.up || c.percent < c.log_normal.down);
}
}  // namespace

Change change_between(double before, double after, const study::Variation& cv, double z, bool falls_only) {
  Change c;
  c.percent = 100.0 * (after / before - 1.0);
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

namespace {

// Of a change between a limit and a value: it went at least so far, whatever lies under the limit.
bool tells_change(const Value& from, const Value& to, const Change& c) {
  return from.below != to.below && (to.below ? c.percent < 0.0 : c.percent > 0.0);
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
  out.level = level_change(rows, p, noise);
  out.low_but_usual = out.level.standing == Standing::within && out.placed[*out.level.last].position == Position::below;
  const study::Variation& cv = noise.of(p);
  out.individuality = study::index_of_individuality(cv.analytical, cv.within, between_persons(p));
  return out;
}

}  // namespace

Judgement judge(const std::vector<Row>& rows, const Noise& noise, const scenario::Laboratory& laboratory) {
  Judgement j;
  j.c3 = judge_one(rows, Protein::c3, noise, laboratory.c3);
  j.c4 = judge_one(rows, Protein::c4, noise, laboratory.c4);
  j.marker = marker(rows, noise);
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
    j.any_beyond = j.any_beyond || p->level.found();
  }
  return j;
}

}  // namespace drawdown::labs
