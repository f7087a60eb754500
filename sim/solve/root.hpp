// Where a bound network comes to rest under held inputs, on a number type V (one person or several at once): implicit
// Euler steps whose length grows as the state stops changing, so that the path is roughly time's and the last steps are
// Newton's (pseudo-transient continuation; Kelley & Keyes 1998, SIAM J Numer Anal 35:508).
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "network/bound.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::solve {

using network::lane_of;

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

  // From x (one V a species) to a stable root of `bound` as its inputs are bound at hour 0. Where V holds several
  // people each takes the steps it would take by itself, and `status` says how it went for each; `found` is returned if
  // it is found for all. x is of no use of whom it is not found for. keep_going(hours reached, by the first) is asked
  // before each iteration; false cancels.
  template <class KeepGoing>
  RootStatus find(network::Bound<V>& bound, SparseLu<V>& lu, std::size_t most_iterations, V* x,
                  const KeepGoing& keep_going) {
    std::array<Search, lanes> searches;
    std::size_t done = 0;
    while (true) {
      const bool searching = any(searches, Search::on_the_way);
      if (searching && done >= most_iterations) end_all(searches, RootStatus::not_found);
      if (searching && !keep_going(searches[0].reached)) end_all(searches, RootStatus::cancelled);
      if (!any(searches, Search::on_the_way) && !any(searches, Search::at_root)) break;
      bound.linearise(0.0, x, step_.data(), jacobian_.data(), unused_.data());
      std::array<double, lanes> shifts{};
      for (std::size_t l = 0; l < lanes; ++l) {
        shifts[l] = 1.0 / (searches[l].where == Search::at_root ? RootSearch::no_hours : searches[l].hours);
      }
      (void)lu.factorise(network::from_lanes<V>(shifts), jacobian_.data());
      const V sign = lu.sign();
      for (std::size_t l = 0; l < lanes; ++l) {
        if (searches[l].where != Search::ended && !(lane_of(lu.trust(), l) > 0.0))
          end(searches, l, RootStatus::bad_pivot);
        if (searches[l].where != Search::at_root) continue;
        end(searches, l, lane_of(sign, l) > 0.0 ? RootStatus::found : RootStatus::unstable);
      }
      if (!any(searches, Search::on_the_way)) continue;
      done += 1;
      lu.solve(step_.data());
      advance(searches, done, x);
    }
    for (const RootStatus one : status) {
      if (one != RootStatus::found) return one;
    }
    return RootStatus::found;
  }

  static constexpr std::size_t lanes = network::lanes_of<V>;
  // Of the last search, by person.
  std::array<RootStatus, lanes> status{};
  std::array<std::size_t, lanes> iterations{};

 private:
  struct Search {
    enum Where { on_the_way, at_root, ended };
    Where where = on_the_way;
    double hours = RootSearch::first_hours;
    double reached = 0.0;
  };
  using Searches = std::array<Search, lanes>;
  static bool any(const Searches& searches, typename Search::Where where) {
    bool found = false;
    for (const Search& search : searches) found = found || search.where == where;
    return found;
  }
  void end(Searches& searches, std::size_t lane, RootStatus with) {
    searches[lane].where = Search::ended;
    status[lane] = with;
  }
  void end_all(Searches& searches, RootStatus with) {
    for (std::size_t l = 0; l < lanes; ++l) {
      if (searches[l].where == Search::on_the_way || with == RootStatus::cancelled) end(searches, l, with);
    }
  }

  // The step that was solved for, of those on the way.
  void advance(Searches& searches, std::size_t done, V* x) {
    using S = RootSearch;
    std::array<double, lanes> advances{};
    for (std::size_t l = 0; l < lanes; ++l) advances[l] = searches[l].where == Search::on_the_way ? -1.0 : 1.0;
    const V on = network::from_lanes<V>(advances);
    // What the step asks for, not what is left of it once held at zero: a state pressed against zero is no root.
    V change(0.0);
    V strict(0.0);
    V sum(0.0);
    for (std::size_t s = 0; s < step_.size(); ++s) {
      const double scale = (*scales_)[s];
      const V size = magnitude(step_[s]);
      const V amount = magnitude(x[s]);
      change = larger(change, size / (amount + 0.5 * scale));
      strict = larger(strict, size / (amount + 1e-3 * scale));
      sum = sum + size;
      const V after = x[s] + step_[s];
      x[s] = if_negative(on, if_negative(after, V(0.0), after), x[s]);
    }
    for (std::size_t l = 0; l < lanes; ++l) {
      Search& search = searches[l];
      if (search.where != Search::on_the_way) continue;
      iterations[l] = done;
      if (!std::isfinite(lane_of(sum, l))) {
        end(searches, l, RootStatus::non_finite);
        continue;
      }
      search.reached += search.hours;
      if (search.hours >= S::newton_hours && lane_of(strict, l) < S::root_reached) search.where = Search::at_root;
      const double grown = std::clamp(S::change_aimed_at / std::max(lane_of(change, l), 1e-9), 0.5, 20.0);
      search.hours = std::min(search.hours * grown, S::newton_hours);
    }
  }

  const std::vector<double>* scales_;
  std::vector<V> jacobian_, step_, unused_;
};

}  // namespace drawdown::solve
