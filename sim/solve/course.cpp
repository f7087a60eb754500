// Storing steps and reading between them.
#include "solve/course.hpp"

#include <algorithm>
#include <stdexcept>

namespace drawdown::solve {

void Course::append(double t0, double t1, const double* x0, const double* x1, const double* c3, const double* c4) {
  starts_.push_back(t0);
  ends_.push_back(t1);
  for (const double* part : {x0, x1, c3, c4}) data_.insert(data_.end(), part, part + species_count_);
}

std::size_t Course::step_at(double t) const {
  if (starts_.empty()) throw std::logic_error("an empty course was asked for a value");
  const auto after = std::upper_bound(starts_.begin(), starts_.end(), t);
  return after == starts_.begin() ? 0 : static_cast<std::size_t>(after - starts_.begin()) - 1;
}

namespace {
double clamped_fraction(double t, double t0, double t1) {
  return std::clamp((t - t0) / (t1 - t0), 0.0, 1.0);
}
double between(double s, double x0, double x1, double c3, double c4) {
  const double r = 1.0 - s;
  return x0 * r + s * (x1 + r * (c3 + s * c4));
}
}  // namespace

double Course::value(std::size_t species, double t) const {
  const std::size_t step = step_at(t);
  const double* d = data_.data() + step * 4 * species_count_ + species;
  return between(clamped_fraction(t, starts_[step], ends_[step]), d[0], d[species_count_], d[2 * species_count_],
                 d[3 * species_count_]);
}

void Course::state(double t, double* x) const {
  const std::size_t step = step_at(t);
  const double s = clamped_fraction(t, starts_[step], ends_[step]);
  const double* d = data_.data() + step * 4 * species_count_;
  for (std::size_t i = 0; i < species_count_; ++i, ++d) {
    x[i] = between(s, d[0], d[species_count_], d[2 * species_count_], d[3 * species_count_]);
  }
}

void Course::end_state(std::size_t step, double* x) const {
  const double* d = data_.data() + step * 4 * species_count_ + species_count_;
  std::copy(d, d + species_count_, x);
}

std::vector<double> Course::state(double t) const {
  std::vector<double> x(species_count_);
  state(t, x.data());
  return x;
}

}  // namespace drawdown::solve
