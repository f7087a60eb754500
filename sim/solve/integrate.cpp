// The one file that meets odeint: our step controller on odeint's dense-output driver, for our sparse stepper and for
// odeint's own dense one.
#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <stdexcept>
#include <type_traits>

#include "solve/rosenbrock.hpp"

namespace drawdown::solve {

const char* status_name(Status status) {
  switch (status) {
    case Status::ok:
      return "ok";
    case Status::step_too_small:
      return "step too small";
    case Status::non_finite:
      return "not a finite number";
    case Status::step_limit:
      return "too many steps";
    case Status::cancelled:
      return "cancelled";
  }
  return "unknown";
}

namespace {

// Why no further step is possible.
struct Stopped {
  Status status;
  int species;
};

// Square roots are exact to the last bit everywhere; std::pow is not.
double fourth_root(double x) {
  return std::sqrt(std::sqrt(x));
}

int first_non_finite(const State& x) {
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (!std::isfinite(x[i])) return static_cast<int>(i);
  }
  return -1;
}

// odeint's rosenbrock4 wants a pair of functors on dense matrices.
struct DenseDerivative {
  const System* system;
  Statistics* statistics;
  void operator()(const State& x, State& dxdt, double t) const {
    system->derivative(t, &x[0], &dxdt[0]);
    statistics->derivative_calls += 1;
  }
};
struct DenseJacobian {
  const System* system;
  Statistics* statistics;
  std::vector<double>* values;
  void operator()(const State& x, ublas::matrix<double>& matrix, double t, State& dfdt) const {
    system->jacobian(t, &x[0], values->data(), &dfdt[0]);
    statistics->jacobian_calls += 1;
    matrix.clear();
    const auto& entries = system->pattern().entries;
    for (std::size_t e = 0; e < entries.size(); ++e) {
      matrix(static_cast<std::size_t>(entries[e].first), static_cast<std::size_t>(entries[e].second)) += (*values)[e];
    }
  }
};

// Error control after Hairer & Wanner (section IV.7): weighted root-mean-square norm, one absolute tolerance for each
// species, predictive (Gustafsson) step choice, growth at most fivefold, shrinkage at most sixfold. The last step of a
// stretch is clamped to end on its boundary.
template <class Stepper>
class Controller {
 public:
  using stepper_type = Stepper;

  Controller(Stepper& stepper, const System& system, const Options& options, double end, std::size_t n)
      : stepper_(&stepper), system_(&system), options_(&options), end_(end), error_(n) {}

  stepper_type& stepper() { return *stepper_; }

  template <class Driven>
  odeint::controlled_step_result try_step(const Driven& system, const State& x, double& t, State& xout, double& dt) {
    double step = std::min(dt, end_ - t);
    if (options_->largest_step > 0.0) step = std::min(step, options_->largest_step);
    const bool last = step >= (end_ - t) * (1.0 - 1e-12);
    stepper_->do_step(system, x, t, xout, step, error_);
    if (options_->fixed_step > 0.0) {
      t = last ? end_ : t + step;
      return odeint::success;
    }
    const double error = norm(x, xout);
    if (!std::isfinite(error)) {
      good_steps_ = 0;
      if (++bad_tries_ > 20) return stop({Status::non_finite, culprit(x, t, step, xout)});
      return refuse(dt, step * 0.25);
    }
    // Creeping up to the place where the numbers end would refuse and accept by turns for ever: the count of bad tries
    // is only forgotten after a stretch of good steps.
    if (++good_steps_ >= 20) bad_tries_ = 0;
    double factor = std::clamp(fourth_root(error) / 0.9, 0.2, 6.0);
    if (error > 1.0) {
      const double smaller = step / factor;
      if (smaller < 1e-14 * std::max(1.0, std::abs(t))) return stop({Status::step_too_small, -1});
      return refuse(dt, smaller);
    }
    if (!first_) {
      const double predicted = std::clamp(last_step_ / step * fourth_root(error * error / last_error_) / 0.9, 0.2, 6.0);
      factor = std::max(factor, predicted);
    }
    first_ = false;
    last_step_ = step;
    last_error_ = std::max(0.01, error);
    const double proposed = step / factor;
    dt = refused_ ? std::min(proposed, step) : proposed;
    refused_ = false;
    refusals_ = 0;
    t = last ? end_ : t + step;
    return odeint::success;
  }

