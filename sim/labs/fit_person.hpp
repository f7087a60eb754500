// The person a fit looks for: what its parameters are, the story they make, and the residuals of results and priors
// with their slopes. Parameters are in units of their prior's width; natural() gives the lever's value.
#pragma once

#include <Eigen/Dense>
#include <memory>
#include <string>
#include <vector>

#include "labs/judge.hpp"
#include "simulate.hpp"

namespace drawdown::labs {

struct Bounds {
  double low, high;
};
struct Prior {
  double low, high;  // 90 %, natural
};
struct WhatIf {
  body::LeverId lever;
  double value;  // for the antibody drive: times the fitted one
  bool times = false;
};
struct Course {
  std::string name;
  std::vector<WhatIf> what_ifs;
};

class Problem {
 public:
  // Parameters in order: the own C3, the own C4, liver, acute-phase response, then the antibody drive at each knot.
  enum Parameter : std::size_t { own_c3, own_c4, liver, acute, first_load };

  Problem(const std::vector<Row>& rows, const Noise& noise);

  [[nodiscard]] std::size_t samples() const { return days_.size(); }
  [[nodiscard]] std::size_t values() const { return data_.size(); }
  [[nodiscard]] std::size_t parameters() const { return first_load + knots_.size(); }
  [[nodiscard]] std::size_t residuals() const { return data_.size() + first_load + 1 + knots_.size() - 1; }
  [[nodiscard]] std::size_t last_load() const { return parameters() - 1; }
  [[nodiscard]] double first_date() const { return first_date_; }
  // Of the last sample, counted from the first.
  [[nodiscard]] double last_day() const { return days_.back(); }

  [[nodiscard]] Bounds bounds(std::size_t i) const;
  [[nodiscard]] double natural(std::size_t i, double x) const;
  [[nodiscard]] Prior prior90(std::size_t i) const;
  // Different beginnings for the search: little, much, very much, rising load.
  [[nodiscard]] std::vector<double> start(int which) const;

  [[nodiscard]] scenario::Scenario story(const std::vector<double>& x, const std::vector<WhatIf>& from_last = {},
                                         double more_days = 0.0) const;
  [[nodiscard]] std::shared_ptr<const Run> run(const std::vector<double>& x, const std::vector<WhatIf>& from_last = {},
                                               double more_days = 0.0) const;
  void residuals_of(const std::vector<double>& x, const Run& run, double* residuals) const;
  // d residuals / d x_i into columns[i], where that is not null; by the variational equations. Throws
  // std::runtime_error.
  void columns_of(const std::vector<double>& x, const Run& run, double** columns) const;
  // Of the values alone.
  // Infinite if the run does not finish.
  [[nodiscard]] double misfit(const std::vector<double>& x) const;
  // d ln C4d / d x at the last sample, by differences.
  [[nodiscard]] Eigen::VectorXd c4d_slope(const std::vector<double>& x) const;
  // Looking ahead: nothing changes, complexes double, treatment that calms the antibody makers, C1s blocked.
  [[nodiscard]] static std::vector<Course> courses_ahead();

 private:
  struct Datum {
    std::size_t day;  // index
    Protein protein;
    double log_value;
    double sd;
    bool below;
  };
  [[nodiscard]] double share(std::size_t knot, double day) const;

  double first_date_ = 0.0;
  std::vector<double> days_;   // from the first sample, each once
  std::vector<double> knots_;  // likewise
  std::vector<Datum> data_;
  std::shared_ptr<const body::Body> body_;
};

}  // namespace drawdown::labs
