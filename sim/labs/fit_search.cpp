// Ceres Solver at work.
#include "labs/fit_search.hpp"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>

namespace drawdown::labs {

// All residuals as one cost function of as many blocks as parameters, so that a profile can hold one of them.
class Misfit final : public ceres::CostFunction {
 public:
  explicit Misfit(const Problem& problem) : problem_(problem) {
    set_num_residuals(static_cast<int>(problem.residuals()));
    mutable_parameter_block_sizes()->assign(problem.parameters(), 1);
  }
  bool Evaluate(double const* const* blocks, double* residuals, double** jacobians) const override {
    std::vector<double> x(problem_.parameters());
    for (std::size_t i = 0; i < x.size(); ++i) x[i] = blocks[i][0];
    const auto run = problem_.run(x);
    if (!run->complete()) return false;
    problem_.residuals_of(x, *run, residuals);
    if (jacobians == nullptr) return true;
    try {
      problem_.columns_of(x, *run, jacobians);
    } catch (const std::exception&) {
      return false;
    }
    return true;
  }

 private:
  const Problem& problem_;
};

namespace {

// Ends a search between two of its steps.
class StopWhenAsked final : public ceres::IterationCallback {
 public:
  explicit StopWhenAsked(const FitControl* control) : control_(control) {}
  ceres::CallbackReturnType operator()(const ceres::IterationSummary&) override {
    return control_ != nullptr && control_->cancel ? ceres::SOLVER_ABORT : ceres::SOLVER_CONTINUE;
  }

 private:
  const FitControl* control_;
};

}  // namespace

Search::Search(const Problem& problem, FitControl* control)
    : problem_(problem), control_(control), misfit_(std::make_unique<Misfit>(problem)) {}

Search::~Search() = default;

Found Search::down(const std::vector<double>& x, int iterations, const std::vector<std::size_t>& held,
                   bool not_less) const {
  constexpr int most_rounds = 4;
  constexpr double worth_it = 0.01;  // of the objective
  Found best = once(x, iterations, held, not_less);
  for (int round = 0; round < most_rounds && best.usable; ++round) {
    std::vector<std::size_t> now_held = held;
    for (const std::size_t i : pressed(best.x, not_less)) now_held.push_back(i);
    if (now_held.size() == held.size() || now_held.size() >= x.size()) break;
    const Found next = once(best.x, iterations, now_held, not_less);
    if (!next.usable || next.cost > best.cost - worth_it) break;
    best = next;
  }
  return best;
}

Eigen::MatrixXd Search::jacobian(const std::vector<double>& x, double* residuals) const {
  const auto rows = static_cast<Eigen::Index>(problem_.residuals());
  Eigen::MatrixXd j(rows, static_cast<Eigen::Index>(x.size()));
  std::vector<const double*> blocks;
  std::vector<double*> columns;
  for (std::size_t i = 0; i < x.size(); ++i) {
    blocks.push_back(&x[i]);
    columns.push_back(j.col(static_cast<Eigen::Index>(i)).data());
  }
  if (!misfit_->Evaluate(blocks.data(), residuals, columns.data())) j.setConstant(std::nan(""));
  return j;
}

Bounds Search::bounds(std::size_t i, bool not_less) const {
  Bounds b = problem_.bounds(i);
  if (not_less && i <= Problem::liver) b.low = 0.0;
  return b;
}

std::vector<std::size_t> Search::pressed(const std::vector<double>& x, bool not_less) const {
  std::vector<double> residuals(problem_.residuals());
  const Eigen::MatrixXd j = jacobian(x, residuals.data());
  const Eigen::VectorXd slope =
      j.transpose() * Eigen::Map<const Eigen::VectorXd>(residuals.data(), static_cast<Eigen::Index>(residuals.size()));
  std::vector<std::size_t> out;
  constexpr double on_it = 1e-6;
  for (std::size_t i = 0; i < x.size(); ++i) {
    const Bounds b = bounds(i, not_less);
    const double s = slope(static_cast<Eigen::Index>(i));
    if ((x[i] <= b.low + on_it && s > 0.0) || (x[i] >= b.high - on_it && s < 0.0)) out.push_back(i);
  }
  return out;
}

Found Search::once(std::vector<double> x, int iterations, const std::vector<std::size_t>& held, bool not_less) const {
  ceres::Problem::Options ownership;
  ownership.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  ceres::Problem ceres_problem(ownership);
  std::vector<double*> blocks;
  blocks.reserve(x.size());
  for (double& value : x) blocks.push_back(&value);
  ceres_problem.AddResidualBlock(misfit_.get(), nullptr, blocks);
  for (std::size_t i = 0; i < x.size(); ++i) {
    const Bounds b = bounds(i, not_less);
    x[i] = std::clamp(x[i], b.low, b.high);
    ceres_problem.SetParameterLowerBound(blocks[i], 0, b.low);
    ceres_problem.SetParameterUpperBound(blocks[i], 0, b.high);
    if (std::find(held.begin(), held.end(), i) != held.end()) ceres_problem.SetParameterBlockConstant(blocks[i]);
  }
  ceres::Solver::Options options;
  options.max_num_iterations = iterations;
  options.function_tolerance = 1e-6;
  options.parameter_tolerance = 1e-5;
  options.linear_solver_type = ceres::DENSE_QR;
  // Gentle first steps: with Ceres's own (1e4) a whole Gauss-Newton step threw the loads onto their bounds, and the
  // search stayed there while a far better course was near.
  options.initial_trust_region_radius = 1.0;
  options.logging_type = ceres::SILENT;
  options.num_threads = 1;
  // The line search along bounds asks for a gradient at every step; the trust region alone comes to the same place.
  options.max_num_line_search_step_size_iterations = 0;
  StopWhenAsked stop(control_);
  options.callbacks.push_back(&stop);
  ceres::Solver::Summary summary;
  ceres::Solve(options, &ceres_problem, &summary);
  return {x, summary.final_cost, summary.IsSolutionUsable() && !cancelled()};
}

}  // namespace drawdown::labs
