#include "study/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace drawdown::study {

namespace {

struct Range {
  double low = 0.0;
  double high = 0.0;
};

scenario::Scenario with_value(const Run& run, std::size_t lever, double day, double value) {
  return scenario::edited(run.story(), {scenario::governing_edit(run.story(), lever, day, value)});
}

// The two values compared: a share of the range either way, inside the range.
Range compared(const Run& run, std::size_t lever, double day, double share = 0.01) {
  const body::Lever& l = body::levers()[lever];
  const double value = scenario::governing_value(run.story(), lever, day);
  const double step = share * (l.most - l.least);
  return {std::max(l.least, value - step), std::min(l.most, value + step)};
}

LeverEffect scaled(const Run& run, std::size_t lever, double c3_slope, double c4_slope) {
  const body::Lever& l = body::levers()[lever];
  const double part = 0.01 * (l.most - l.least);
  return {lever, 100.0 * c3_slope * part / run.usual_c3(), 100.0 * c4_slope * part / run.usual_c4()};
}

// The linear system along the run, pushed by one lever that moves by `share` of the parameter.
class Variation final : public solve::System {
 public:
  Variation(const Run& run, std::size_t lever, LeverShare share)
      : run_(run),
        lever_(lever),
        share_(std::move(share)),
        bound_(run.body().bound()),
        now_(run.story()),
        x_(bound_.plan().species),
        values_(bound_.pattern().entries.size()),
        push_(bound_.plan().species) {}

  [[nodiscard]] const network::Pattern& pattern() const override { return bound_.pattern(); }
  void derivative(double t, const double* s, double* dsdt) const override {
    along_run(t);
    multiply(values_, s, dsdt);
    for (std::size_t i = 0; i < push_.size(); ++i) dsdt[i] += push_[i];
  }
  void jacobian(double t, const double* s, double* values, double* dfdt) const override {
    // The time derivative by differences: the coefficients follow the run's dense output.
    const double h = 1e-3;
    std::vector<double> later(push_.size());
    std::vector<double> earlier(push_.size());
    derivative(t + h, s, later.data());
    derivative(t - h, s, earlier.data());
    for (std::size_t i = 0; i < later.size(); ++i) dfdt[i] = (later[i] - earlier[i]) / (2 * h);
    along_run(t);
    std::copy(values_.begin(), values_.end(), values);
  }

 private:
  // Jacobian and df/du * du/dvalue at time t (hours; before 0 the settled start).
  void along_run(double t) const {
    const double day = std::max(t, 0.0) / 24.0;
    run_.course().state(std::max(t, 0.0), x_.data());
    const std::vector<double> levers = t < 0.0 ? run_.story().levers : now_.levers_at(day);
    // A ramp of slope one on this lever makes the network's own time derivative df/du.
    std::vector<double> slopes(levers.size(), 0.0);
    slopes[lever_] = 1.0;
    bound_.bind(levers, slopes, t);
    bound_.jacobian(t, x_.data(), values_.data(), push_.data());
    const double share = share_(t < 0.0 ? -1.0 : day);
    for (double& p : push_) p *= share;
  }
  void multiply(const std::vector<double>& values, const double* s, double* out) const {
    std::fill(out, out + push_.size(), 0.0);
    const auto& entries = bound_.pattern().entries;
    for (std::size_t e = 0; e < entries.size(); ++e) out[entries[e].first] += values[e] * s[entries[e].second];
  }

  const Run& run_;
  std::size_t lever_;
  LeverShare share_;
  mutable network::Bound<double> bound_;
  scenario::Timeline now_;
  mutable std::vector<double> x_, values_, push_;
};

}  // namespace

double LeverEffect::size() const {
  return std::max(std::abs(c3), std::abs(c4));
}

std::vector<std::size_t> asked_levers() {
  std::vector<std::size_t> asked;
  const auto& all = body::levers();
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool group = all[i].group == body::LeverGroup::complexes || all[i].group == body::LeverGroup::production ||
                       all[i].group == body::LeverGroup::treatment || all[i].name == "c1inh_dose";
    if (group && all[i].kind == body::LeverKind::sliding) asked.push_back(i);
  }
  return asked;
}

