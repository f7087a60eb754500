// LU factors of a sparse matrix whose pattern never changes. The elimination order (least fill first, after Markowitz
// 1957, Management Science 3:255) and every multiply-subtract are worked out once, as a plan that all share; the
// factors on a number type V then are one run through flat lists, each entry finished before the next (Doolittle by
// rows). Pivots stay on the diagonal, so they are watched: factorise() says when one is too small to trust and the
// caller must take a pivoting method instead.
#pragma once

#include <cstdint>
#include <memory>
#include <vector>

#include "network/factor_value.hpp"
#include "network/plan.hpp"

namespace drawdown::solve {

// Called by these names alone, so that a number type may bring its own.
using network::all_finite;
using network::if_negative;
using network::largest_of;

// |v|, lane by lane.
template <class V>
[[nodiscard]] V magnitude(const V& v) {
  return if_negative(v, -1.0 * v, v);
}
// The larger of the two, lane by lane; a where b is not a number.
template <class V>
[[nodiscard]] V larger(const V& a, const V& b) {
  return if_negative(a - b, b, a);
}

struct LuPlan {
  // Throws std::logic_error if the factors have more than 65 535 entries.
  explicit LuPlan(const network::Pattern& pattern);

  static constexpr std::uint16_t no_value = 0xFFFF;
  std::size_t size = 0;
  std::vector<std::uint16_t> order;  // order[k] = original row eliminated k-th
  // Entries of both factors, row by row in elimination order: row k's from row_first[k] to row_first[k + 1].
  std::vector<std::uint16_t> row_first;
  std::vector<std::uint16_t> column;    // in elimination order
  std::vector<std::uint16_t> diagonal;  // entry of each row's pivot
  std::vector<std::uint16_t> value;     // index into the pattern's values, or no_value where there is only fill
  // Entry e loses the products of pairs (left, right) from pair_first[e] to pair_first[e + 1], counted in pairs.
  std::vector<std::uint16_t> pairs;
  std::vector<std::uint32_t> pair_first;
  [[nodiscard]] std::size_t entries() const { return column.size(); }
  [[nodiscard]] std::size_t updates() const { return pairs.size() / 2; }
};

template <class V>
class SparseLu {
 public:
  explicit SparseLu(std::shared_ptr<const LuPlan> plan)
      : plan_(std::move(plan)),
        work_(plan_->entries(), V(0.0)),
        inverse_(plan_->size, V(0.0)),
        permuted_(plan_->size, V(0.0)) {}

  // Factors shift * identity - matrix, matrix given by its values in pattern order; the shift is a double or, where
  // each lane has its own, V. False if a pivot is below 1e-10 of the largest entry of its row, or not finite: the
  // factors must then not be used. Of several lanes trust() says which: it is negative there, 1 elsewhere.
  template <class Shift>
  [[nodiscard]] bool factorise(const Shift& shift, const V* values) {
    const LuPlan& p = *plan_;
    V* w = work_.data();
    const std::uint16_t* pair = p.pairs.data();
    V trust(1.0);
    for (std::size_t k = 0; k < p.size; ++k) {
      const std::uint32_t pivot = p.diagonal[k];
      V largest(0.0);
      for (std::uint32_t e = p.row_first[k]; e < p.row_first[k + 1]; ++e) {
        V sum = p.value[e] == LuPlan::no_value ? V(0.0) : -1.0 * values[p.value[e]];
        if (e == pivot) sum = sum + shift;
        const V size = magnitude(sum);
        largest = larger(largest, size);
        for (const std::uint16_t* end = p.pairs.data() + std::size_t{2} * p.pair_first[e + 1]; pair < end; pair += 2) {
          sum = sum - w[pair[0]] * w[pair[1]];
        }
        if (e < pivot) sum = sum * inverse_[p.column[e]];
        w[e] = sum;
      }
      // Not negative, for one, where it is not a number: nought times a pivot is none if that is not finite.
      const V lack = (1e-10 * largest - magnitude(w[pivot])) + 0.0 * w[pivot];
      trust = if_negative(lack, trust, V(-1.0));
      inverse_[k] = 1.0 / w[pivot];
    }
    trust_ = trust;
    return largest_of(-1.0 * trust) < 0.0;
  }
  [[nodiscard]] const V& trust() const { return trust_; }

  // Of the determinant of what was factored: 1 or -1. Of shift * identity - J with a shift near zero, -1 means that J
  // has an odd number of positive eigenvalues: a state there is not stable.
  [[nodiscard]] V sign() const {
    V sign(1.0);
    for (const V& inverse : inverse_) sign = if_negative(inverse, -1.0 * sign, sign);
    return sign;
  }
  // Overwrites b with the solution. Only after a factorise() that returned true.
  void solve(V* b) {
    const LuPlan& p = *plan_;
    const V* w = work_.data();
    V* q = permuted_.data();
    for (std::size_t k = 0; k < p.size; ++k) {
      V sum = b[p.order[k]];
      for (std::uint32_t e = p.row_first[k]; e < p.diagonal[k]; ++e) sum = sum - w[e] * q[p.column[e]];
      q[k] = sum;
    }
    for (std::size_t k = p.size; k-- > 0;) {
      V sum = q[k];
      for (std::uint32_t e = p.diagonal[k] + 1U; e < p.row_first[k + 1]; ++e) sum = sum - w[e] * q[p.column[e]];
      q[k] = sum * inverse_[k];
      b[p.order[k]] = q[k];
    }
  }

 private:
  std::shared_ptr<const LuPlan> plan_;
  std::vector<V> work_, inverse_, permuted_;
  V trust_ = V(1.0);
};

}  // namespace drawdown::solve
