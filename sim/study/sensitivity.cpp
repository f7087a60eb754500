#include "study/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "study/variation.hpp"

namespace drawdown::study {

namespace {

struct Range {
  double low = 0.0;
  double high = 0.0;
};

scenario::Scenario with_value(const Run& run, body::LeverId lever, double day, double value) {
  return scenario::edited(run.story(), {scenario::governing_edit(run.story(), lever, day, value)});
}

// The two values compared: a share of the range either way, inside the range.
Range compared(const Run& run, body::LeverId lever, double day, double share = 0.01) {
  const body::Lever& l = run.body().model->levers()[lever];
  const double value = scenario::governing_value(run.story(), lever, day);
  const double step = share * (l.most - l.least);
  return {std::max(l.least, value - step), std::min(l.most, value + step)};
}

// The step, from the value that governs the day; the other way round where it would leave the range.
Range step_taken(const Run& run, body::LeverId lever, double day) {
  const body::Lever& l = run.body().model->levers()[lever];
  const double from = scenario::governing_value(run.story(), lever, day);
  const auto inside = [&](double value) { return value >= l.least && value <= l.most; };
  if (inside(from + l.step)) return {from, from + l.step};
  if (inside(from - l.step)) return {from, from - l.step};
  // Not a whole step either way: to the end that is farther off.
  return {from, l.most - from > from - l.least ? l.most : l.least};
}

// In a straight line from the slopes (g/L for one of the lever's unit).
LeverEffect along_slope(const Run& run, body::LeverId lever, double day, double c3_slope, double c4_slope) {
  const Range step = step_taken(run, lever, day);
  const double percent = 100.0 * (step.high - step.low);
  return {lever, step.low, step.high, percent * c3_slope / run.usual_c3(), percent * c4_slope / run.usual_c4()};
}

std::shared_ptr<const Run> changed_run(const Run& run, body::LeverId lever, double day, double value) {
  SimulateOptions options;
  options.rtol = 1e-8;
  options.usual_levers = quiet_levers(run.story());
  auto changed = simulate(std::make_shared<const body::Body>(run.body()), with_value(run, lever, day, value), options);
  if (!changed->complete()) throw std::runtime_error("sensitivity: a run did not finish");
  return changed;
}

// What moves with a lever: df/du du/dvalue. A ramp of slope one on it makes the network's own time derivative df/du.
Variation with_lever(const Run& run, body::LeverId lever, LeverShare share) {
  std::vector<double> slopes(run.story().levers.size(), 0.0);
  slopes[lever] = 1.0;
  return Variation(run, slopes,
                   [share = std::move(share)](double t, const Variation::Point& at, std::vector<double>& push) {
                     const double of = share(t < 0.0 ? -1.0 : t / 24.0);
                     for (std::size_t i = 0; i < push.size(); ++i) push[i] = of * at.along_slopes[i];
                   });
}

}  // namespace

double LeverEffect::size() const {
  return std::max(std::abs(c3), std::abs(c4));
}

std::vector<body::LeverId> asked_levers(const body::Model& model) {
  std::vector<body::LeverId> asked;
  const auto& all = model.levers();
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].step != 0.0) asked.emplace_back(i);
  }
  return asked;
}

std::vector<LeverEffect> effects_of_steps(const Run& run, double day) {
  std::vector<LeverEffect> effects;
  const std::vector<body::LeverId> asked = asked_levers(*run.body().model);
  if (asked.empty()) return effects;
  effects.reserve(asked.size());
  const double unchanged = scenario::governing_value(run.story(), asked.front(), day);
  const auto present = changed_run(run, asked.front(), day, unchanged);
  for (const body::LeverId lever : asked) {
    const Range step = step_taken(run, lever, day);
    const auto changed = changed_run(run, lever, day, step.high);
    effects.push_back({lever, step.low, step.high, 100.0 * (changed->c3(day) - present->c3(day)) / run.usual_c3(),
                       100.0 * (changed->c4(day) - present->c4(day)) / run.usual_c4()});
  }
  return effects;
}

std::vector<LeverEffect> effects_by_differences(const Run& run, double day, double share) {
  std::vector<LeverEffect> effects;
  for (const body::LeverId lever : asked_levers(*run.body().model)) {
    const Range values = compared(run, lever, day, share);
    const auto low = changed_run(run, lever, day, values.low);
    const auto high = changed_run(run, lever, day, values.high);
    const double width = values.high - values.low;
    effects.push_back(
        along_slope(run, lever, day, (high->c3(day) - low->c3(day)) / width, (high->c4(day) - low->c4(day)) / width));
  }
  return effects;
}

LevelSlopes level_slopes(const Run& run, body::LeverId lever, const LeverShare& share, const std::vector<double>& days,
                         double rtol) {
  const Variation variation = with_lever(run, lever, share);
  solve::Options options;
  options.rtol = rtol;
  options.atol.reserve(run.body().model->scales().size());
  for (const double scale : run.body().model->scales()) options.atol.push_back(1e-2 * rtol * scale);
  std::vector<double> s(run.body().model->scales().size(), 0.0);
  solve::Course settling(s.size());
  solve::Solver solver(variation.pattern(), run.body().model->lu());
  // The start too has settled under the lever's value before day 0.
  if (share(-1.0) != 0.0) {
    if (solver.solve(variation, s, -3 * 8760.0, -1.0, options, settling).status != solve::Status::ok) {
      throw std::runtime_error("sensitivity: the settled start could not be varied");
    }
    settling.last_state(s.data());
  }
  LevelSlopes slopes;
  const body::Model& model = *run.body().model;
  const body::SpeciesId c3 = model.in_plasma(model.known().c3);
  const body::SpeciesId c4 = model.in_plasma(model.known().c4);
  const std::vector<double> start = s;
  solve::Course course(s.size());
  follow(variation, run, solver, options, 0.0, days.empty() ? 0.0 : 24.0 * days.back(), s, course);
  for (const double day : days) {
    const bool at_start = course.empty() || day <= 0.0;
    slopes.c3.push_back(model.grams_per_litre(model.known().c3, at_start ? start[c3] : course.value(c3, 24.0 * day)));
    slopes.c4.push_back(model.grams_per_litre(model.known().c4, at_start ? start[c4] : course.value(c4, 24.0 * day)));
  }
  return slopes;
}

LeverEffect effect_by_variation(const Run& run, body::LeverId lever, double day) {
  const Range values = compared(run, lever, day);
  const scenario::Timeline low(with_value(run, lever, day, values.low));
  const scenario::Timeline high(with_value(run, lever, day, values.high));
  const auto share = [&](double at) {
    return (high.value(lever, at) - low.value(lever, at)) / (values.high - values.low);
  };
  const LevelSlopes slopes = level_slopes(run, lever, share, {day}, 1e-6);
  return along_slope(run, lever, day, slopes.c3[0], slopes.c4[0]);
}

std::vector<LeverEffect> worth_showing(std::vector<LeverEffect> effects) {
  effects.erase(
      std::remove_if(effects.begin(), effects.end(), [](const LeverEffect& e) { return e.size() < does_nothing; }),
      effects.end());
  std::stable_sort(effects.begin(), effects.end(),
                   [](const LeverEffect& a, const LeverEffect& b) { return a.size() > b.size(); });
  return effects;
}

}  // namespace drawdown::study
