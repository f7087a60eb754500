// The trajectory: every accepted step with its dense output, so that any species can be asked for at any time without
// integrating again. Between the ends of a step the value is the cubic-plus correction of RODAS (order 3 at least):
//   x(s) = (1 - s) x0 + s (x1 + (1 - s) (c3 + s c4)),  s = (t - t0) / (t1 - t0).
#pragma once

#include <cstddef>
#include <vector>

namespace drawdown::solve {

class Course {
 public:
  explicit Course(std::size_t species_count = 0) : species_count_(species_count) {}

  [[nodiscard]] bool empty() const { return starts_.empty(); }
  [[nodiscard]] std::size_t species_count() const { return species_count_; }
  [[nodiscard]] std::size_t step_count() const { return starts_.size(); }
  // Hours. Only when not empty.
  [[nodiscard]] double end_time() const { return ends_.back(); }
  [[nodiscard]] double step_start(std::size_t step) const { return starts_.at(step); }
  [[nodiscard]] double step_end(std::size_t step) const { return ends_.at(step); }

  // Throw std::logic_error when empty. Times outside the course are answered with its nearest end. At an event the
  // state just after it is meant.
  [[nodiscard]] double value(std::size_t species, double t) const;
  [[nodiscard]] std::vector<double> state(double t) const;
  // The same, written to x[0 .. species_count).
  void state(double t, double* x) const;

  // The state at the end of a step, and of the last one, written to x. Only when not empty.
  void end_state(std::size_t step, double* x) const;
  void last_state(double* x) const { end_state(step_count() - 1, x); }

  // Each array has species_count entries.
  void append(double t0, double t1, const double* x0, const double* x1, const double* c3, const double* c4);

 private:
  [[nodiscard]] std::size_t step_at(double t) const;
  std::size_t species_count_ = 0;
  std::vector<double> starts_;
  std::vector<double> ends_;
  std::vector<double> data_;  // per step: x0, x1, c3, c4
};

}  // namespace drawdown::solve
