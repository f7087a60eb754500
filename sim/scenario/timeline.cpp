// From events to straight pieces.
#include "scenario/timeline.hpp"

#include <algorithm>
#include <set>

namespace drawdown::scenario {

Timeline::Timeline(const Scenario& story) : end_(story.days * 24.0) {
  levers_.resize(story.levers.size());
  for (std::size_t i = 0; i < levers_.size(); ++i) levers_[i].push_back({-1e9, story.levers[i], 0.0});
  for (const Event& event : story.events) {
    std::vector<Knot>& knots = levers_[event.lever];
    const double start = event.day * 24.0;
    const Knot& current = knot_at(event.lever, start);
    const double before = current.value + current.slope * (start - current.hour);
    // A later event on the same lever ends whatever an earlier one still had planned.
    knots.erase(std::remove_if(knots.begin(), knots.end(), [&](const Knot& k) { return k.hour >= start; }),
                knots.end());
    const double ramp = event.ramp_days * 24.0;
    if (ramp > 0.0) {
      knots.push_back({start, before, (event.value - before) / ramp});
      knots.push_back({start + ramp, event.value, 0.0});
    } else {
      knots.push_back({start, event.value, 0.0});
    }
    if (event.for_hours > 0.0) knots.push_back({start + ramp + event.for_hours, before, 0.0});
  }
}

const Timeline::Knot& Timeline::knot_at(std::size_t lever, double hour) const {
  const std::vector<Knot>& knots = levers_[lever];
  std::size_t i = knots.size() - 1;
  while (i > 0 && knots[i].hour > hour) --i;
  return knots[i];
}

double Timeline::value(std::size_t lever, double day) const {
  const Knot& knot = knot_at(lever, day * 24.0);
  return knot.slope == 0.0 ? knot.value : knot.value + knot.slope * (day * 24.0 - knot.hour);
}

std::vector<double> Timeline::levers_at(double day) const {
  std::vector<double> values(levers_.size());
  for (std::size_t i = 0; i < values.size(); ++i) values[i] = value(i, day);
  return values;
}

std::vector<solve::Segment> Timeline::segments() const {
  std::set<double> cuts{0.0, end_};
  for (const auto& knots : levers_) {
    for (const Knot& knot : knots) {
      if (knot.hour > 0.0 && knot.hour < end_) cuts.insert(knot.hour);
    }
  }
  std::vector<solve::Segment> segments;
  for (auto cut = cuts.begin(); std::next(cut) != cuts.end(); ++cut) {
    solve::Segment segment{*cut, *std::next(cut), {}, {}};
    for (std::size_t i = 0; i < levers_.size(); ++i) {
      const Knot& knot = knot_at(i, *cut);
      segment.values.push_back(knot.slope == 0.0 ? knot.value : knot.value + knot.slope * (*cut - knot.hour));
      segment.slopes.push_back(knot.slope);
    }
    segments.push_back(std::move(segment));
  }
  return segments;
}

}  // namespace drawdown::scenario
