// The search a fit makes, by Ceres Solver: from a beginning down to the nearest minimum of all squared residuals,
// inside the bounds.
#pragma once

#include <Eigen/Dense>
#include <memory>
#include <vector>

#include "labs/fit.hpp"
#include "labs/fit_person.hpp"

namespace drawdown::labs {

struct Found {
  std::vector<double> x;
  double cost = 1e300;
  bool usable = false;
};

class Misfit;  // the residuals as Ceres asks for them

class Search {
 public:
  // Both must outlive the search; `control` may be none.
  Search(const Problem& problem, FitControl* control);
  Search(const Search&) = delete;
  Search(Search&&) = delete;
  Search& operator=(const Search&) = delete;
  Search& operator=(Search&&) = delete;
  ~Search();

  // From x down to the nearest minimum; the parameters `held` stay where they are. `not_less`: own levels and liver
  // are not below the usual. Ceres projects a joint step onto the bounds and may stop where a few of the parameters lie
  // on theirs; so those that press against a bound are held in turn and the others go on, until nothing is gained.
  [[nodiscard]] Found down(const std::vector<double>& x, int iterations, const std::vector<std::size_t>& held = {},
                           bool not_less = false) const;

  // J of all residuals at x, and the residuals. Not a number if the model cannot be run there.
  [[nodiscard]] Eigen::MatrixXd jacobian(const std::vector<double>& x, double* residuals) const;

  [[nodiscard]] bool cancelled() const { return control_ != nullptr && control_->cancel; }
  void progress(double part) const {
    if (control_ != nullptr) control_->progress = part;
  }

 private:
  [[nodiscard]] Bounds bounds(std::size_t i, bool not_less) const;
  // On a bound, with the way down leading across it.
  [[nodiscard]] std::vector<std::size_t> pressed(const std::vector<double>& x, bool not_less) const;
  [[nodiscard]] Found once(std::vector<double> x, int iterations, const std::vector<std::size_t>& held,
                           bool not_less) const;

  const Problem& problem_;
  FitControl* control_;
  std::unique_ptr<Misfit> misfit_;
};

}  // namespace drawdown::labs
