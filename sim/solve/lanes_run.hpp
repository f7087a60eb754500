// The run of eight lanes on a number type V. Included by lanes.cpp only, which compiles it for each width of the
// machine's registers: everything run() calls must be here to be inlined.
#pragma once

#include <algorithm>
#include <array>
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
    for (auto* v : {&x_, &next_, &error_, &slope_, &dfdt_, &c3_, &c4_}) v->assign(shared_->plan->species, V(0.0));
    inputs_.assign(shared_->plan->inputs, V(0.0));
    jacobian_.assign(shared_->plan->pattern.entries.size(), V(0.0));
    kept_.assign(4 * shared_->plan->species, 0.0);
  }

  // Makes room for the task's people.
  void prepare(const LanesTask& task) { settled_.resize(task.people.size() * x_.size()); }

  // After prepare(). `answer` has its sizes, and the task's have been looked at.
  void run(const LanesTask& task, LanesAnswer& answer) {
    for (std::size_t first = 0; first < task.people.size() + task.resting.size(); first += lane_count) {
      settle_from(first, task, answer);
    }
    // A lane nobody takes stands still somewhere harmless.
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i] = V(shared_->rest[i]);
    waiting_ = 0;
    for (std::size_t l = 0; l < lane_count; ++l) {
      lanes_[l] = Lane{};
      take_next(l, task, answer);
    }
    while (std::any_of(lanes_.begin(), lanes_.end(), [](const Lane& lane) { return lane.busy; })) step(task, answer);
  }

 private:
  static constexpr std::size_t most_iterations = 60;

  // One person's way through their segments. A lane that is not busy repeats its last step, and nobody looks.
  struct Lane {
    bool busy = false;
    std::size_t person = 0;
    std::size_t segment = 0;
    std::size_t read = 0;   // times read
    std::size_t tries = 0;  // of steps, in this segment
    double t = 0.0;         // hours
    double end = 1.0;       // of the segment
    double dt = 1.0;        // the next step to try, hours; 0: to be estimated
    // Of the controller.
    double last_step = 0.0;
    double last_error = 1.0;
    bool first = true;
    bool refused = false;
    // The step being tried.
    double step = 1.0;
    bool last = false;
    double to = 0.0;
    bool accepted = false;
  };

  // People from number `first`, those who only rest after the others.
  void settle_from(std::size_t first, const LanesTask& task, LanesAnswer& answer) {
    const std::size_t running = task.people.size();
    const std::size_t all = running + task.resting.size();
    for (std::size_t l = 0; l < lane_count; ++l) {
      const std::size_t k = std::min(first + l, all - 1);
      const double* levers = k < running ? task.people[k].before.data() : task.resting[k - running].data();
      for (std::size_t i = 0; i < inputs_.size(); ++i) inputs_[i].set(l, levers[i]);
    }
    bound_.bind(inputs_, {}, 0.0);
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i] = V(shared_->rest[i]);
    (void)finder_.find(bound_, lu_, most_iterations, x_.data(), [](double) { return true; });
    for (std::size_t l = 0; l < lane_count && first + l < all; ++l) {
      const std::size_t k = first + l;
      LanesOutcome& outcome = k < running ? answer.people[k] : answer.resting[k - running];
      outcome.iterations = finder_.iterations[l];
      if (finder_.status[l] != RootStatus::found) outcome.status = LanesStatus::not_settled;
      if (k < running) {
        for (std::size_t i = 0; i < x_.size(); ++i) settled_[k * x_.size() + i] = x_[i].of(l);
        continue;
      }
      double* out = answer.rest.data() + (k - running) * task.species.size();
      for (const std::size_t i : task.species) *out++ = x_[i].of(l);
    }
  }

  void take_next(std::size_t l, const LanesTask& task, LanesAnswer& answer) {
    Lane& lane = lanes_[l];
    while (waiting_ < task.people.size() && answer.people[waiting_].status != LanesStatus::ok) waiting_ += 1;
    lane.busy = waiting_ < task.people.size();
    if (!lane.busy) return;
    lane.person = waiting_++;
    const double* from = settled_.data() + lane.person * x_.size();
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i].set(l, from[i]);
    lane.t = task.people[lane.person].segments.front().start;
    lane.read = 0;
    double* out = answer.read.data() + lane.person * task.times.size() * task.species.size();
    for (; lane.read < task.times.size() && task.times[lane.read] <= lane.t; ++lane.read) {
      for (const std::size_t i : task.species) *out++ = from[i];
    }
    begin(l, 0, task, answer);
  }

  // Most cuts are no jump: a ramp begins or ends, and the length of step that was right before is right after.
  void begin(std::size_t l, std::size_t segment, const LanesTask& task, LanesAnswer& answer) {
    const std::vector<Segment>& segments = task.people[lanes_[l].person].segments;
    const Segment& now = segments[segment];
    bool jump = segment == 0;
    if (segment > 0) {
      const Segment& before = segments[segment - 1];
      for (std::size_t i = 0; i < inputs_.size(); ++i) {
        const double was = before.values[i] + before.slopes[i] * (before.end - before.start);
        jump = jump || !(std::abs(now.values[i] - was) <= 1e-9 * (1.0 + std::abs(now.values[i])));
      }
    }
    bound_.bind_lane(l, now.values.data(), now.slopes.data(), now.start);
    Lane& lane = lanes_[l];
    dilute(l, segment, task, answer);
    lane.segment = segment;
    lane.end = now.end;
    lane.tries = 0;
    lane.first = true;
    lane.refused = false;
    if (jump) lane.dt = 0.0;
  }

  // The plasma volume as a share of the usual, of inputs that stood so at the start of a stretch and moved on.
  [[nodiscard]] double volume_of(const double* values, const double* slopes, double hours) const {
    double share = 1.0;
    for (const network::Plan::InputFactor& f : shared_->plan->volume) {
      const double now = values[f.input] + (slopes == nullptr ? 0.0 : slopes[f.input] * hours);
      share *= network::factor_value(f.kind, now, f.a, f.b).value;
    }
    return share;
  }
  // Where the volume jumps as a segment begins: the same grams in other litres. What is read on that day is the state
  // just after.
  void dilute(std::size_t l, std::size_t segment, const LanesTask& task, LanesAnswer& answer) {
    const Lane& lane = lanes_[l];
    const auto& person = task.people[lane.person];
    const Segment& now = person.segments[segment];
    const Segment* before = segment == 0 ? nullptr : &person.segments[segment - 1];
    const double was = before == nullptr
                           ? volume_of(person.before.data(), nullptr, 0.0)
                           : volume_of(before->values.data(), before->slopes.data(), before->end - before->start);
    const double by = was / volume_of(now.values.data(), nullptr, 0.0);
    if ((by - 1.0) * (by - 1.0) < 1e-24) return;
    for (const network::Plan::Diluted& d : shared_->plan->diluted) {
      x_[d.species].set(l, x_[d.species].of(l) * by);
    }
    if (lane.read == 0 || task.times[lane.read - 1] < now.start) return;
    double* out = answer.read.data() + (lane.person * task.times.size() + lane.read - 1) * task.species.size();
    for (const std::size_t i : task.species) *out++ = x_[i].of(l);
  }

  // Tries one step of every lane.
  void step(const LanesTask& task, LanesAnswer& answer) {
    std::array<double, lane_count> numbers{};
    for (std::size_t l = 0; l < lane_count; ++l) numbers[l] = lanes_[l].t;
    const V t = network::from_lanes<V>(numbers);
    bound_.linearise(t, x_.data(), slope_.data(), jacobian_.data(), dfdt_.data());
    estimate_first_steps();
    for (std::size_t l = 0; l < lane_count; ++l) {
      Lane& lane = lanes_[l];
      if (lane.busy) {
        lane.step = std::min(lane.dt, lane.end - lane.t);
        lane.last = lane.step >= (lane.end - lane.t) * (1.0 - 1e-12);
        lane.to = lane.last ? lane.end : lane.t + lane.step;
      }
      numbers[l] = lane.step;
    }
    const V dt = network::from_lanes<V>(numbers);
    (void)lu_.factorise(1.0 / (RodasCoefficients::gamma * dt), jacobian_.data());
    stages_.step(
        x_.data(), t, dt, slope_.data(), dfdt_.data(), true, next_.data(), error_.data(), bound_.room(),
        [this](const V& when, const V* in, V* out) { bound_.derivative(when, in, out); },
        [this](V* b) { lu_.solve(b); });
    const V squares = squared_errors();
    for (std::size_t l = 0; l < lane_count; ++l) {
      Lane& lane = lanes_[l];
      lane.accepted = lane.busy && judge(l, squares.of(l), answer.people[lane.person]);
      numbers[l] = lane.accepted ? -1.0 : 1.0;
    }
    read(task, answer);
    const V stays = network::from_lanes<V>(numbers);
    for (std::size_t i = 0; i < x_.size(); ++i) x_[i] = if_negative(stays, next_[i], x_[i]);
    for (std::size_t l = 0; l < lane_count; ++l) move_on(l, task, answer);
  }

  // The control of integrate.cpp; whether the step is accepted. Instead of smaller and smaller steps past what is not
  // finite, and of a dense factorisation, it gives up.
  bool judge(std::size_t l, double squares, LanesOutcome& outcome) {
    Lane& lane = lanes_[l];
    if (!(lu_.trust().of(l) > 0.0))
      outcome.status = LanesStatus::bad_pivot;
    else if (!std::isfinite(squares))
      outcome.status = LanesStatus::non_finite;
    if (outcome.status != LanesStatus::ok) return false;
    lane.tries += 1;
    const double error = std::sqrt(squares / static_cast<double>(x_.size()));
    double factor = std::clamp(fourth_root(error) / 0.9, 0.2, 6.0);
    if (error > 1.0) {
      outcome.rejected += 1;
      lane.refused = true;
      lane.dt = lane.step / factor;
      if (lane.dt < 1e-14 * std::max(1.0, std::abs(lane.t))) outcome.status = LanesStatus::step_too_small;
      return false;
    }
    if (!lane.first) {
      const double predicted = lane.last_step / lane.step * fourth_root(error * error / lane.last_error) / 0.9;
      factor = std::max(factor, std::clamp(predicted, 0.2, 6.0));
    }
    lane.first = false;
    lane.last_step = lane.step;
    lane.last_error = std::max(0.01, error);
    const double proposed = lane.refused ? std::min(lane.step / factor, lane.step) : lane.step / factor;
    // A step cut short by the end of the segment says nothing against the one that was planned.
    lane.dt = lane.last ? std::max(proposed, lane.dt) : proposed;
    lane.refused = false;
    outcome.steps += 1;
    return true;
  }

  // To the next segment or person, where the lane's own is through.
  void move_on(std::size_t l, const LanesTask& task, LanesAnswer& answer) {
    Lane& lane = lanes_[l];
    if (!lane.busy) return;
    LanesOutcome& outcome = answer.people[lane.person];
    if (lane.accepted) lane.t = lane.to;
    if (outcome.status == LanesStatus::ok && !(lane.t < lane.end)) {
      if (lane.segment + 1 < task.people[lane.person].segments.size()) {
        begin(l, lane.segment + 1, task, answer);
      } else {
        take_next(l, task, answer);
      }
      return;
    }
    if (outcome.status == LanesStatus::ok && lane.tries >= shared_->step_limit)
      outcome.status = LanesStatus::step_limit;
    if (outcome.status != LanesStatus::ok) take_next(l, task, answer);
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
  // As estimated_first_step() in integrate.cpp. After linearise() at the start.
  void estimate_first_steps() {
    const auto wanted = [](const Lane& lane) { return lane.busy && lane.dt <= 0.0; };
    if (std::none_of(lanes_.begin(), lanes_.end(), wanted)) return;
    V size(0.0);
    V speed(0.0);
    for (std::size_t i = 0; i < x_.size(); ++i) {
      const V per = 1.0 / weight(i, magnitude(x_[i]));
      size = size + (x_[i] * per) * (x_[i] * per);
      speed = speed + (slope_[i] * per) * (slope_[i] * per);
    }
    for (std::size_t l = 0; l < lane_count; ++l) {
      if (!wanted(lanes_[l])) continue;
      const double fast = speed.of(l);
      const bool none = !(fast > 0.0) || !(size.of(l) > 0.0) || !std::isfinite(fast);
      lanes_[l].dt = none ? 1e-3 : std::max(1e-6, 0.01 * std::sqrt(size.of(l) / fast));
    }
  }

  // What was asked for of the steps that are accepted, from their dense output (course.hpp has the formula).
  void read(const LanesTask& task, LanesAnswer& answer) {
    bool known = false;
    for (std::size_t l = 0; l < lane_count; ++l) {
      Lane& lane = lanes_[l];
      if (!lane.accepted) continue;
      if (task.course != nullptr && task.kept == lane.person) keep(l, *task.course);
      if (lane.read >= task.times.size() || task.times[lane.read] > lane.to) continue;
      if (!known) {
        for (const std::size_t i : task.species) stages_.corrections_of(i, c3_[i], c4_[i]);
      }
      known = true;
      double* out = answer.read.data() + (lane.person * task.times.size() + lane.read) * task.species.size();
      for (; lane.read < task.times.size() && task.times[lane.read] <= lane.to; ++lane.read) {
        const double s = (task.times[lane.read] - lane.t) / (lane.to - lane.t);
        const double r = 1.0 - s;
        for (const std::size_t i : task.species) {
          *out++ = x_[i].of(l) * r + s * (next_[i].of(l) + r * (c3_[i].of(l) + s * c4_[i].of(l)));
        }
      }
    }
  }

  void keep(std::size_t l, Course& course) {
    const std::size_t n = x_.size();
    for (std::size_t i = 0; i < n; ++i) {
      V c3;
      V c4;
      stages_.corrections_of(i, c3, c4);
      kept_[i] = x_[i].of(l);
      kept_[n + i] = next_[i].of(l);
      kept_[2 * n + i] = c3.of(l);
      kept_[3 * n + i] = c4.of(l);
    }
    const double* of = kept_.data();
    course.append(lanes_[l].t, lanes_[l].to, of, of + n, of + 2 * n, of + 3 * n);
  }

  std::shared_ptr<const LanesShared> shared_;
  network::Bound<V> bound_;
  SparseLu<V> lu_;
  RootFinder<V> finder_;
  RodasStages<V> stages_;
  std::vector<V> x_, next_, error_, slope_, dfdt_, c3_, c4_, inputs_, jacobian_;
  std::vector<double> settled_;  // people x species
  std::vector<double> kept_;
  std::array<Lane, lane_count> lanes_{};
  std::size_t waiting_ = 0;  // the next person to take up
};

}  // namespace drawdown::solve
