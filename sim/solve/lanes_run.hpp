// The run of eight people on a number type V of eight lanes. Included by lanes.cpp only, which compiles it for each
// width of the machine's registers: everything run() calls must be here to be inlined.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <memory>
#include <vector>

#include "network/bound.hpp"
#include "network/pack.hpp"
#include "solve/lanes.hpp"
#include "solve/rodas.hpp"
#include "solve/root.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::solve {

template <class V>
class Eight {
 public:
  static_assert(V::lanes == lane_count && sizeof(V) == lane_count * sizeof(double));

  explicit Eight(std::shared_ptr<const LanesShared> shared)
      : shared_(std::move(shared)),
        bound_(shared_->plan),
        lu_(shared_->lu),
        finder_(*shared_->plan, shared_->scales),
        stages_(shared_->plan->species) {
    for (auto* v : {&x_, &next_, &error_, &slope_, &dfdt_}) v->assign(shared_->plan->species, V(0.0));
    for (auto* v : {&values_, &slopes_}) v->assign(shared_->plan->inputs, V(0.0));
    jacobian_.assign(shared_->plan->pattern.entries.size(), V(0.0));
    kept_.assign(4 * shared_->plan->species, 0.0);
  }

  // `answer.read` has its size. The task's sizes have been looked at.
  void run(const LanesTask& task, LanesAnswer& answer) {
    answer.status = settle(task, answer);
    std::size_t at = 0;
    for (; at < task.times.size() && task.times[at] <= task.cuts.front(); ++at) read_start(task, at, answer);
    for (std::size_t s = 0; s + 1 < task.cuts.size() && answer.status == LanesStatus::ok; ++s) {
      const bool jump = take_inputs(task, s);
      const bool ramps = std::any_of(slopes_.begin(), slopes_.end(), [](const V& v) { return !(v == V(0.0)); });
      const V volume = bound_.volume(task.cuts[s]);
      bound_.bind(values_, slopes_, task.cuts[s]);
      bound_.dilute(volume, task.cuts[s], x_.data());
      // At an event the state just after it is meant.
      if (at > 0 && task.times[at - 1] >= task.cuts[s]) read_start(task, at - 1, answer);
      if (jump) dt_ = 0.0;
      answer.status = integrate(task, task.cuts[s], task.cuts[s + 1], ramps, at, answer);
    }
  }

 private:
  static constexpr std::size_t most_iterations = 60;

  // Of stretch s. Whether an input of anyone is at its start another than at the end of the stretch before. Most cuts
  // are none: one of eight begins or ends a ramp, and the length of step that was right before them is right after.
  bool take_inputs(const LanesTask& task, std::size_t s) {
    const std::size_t first = s * values_.size() * lane_count;
    bool jump = s == 0;
    for (std::size_t i = 0; i < values_.size(); ++i) {
      const V value = V::load(task.values.data() + first + i * lane_count);
      const V before = s == 0 ? value : values_[i] + slopes_[i] * (task.cuts[s] - task.cuts[s - 1]);
      const V beyond = magnitude(value - before) - 1e-9 * (1.0 + magnitude(value));
      jump = jump || !(largest_of(beyond) <= 0.0);
      values_[i] = value;
      slopes_[i] = V::load(task.slopes.data() + first + i * lane_count);
    }
    return jump;
  }