  std::size_t rejected = 0;
  std::optional<Stopped> stopped;  // once set, what the driver calls its step is none

 private:
  // odeint's driver would try again after a failure: it is told that all is well, and run() asks `stopped`.
  odeint::controlled_step_result stop(Stopped why) {
    stopped = why;
    return odeint::success;
  }
  odeint::controlled_step_result refuse(double& dt, double smaller) {
    rejected += 1;
    // odeint's driver throws at 500 in a row.
    if (++refusals_ > 400) return stop({Status::step_too_small, -1});
    refused_ = true;
    dt = smaller;
    if constexpr (std::is_same_v<Stepper, SparseRosenbrock>) stepper_->reuse_start();
    return odeint::fail;
  }
  // Which species first stopped being a number: one bad slope spoils the whole state through the linear solve, so the
  // slopes are asked before the state.
  int culprit(const State& x, double t, double step, const State& xout) const {
    State slope(x.size());
    for (const double when : {t, t + step}) {
      system_->derivative(when, &x[0], &slope[0]);
      if (const int bad = first_non_finite(slope); bad >= 0) return bad;
    }
    return first_non_finite(xout);
  }
  double norm(const State& x, const State& xout) const {
    double sum = 0.0;
    for (std::size_t i = 0; i < x.size(); ++i) {
      const double atol = options_->atol.empty() ? 1e-3 * options_->rtol : options_->atol[i];
      const double weight = atol + options_->rtol * std::max(std::abs(x[i]), std::abs(xout[i]));
      sum += (error_[i] / weight) * (error_[i] / weight);
    }
    return std::sqrt(sum / static_cast<double>(x.size()));
  }

  Stepper* stepper_;
  const System* system_;
  const Options* options_;
  double end_;
  State error_;
  bool first_ = true;
  bool refused_ = false;
  int refusals_ = 0;  // in a row
  int bad_tries_ = 0;
  int good_steps_ = 0;
  double last_step_ = 0.0;
  double last_error_ = 1.0;
};

// Hairer, Norsett & Wanner I, section II.4: a step over which the slope changes the state by one part in a hundred,
// in the solver's own norm.
double estimated_first_step(const System& system, const State& x, double t, const Options& options) {
  State slope(x.size());
  system.derivative(t, &x[0], &slope[0]);
  double size = 0.0;
  double speed = 0.0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double atol = options.atol.empty() ? 1e-3 * options.rtol : options.atol[i];
    const double weight = atol + options.rtol * std::abs(x[i]);
    size += (x[i] / weight) * (x[i] / weight);
    speed += (slope[i] / weight) * (slope[i] / weight);
  }
  if (!(speed > 0.0) || !(size > 0.0) || !std::isfinite(speed)) return 1e-3;
  return std::max(1e-6, 0.01 * std::sqrt(size / speed));
}

template <class Stepper>
struct Corrections;
template <>
struct Corrections<SparseRosenbrock> {
  static void read(SparseRosenbrock& stepper, const State&, const State&, State& c3, State& c4) {
    c3 = stepper.cont3;
    c4 = stepper.cont4;
  }
};
// odeint keeps its correction vectors private: two interior values give them back exactly.
template <>
struct Corrections<DenseRosenbrock> {
  static void read(DenseRosenbrock& stepper, const State& x0, const State& x1, State& c3, State& c4) {
    State third(x0.size());
    State half(x0.size());
    stepper.calc_state(0.25, third, x0, 0.0, x1, 1.0);
    stepper.calc_state(0.5, half, x0, 0.0, x1, 1.0);
    for (std::size_t i = 0; i < x0.size(); ++i) {
      const double at_quarter = ((third[i] - 0.75 * x0[i]) / 0.25 - x1[i]) / 0.75;
      const double at_half = ((half[i] - 0.5 * x0[i]) / 0.5 - x1[i]) / 0.5;
      c4[i] = (at_half - at_quarter) / 0.25;
      c3[i] = at_half - 0.5 * c4[i];
    }
  }
};

