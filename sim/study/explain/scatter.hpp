// A file's own normal distribution: its values, what they scatter about, and a turn of the axes in which scatter and
// own level are independent, so that each candidate costs one product with a matrix.
#pragma once

#include <Eigen/Dense>
#include <vector>

#include "study/explain/weigh.hpp"

namespace drawdown::study::explain {

struct Entry {
  double day = 0.0;
  Column column = Column::c3;
  double y = 0.0;         // logarithm, with the column's floor
  double rounding = 0.0;  // standard deviation of y by rounding
  std::size_t visit = 0;
};
// A value to come, or one hidden below its limit.
struct Target {
  double day = 0.0;
  Column column = Column::c3;
};

inline constexpr std::array<double, 3> node_scale{0.59452, 1.0, 1.68203};  // exp(-0.52, 0, 0.52)
inline constexpr std::array<double, 3> node_weight{1.0 / 6.0, 2.0 / 3.0, 1.0 / 6.0};
inline constexpr double kept_near = 0.85;  // h
inline constexpr double strength = 0.2;    // t
inline constexpr double shared_in_time = 0.3;
inline constexpr double time_constant = 45.0;  // days
inline constexpr double shared_on_a_day = 0.4;
inline constexpr double unknown_scale = 3.0;  // standard deviation of the own level where the unit is not known
inline constexpr std::size_t onsets = 24;     // worked out at once; a person has so many, or a few times as many

class File {
 public:
  File(const Series& series, const Bank& bank);

  std::vector<Entry> seen, hidden;
  std::array<double, columns> usual{};  // middle of the own level

  // Covariances. Of two values' scatter at s = 1; of their own levels.
  [[nodiscard]] double scatter(const Entry& a, const Entry& b) const;
  [[nodiscard]] double own(Column a, Column b) const;
  [[nodiscard]] double together(const Target& a, const Entry& b) const;  // scatter that both share
  [[nodiscard]] double alone(const Target& a) const;                     // scatter of one value

 private:
  [[nodiscard]] double in_time(double from, double to) const;
  std::array<double, columns * columns> spread_{};
  std::array<double, columns> within_{}, analytical_{};
};

// Own levels spread by `own_share` of their covariance.
class Turned {
 public:
  Turned(const File& file, double own_share);

  std::size_t size = 0;
  std::vector<float> turn;                      // size x size, row by row
  std::vector<float> values;                    // turned y - usual
  std::array<std::vector<float>, 3> precision;  // by node, of each turned value
  std::array<double, 3> log_density{};          // by node, without the distance: the weight of the node is in it
  struct Given {                                // of a target, given the seen values, by node
    std::array<std::vector<double>, 3> slope;   // on the turned distance
    std::array<double, 3> variance{};
  };
  [[nodiscard]] Given given(const File& file, const Target& target) const;

 private:
  double own_share_ = 1.0;
  Eigen::MatrixXd turn_;
  Eigen::VectorXd own_;  // variances of the own level after the turn, where scatter's is 1
};

}  // namespace drawdown::study::explain
