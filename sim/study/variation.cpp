// The linear system along a run.
#include "study/variation.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

namespace drawdown::study {

namespace {

// The plan of a plasma that dilutes nothing: a step of a lever over the whole story moves no volume in it.
std::shared_ptr<const network::Plan> at_usual_volume(const network::Plan& plan) {
  network::Plan still = plan;
  still.volume.clear();
  return std::make_shared<const network::Plan>(std::move(still));
}

}  // namespace

Variation::Variation(const Run& run, std::vector<double> slopes, Push push)
    : run_(run),
      slopes_(std::move(slopes)),
      push_of_(std::move(push)),
      now_(run.story()),
      bound_(at_usual_volume(*run.body().plan)),
      x_(bound_.plan().species),
      values_(bound_.pattern().entries.size()),
      rates_(bound_.plan().reactions()),
      along_(bound_.plan().species),
      push_(bound_.plan().species) {}

void Variation::derivative(double t, const double* s, double* dsdt) const {
  along_run(t);
  std::copy(push_.begin(), push_.end(), dsdt);
  const auto& entries = bound_.pattern().entries;
  for (std::size_t e = 0; e < entries.size(); ++e) dsdt[entries[e].first] += values_[e] * s[entries[e].second];
}

void Variation::jacobian(double t, const double* s, double* values, double* dfdt) const {
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

// Jacobian and push at time t (hours; before 0 the settled start).
void Variation::along_run(double t) const {
  const double day = std::max(t, 0.0) / 24.0;
  run_.course().state(std::max(t, 0.0), x_.data());
  const std::vector<double> levers = t < 0.0 ? run_.story().levers : now_.levers_at(day);
  bound_.bind(levers, slopes_, t);
  bound_.rates(t, x_.data(), rates_.data());
  bound_.jacobian(t, x_.data(), values_.data(), along_.data());
  push_of_(t, {x_, rates_, along_}, push_);
}

void follow(const Variation& variation, const Run& run, solve::Solver& solver, const solve::Options& options,
            double from, double to, std::vector<double>& s, solve::Course& course) {
  for (const solve::Segment& segment : scenario::Timeline(run.story()).segments()) {
    const double end = std::min(segment.end, to);
    if (end <= from) continue;
    if (solver.solve(variation, s, from, end, options, course).status != solve::Status::ok) {
      throw std::runtime_error("the variation could not be followed");
    }
    course.last_state(s.data());
    from = end;
  }
}

}  // namespace drawdown::study
