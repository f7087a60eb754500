// The network plus, for each moiety, one state that adds up what came in less what went out: on a run the change of
// the moiety must equal it. A Rosenbrock method keeps linear sums to round-off. All in amounts: per litre, times the
// plasma volume as a share of the usual.
#pragma once

#include <vector>

#include "body/body.hpp"

namespace drawdown::support {

double moiety_amount(const network::Moiety& moiety, const double* x);

class Ledger final : public solve::System {
 public:
  Ledger(const body::Body& body, network::Bound<double>& bound);
  [[nodiscard]] const network::Pattern& pattern() const override { return pattern_; }
  void derivative(double t, const double* x, double* dxdt) const override;
  void jacobian(double t, const double* x, double* values, double* dfdt) const override;

 private:
  const body::Body* body_;
  network::Bound<double>* bound_;
  network::Pattern pattern_;
};

// The largest imbalance of any moiety over a run of the ledger, relative to its amount at the start; volumes as a share
// of the usual.
double worst_imbalance(const body::Body& body, const std::vector<double>& start, const std::vector<double>& end,
                       double volume_at_start = 1.0, double volume_at_end = 1.0);

}  // namespace drawdown::support