template <class Stepper, class Driven>
Outcome run(Stepper& stepper, Driven driven, const System& system, const std::vector<double>& start, double t0,
            double t1, const Options& options, Course& course) {
  const std::size_t n = start.size();
  State x(n);
  std::copy(start.begin(), start.end(), x.begin());
  Outcome outcome;
  outcome.time = t0;
  if (const int bad = first_non_finite(x); bad >= 0) {
    outcome.status = Status::non_finite;
    outcome.species = bad;
    return outcome;
  }
  double dt = options.first_step;
  if (options.fixed_step > 0.0) {
    dt = options.fixed_step;
  } else if (dt <= 0.0) {
    dt = estimated_first_step(system, x, t0, options);
  }
  using Control = Controller<Stepper>;
  Control controller(stepper, system, options, t1, n);
  odeint::rosenbrock4_dense_output<std::reference_wrapper<Control>> driver{std::ref(controller)};
  driver.initialize(x, t0, dt);
  State c3(n);
  State c4(n);
  while (driver.current_time() < t1) {
    if (outcome.statistics.steps >= options.step_limit) {
      outcome.status = Status::step_limit;
      break;
    }
    const auto [from, to] = driver.do_step(driven);
    if (controller.stopped) {
      outcome.status = controller.stopped->status;
      outcome.species = controller.stopped->species;
      break;
    }
    outcome.statistics.steps += 1;
    outcome.time = to;
    Corrections<Stepper>::read(stepper, driver.previous_state(), driver.current_state(), c3, c4);
    course.append(from, to, &driver.previous_state()[0], &driver.current_state()[0], &c3[0], &c4[0]);
    if (options.keep_going && !options.keep_going(to)) {
      outcome.status = Status::cancelled;
      break;
    }
  }
  outcome.statistics.rejected = controller.rejected;
  return outcome;
}

}  // namespace

struct Solver::Workspace {
  Workspace(const network::Pattern& given, std::shared_ptr<const LuPlan> lu)
      : pattern(given), stepper(pattern, std::move(lu)) {}
  network::Pattern pattern;
  SparseRosenbrock stepper;
};

Solver::Solver(const network::Pattern& pattern, const std::shared_ptr<const LuPlan>& lu)
    : workspace_(std::make_unique<Workspace>(pattern, lu)) {
  if (lu->size != pattern.size) throw std::logic_error("solve: factorisation of another pattern");
}
Solver::~Solver() = default;

Outcome Solver::solve(const System& system, const std::vector<double>& start, double t0, double t1,
                      const Options& options, Course& course) {
  const std::size_t n = workspace_->pattern.size;
  if (start.size() != n || course.species_count() != n || system.pattern().size != n ||
      (!options.atol.empty() && options.atol.size() != n)) {
    throw std::logic_error("solve: sizes of state, tolerances, course and system differ");
  }
  if (!(t1 > t0)) throw std::logic_error("solve: the end must come after the start");
  if (options.method == Method::dense_reference) {
    Statistics calls;
    std::vector<double> values(system.pattern().entries.size());
    auto driven = std::make_pair(DenseDerivative{&system, &calls}, DenseJacobian{&system, &calls, &values});
    DenseRosenbrock stepper;
    Outcome outcome = run(stepper, std::ref(driven), system, start, t0, t1, options, course);
    outcome.statistics.derivative_calls = calls.derivative_calls;
    outcome.statistics.jacobian_calls = calls.jacobian_calls;
    return outcome;
  }
  SparseRosenbrock& stepper = workspace_->stepper;
  stepper.begin();
  Outcome outcome = run(stepper, std::cref(system), system, start, t0, t1, options, course);
  outcome.statistics.derivative_calls = stepper.statistics.derivative_calls;
  outcome.statistics.jacobian_calls = stepper.statistics.jacobian_calls;
  outcome.statistics.dense_fallbacks = stepper.statistics.dense_fallbacks;
  return outcome;
}

Outcome solve(const System& system, const std::vector<double>& start, double t0, double t1, const Options& options,
              Course& course) {
  Solver solver(system.pattern(), std::make_shared<const LuPlan>(system.pattern()));
  return solver.solve(system, start, t0, t1, options, course);
}

}  // namespace drawdown::solve