  LanesStatus settle(const LanesTask& task, LanesAnswer& answer) {
    for (std::size_t i = 0; i < values_.size(); ++i) {
      values_[i] = V::load(task.before.data() + i * lane_count);
      slopes_[i] = V(0.0);
    }
    bound_.bind(values_, slopes_, 0.0);
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i] = V(shared_->rest[i]);
    const RootStatus status = finder_.find(bound_, lu_, most_iterations, x_.data(), [](double) { return true; });
    answer.iterations = finder_.iterations;
    return status == RootStatus::found ? LanesStatus::ok : LanesStatus::not_settled;
  }

  // The control of integrate.cpp on the largest error of the eight. Instead of smaller and smaller steps past what is
  // not finite, and of a dense factorisation, it gives up.
  LanesStatus integrate(const LanesTask& task, double t0, double t1, bool ramps, std::size_t& at, LanesAnswer& answer) {
    double t = t0;
    double last_step = 0.0;
    double last_error = 1.0;
    bool known = false;
    bool first = true;
    bool refused = false;
    for (std::size_t tries = 0; t < t1; ++tries) {
      if (tries >= shared_->step_limit) return LanesStatus::step_limit;
      if (!known) bound_.linearise(t, x_.data(), slope_.data(), jacobian_.data(), dfdt_.data());
      known = true;
      if (dt_ <= 0.0) dt_ = first_step();
      const double step = std::min(dt_, t1 - t);
      const bool last = step >= (t1 - t) * (1.0 - 1e-12);
      if (!lu_.factorise(1.0 / (RodasCoefficients::gamma * step), jacobian_.data())) return LanesStatus::bad_pivot;
      stages_.step(
          x_.data(), t, step, slope_.data(), dfdt_.data(), ramps, next_.data(), error_.data(),
          [this](double when, const V* in, V* out) { bound_.derivative(when, in, out); },
          [this](V* b) { lu_.solve(b); });
      const V squares = squared_errors();
      if (!all_finite(squares)) return LanesStatus::non_finite;
      const double error = std::sqrt(largest_of(squares) / static_cast<double>(x_.size()));
      double factor = std::clamp(fourth_root(error) / 0.9, 0.2, 6.0);
      if (error > 1.0) {
        answer.rejected += 1;
        refused = true;
        dt_ = step / factor;
        if (dt_ < 1e-14 * std::max(1.0, std::abs(t))) return LanesStatus::step_too_small;
        continue;
      }
      if (!first) {
        const double predicted = last_step / step * fourth_root(error * error / last_error) / 0.9;
        factor = std::max(factor, std::clamp(predicted, 0.2, 6.0));
      }
      first = false;
      last_step = step;
      last_error = std::max(0.01, error);
      const double proposed = refused ? std::min(step / factor, step) : step / factor;
      // A step cut short by the end of the stretch says nothing against the one that was planned.
      dt_ = last ? std::max(proposed, dt_) : proposed;
      refused = false;
      const double to = last ? t1 : t + step;
      for (; at < task.times.size() && task.times[at] <= to; ++at) read(task, t, to, at, answer);
      if (task.course != nullptr) keep(task, t, to);
      std::swap(x_, next_);
      t = to;
      known = false;
      answer.steps += 1;
    }
    return LanesStatus::ok;
  }

  // Square roots are exact to the last bit everywhere.
  static double fourth_root(double x) { return std::sqrt(std::sqrt(x)); }

  [[nodiscard]] V weight(std::size_t i, const V& amount) const {
    return 1e-2 * shared_->rtol * shared_->scales[i] + shared_->rtol * amount;
  }
  [[nodiscard]] V squared_errors() const {
    V sum(0.0);
    for (std::size_t i = 0; i < x_.size(); ++i) {
      const V share = error_[i] / weight(i, larger(magnitude(x_[i]), magnitude(next_[i])));
      sum = sum + share * share;
    }
    return sum;
  }
  // As estimated_first_step() in integrate.cpp, the shortest of the eight. After linearise() at the start.
  [[nodiscard]] double first_step() const {
    V size(0.0);
    V speed(0.0);
    for (std::size_t i = 0; i < x_.size(); ++i) {
      const V per = 1.0 / weight(i, magnitude(x_[i]));
      size = size + (x_[i] * per) * (x_[i] * per);
      speed = speed + (slope_[i] * per) * (slope_[i] * per);
    }
    double shortest = 1e9;
    for (std::size_t lane = 0; lane < lane_count; ++lane) {
      const double fast = speed.of(lane);
      const bool none = !(fast > 0.0) || !(size.of(lane) > 0.0) || !std::isfinite(fast);
      const double own = none ? 1e-3 : std::max(1e-6, 0.01 * std::sqrt(size.of(lane) / fast));
      shortest = std::min(shortest, own);
    }
    return shortest;
  }

  void read_start(const LanesTask& task, std::size_t at, LanesAnswer& answer) const {
    double* out = answer.read.data() + at * task.species.size() * lane_count;
    for (const std::size_t i : task.species) {
      x_[i].store(out);
      out += lane_count;
    }
  }
  // The dense output of the step from `from` to `to` (course.hpp has the formula).
  void read(const LanesTask& task, double from, double to, std::size_t at, LanesAnswer& answer) const {
    double* out = answer.read.data() + at * task.species.size() * lane_count;
    const double s = (task.times[at] - from) / (to - from);
    const double r = 1.0 - s;
    for (const std::size_t i : task.species) {
      V c3;
      V c4;
      stages_.corrections_of(i, c3, c4);
      const V value = x_[i] * r + s * (next_[i] + r * (c3 + s * c4));
      value.store(out);
      out += lane_count;
    }
  }

  void keep(const LanesTask& task, double from, double to) {
    const std::size_t n = x_.size();
    for (std::size_t i = 0; i < n; ++i) {
      V c3;
      V c4;
      stages_.corrections_of(i, c3, c4);
      kept_[i] = x_[i].of(task.kept);
      kept_[n + i] = next_[i].of(task.kept);
      kept_[2 * n + i] = c3.of(task.kept);
      kept_[3 * n + i] = c4.of(task.kept);
    }
    const double* of = kept_.data();
    task.course->append(from, to, of, of + n, of + 2 * n, of + 3 * n);
  }

  std::shared_ptr<const LanesShared> shared_;
  network::Bound<V> bound_;
  SparseLu<V> lu_;
  RootFinder<V> finder_;
  RodasStages<V> stages_;
  std::vector<V> x_, next_, error_, slope_, dfdt_, values_, slopes_, jacobian_;
  std::vector<double> kept_;
  double dt_ = 0.0;  // the next step to try, hours; 0: to be estimated
};

}  // namespace drawdown::solve
