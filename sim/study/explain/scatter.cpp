#include "study/explain/scatter.hpp"

#include <cmath>

namespace drawdown::study::explain {

namespace {

double spread_of(double cv) {
  return log_sd({cv, 0.0});
}
// Uniform within a step of 0.01 g/L.
constexpr double rounding = 0.0029;

}  // namespace

File::File(const Series& series, const Bank& bank) : spread_(bank.spread) {
  for (std::size_t c = 0; c < columns; ++c) {
    const Variation v = c == at(Column::c3)   ? series.c3
                        : c == at(Column::c4) ? series.c4
                                              : Variation{column_rows[c].analytical, column_rows[c].within};
    within_[c] = spread_of(v.within);
    analytical_[c] = spread_of(v.analytical);
  }
  std::array<double, columns> sums{};
  std::array<double, columns> counts{};
  for (std::size_t j = 0; j < series.visits.size(); ++j) {
    const Visit& visit = series.visits[j];
    for (std::size_t c = 0; c < columns; ++c) {
      const auto& value = visit.values[c];
      if (!value) continue;
      const double x = value->value + column_rows[c].floor;
      Entry entry{visit.day, static_cast<Column>(c), std::log(x), 0.0, j};
      if (c == at(Column::c3) || c == at(Column::c4)) entry.rounding = rounding / x;
      (value->below ? hidden : seen).push_back(entry);
      sums[c] += entry.y;
      counts[c] += 1.0;
    }
  }
  usual = bank.usual;
  for (std::size_t c = 0; c < columns; ++c) {
    if (series.scale_known[c] || counts[c] == 0.0) continue;
    // Anywhere about the values, and by itself.
    usual[c] = sums[c] / counts[c];
    for (std::size_t d = 0; d < columns; ++d) spread_[c * columns + d] = spread_[d * columns + c] = 0.0;
    spread_[c * columns + c] = unknown_scale * unknown_scale;
  }
}

double File::in_time(double from, double to) const {
  const double apart = std::abs(from - to);
  return shared_in_time * std::exp(-apart / time_constant) + (apart < 0.5 ? 1.0 - shared_in_time : 0.0);
}

double File::own(Column a, Column b) const {
  return spread_[at(a) * columns + at(b)];
}

double File::together(const Target& a, const Entry& b) const {
  const std::size_t c = at(a.column);
  const std::size_t d = at(b.column);
  const double alike = c == d ? 1.0 : column_rows[c].of_plasma && column_rows[d].of_plasma ? shared_on_a_day : 0.0;
  return alike == 0.0 ? 0.0 : alike * within_[c] * within_[d] * in_time(a.day, b.day);
}

double File::alone(const Target& a) const {
  const std::size_t c = at(a.column);
  return within_[c] * within_[c] + analytical_[c] * analytical_[c];
}

double File::scatter(const Entry& a, const Entry& b) const {
  const double shared = together({a.day, a.column}, b);
  if (a.visit != b.visit || a.column != b.column) return shared;
  return shared + analytical_[at(a.column)] * analytical_[at(a.column)] + a.rounding * a.rounding;
}

Turned::Turned(const File& file, double own_share) : size(file.seen.size()), own_share_(own_share) {
  const auto n = static_cast<Eigen::Index>(size);
  Eigen::MatrixXd noise(n, n);
  Eigen::MatrixXd own(n, n);
  Eigen::VectorXd y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Entry& a = file.seen[static_cast<std::size_t>(i)];
    y[i] = a.y - file.usual[at(a.column)];
    for (Eigen::Index j = 0; j < n; ++j) {
      const Entry& b = file.seen[static_cast<std::size_t>(j)];
      noise(i, j) = file.scatter(a, b);
      own(i, j) = own_share * file.own(a.column, b.column);
    }
  }
  const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> axes(own, noise);
  turn_ = axes.eigenvectors().transpose();
  own_ = axes.eigenvalues().cwiseMax(0.0);
  const double log_noise = 2.0 * noise.llt().matrixL().toDenseMatrix().diagonal().array().log().sum();
  const Eigen::VectorXd turned = turn_ * y;
  constexpr double log_two_pi = 1.8378770664093453;
  for (Eigen::Index i = 0; i < n; ++i) {
    values.push_back(static_cast<float>(turned[i]));
    for (Eigen::Index j = 0; j < n; ++j) turn.push_back(static_cast<float>(turn_(i, j)));
  }
  for (std::size_t node = 0; node < node_scale.size(); ++node) {
    double log_det = log_noise;
    for (Eigen::Index i = 0; i < n; ++i) {
      const double variance = own_[i] + node_scale[node] * node_scale[node];
      log_det += std::log(variance);
      precision[node].push_back(static_cast<float>(1.0 / variance));
    }
    log_density[node] = std::log(node_weight[node]) - 0.5 * (log_det + static_cast<double>(size) * log_two_pi);
  }
}

Turned::Given Turned::given(const File& file, const Target& target) const {
  const auto n = static_cast<Eigen::Index>(size);
  Given out;
  Eigen::VectorXd with_own(n);
  Eigen::VectorXd with_noise(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Entry& b = file.seen[static_cast<std::size_t>(i)];
    with_own[i] = own_share_ * file.own(target.column, b.column);
    with_noise[i] = file.together(target, b);
  }
  for (std::size_t node = 0; node < node_scale.size(); ++node) {
    const double s2 = node_scale[node] * node_scale[node];
    const Eigen::VectorXd turned = turn_ * (with_own + s2 * with_noise);
    const Eigen::VectorXd slope = (turned.array() / (own_.array() + s2)).matrix();
    out.slope[node].assign(slope.data(), slope.data() + n);
    const double before = own_share_ * file.own(target.column, target.column) + s2 * file.alone(target);
    out.variance[node] = std::max(1e-9, before - slope.dot(turned));
  }
  return out;
}

}  // namespace drawdown::study::explain
