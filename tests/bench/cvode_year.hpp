// SUNDIALS CVODE (BDF) on the same network with the same exact Jacobian: the rival in the benchmarks and the
// reference integrator in the tests (it calls our own derivative and Jacobian). Dense or KLU sparse linear solver.
#pragma once

#include <memory>
#include <vector>

#include "network/bound.hpp"

namespace drawdown::bench {

enum class Linear { dense, klu };

class CvodeYear {
 public:
  // `bound` must stay bound while this is used.
  CvodeYear(network::Bound<double>& bound, Linear linear);
  CvodeYear(const CvodeYear&) = delete;
  CvodeYear(CvodeYear&&) = delete;
  CvodeYear& operator=(const CvodeYear&) = delete;
  CvodeYear& operator=(CvodeYear&&) = delete;
  ~CvodeYear();

  // State at each of `hours` (rising, after 0). Throws std::runtime_error if CVODE fails.
  std::vector<std::vector<double>> run(const std::vector<double>& start, double start_hour,
                                       const std::vector<double>& hours, double rtol, const std::vector<double>& atol);
  [[nodiscard]] long steps() const { return steps_; }

 private:
  struct Impl;
  std::unique_ptr<Impl> impl_;
  long steps_ = 0;
};

}  // namespace drawdown::bench