std::vector<LeverEffect> effects_by_differences(const Run& run, double day, double step) {
  const auto body = std::make_shared<const body::Body>(run.body());
  SimulateOptions options;
  options.rtol = 1e-8;
  options.usual_levers = quiet_levers(run.story());
  std::vector<LeverEffect> effects;
  for (const std::size_t lever : asked_levers()) {
    const Range values = compared(run, lever, day, step);
    auto low_story = with_value(run, lever, day, values.low);
    auto high_story = with_value(run, lever, day, values.high);
    const auto low = simulate(body, low_story, options);
    const auto high = simulate(body, high_story, options);
    if (!low->complete() || !high->complete()) throw std::runtime_error("sensitivity: a run did not finish");
    const double width = values.high - values.low;
    effects.push_back(
        scaled(run, lever, (high->c3(day) - low->c3(day)) / width, (high->c4(day) - low->c4(day)) / width));
  }
  return effects;
}

LevelSlopes level_slopes(const Run& run, std::size_t lever, const LeverShare& share, const std::vector<double>& days,
                         double rtol) {
  const Variation variation(run, lever, share);
  solve::Options options;
  options.rtol = rtol;
  options.atol.reserve(run.body().scales.size());
  for (const double scale : run.body().scales) options.atol.push_back(1e-2 * rtol * scale);
  std::vector<double> s(run.body().scales.size(), 0.0);
  solve::Course settling(s.size());
  solve::Solver solver(variation.pattern(), run.body().lu);
  // The start too has settled under the lever's value before day 0.
  if (share(-1.0) != 0.0) {
    if (solver.solve(variation, s, -3 * 8760.0, -1.0, options, settling).status != solve::Status::ok) {
      throw std::runtime_error("sensitivity: the settled start could not be varied");
    }
    settling.last_state(s.data());
  }
  LevelSlopes slopes;
  const auto c3 = static_cast<std::size_t>(run.body().network.species_index("C3"));
  const auto c4 = static_cast<std::size_t>(run.body().network.species_index("C4"));
  const std::vector<double> start = s;
  solve::Course course(s.size());
  const double last = days.empty() ? 0.0 : 24.0 * days.back();
  double from = 0.0;
  for (const solve::Segment& segment : scenario::Timeline(run.story()).segments()) {
    const double to = std::min(segment.end, last);
    if (to <= from) continue;
    if (solver.solve(variation, s, from, to, options, course).status != solve::Status::ok) {
      throw std::runtime_error("sensitivity: the variation could not be followed");
    }
    course.last_state(s.data());
    from = to;
  }
  for (const double day : days) {
    const bool at_start = course.empty() || day <= 0.0;
    slopes.c3.push_back(body::grams_per_litre("C3", at_start ? start[c3] : course.value(c3, 24.0 * day)));
    slopes.c4.push_back(body::grams_per_litre("C4", at_start ? start[c4] : course.value(c4, 24.0 * day)));
  }
  return slopes;
}

LeverEffect effect_by_variation(const Run& run, std::size_t lever, double day) {
  const Range values = compared(run, lever, day);
  const scenario::Timeline low(with_value(run, lever, day, values.low));
  const scenario::Timeline high(with_value(run, lever, day, values.high));
  const auto share = [&](double at) {
    return (high.value(lever, at) - low.value(lever, at)) / (values.high - values.low);
  };
  const LevelSlopes slopes = level_slopes(run, lever, share, {day}, 1e-6);
  return scaled(run, lever, slopes.c3[0], slopes.c4[0]);
}

void sort_by_size(std::vector<LeverEffect>& effects) {
  std::stable_sort(effects.begin(), effects.end(),
                   [](const LeverEffect& a, const LeverEffect& b) { return a.size() > b.size(); });
}

}  // namespace drawdown::study
