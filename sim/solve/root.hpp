// Where a bound network comes to rest under held inputs, on a number type V (one person or several at once): implicit
// Euler steps whose length grows as the state stops changing, so that the path is roughly time's and the last steps are
// Newton's (pseudo-transient continuation; Kelley & Keyes 1998, SIAM J Numer Anal 35:508).
#pragma once

#include <algorithm>
#include <cstddef>
#include <vector>

#include "network/bound.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::solve {

using network::largest_of;

enum class RootStatus {
  found,
  not_found,   // in the iterations allowed
  bad_pivot,   // or a matrix that is not finite
  non_finite,  // what a step asks for
  unstable,    // the root is not stable: an odd number of positive eigenvalues
  cancelled
};

// How the search goes. Chosen by us: the roots found are held to three years of integration (tests/body/test_settle).
struct RootSearch {
  static constexpr double first_hours = 2.0;
  static constexpr double change_aimed_at = 1.5;  // in one step, of a species and half its scale
  static constexpr double newton_hours = 1e9;     // from here on the step is Newton's
  // Largest change the last step asks for, of a species and a thousandth of its scale.
  static constexpr double root_reached = 1e-8;
  static constexpr double no_hours = 1e12;  // for the sign of the Jacobian's determinant
};

template <class V>
class RootFinder {
 public:
  // `scales` are the species' typical amounts, in their units.
  RootFinder(const network::Plan& plan, const std::vector<double>& scales)
      : scales_(&scales),
        jacobian_(plan.pattern.entries.size(), V(0.0)),
        step_(plan.species, V(0.0)),
        unused_(plan.species, V(0.0)) {}

  // From x (one V a species) to a stable root of `bound` as its inputs are bound at hour 0; on anything but `found` x
  // is of no use. Where V holds several people all take the same steps, and what fails for one fails for all.
  // keep_going(hours reached) is asked before each iteration; false cancels.
  template <class KeepGoing>
  RootStatus find(network::Bound<V>& bound, SparseLu<V>& lu, std::size_t most_iterations, V* x,
                  const KeepGoing& keep_going) {
    using S = RootSearch;
    const std::size_t n = step_.size();
    double hours = S::first_hours;
    double reached = 0.0;
    bool at_root = false;
    iterations = 0;
    while (true) {
      if (!at_root && iterations >= most_iterations) return RootStatus::not_found;
      if (!at_root && !keep_going(reached)) return RootStatus::cancelled;
      bound.linearise(0.0, x, step_.data(), jacobian_.data(), unused_.data());
      if (!lu.factorise(1.0 / (at_root ? S::no_hours : hours), jacobian_.data())) return RootStatus::bad_pivot;
      if (at_root) return largest_of(-1.0 * lu.sign()) < 0.0 ? RootStatus::found : RootStatus::unstable;
      iterations += 1;
      lu.solve(step_.data());
      // What the step asks for, not what is left of it once held at zero: a state pressed against zero is no root.
      V change(0.0);
      V strict(0.0);
      V sum(0.0);
      for (std::size_t s = 0; s < n; ++s) {
        const double scale = (*scales_)[s];
        const V size = magnitude(step_[s]);
        const V amount = magnitude(x[s]);
        change = larger(change, size / (amount + 0.5 * scale));
        strict = larger(strict, size / (amount + 1e-3 * scale));
        sum = sum + size;
        const V after = x[s] + step_[s];
        x[s] = if_negative(after, V(0.0), after);
      }
      if (!all_finite(sum)) return RootStatus::non_finite;
      reached += hours;
      at_root = hours >= S::newton_hours && largest_of(strict) < S::root_reached;
      const double grown = std::clamp(S::change_aimed_at / std::max(largest_of(change), 1e-9), 0.5, 20.0);
      hours = std::min(hours * grown, S::newton_hours);
    }
  }

  std::size_t iterations = 0;  // of the last search

 private:
  const std::vector<double>* scales_;
  std::vector<V> jacobian_, step_, unused_;
};

}  // namespace drawdown::solve
