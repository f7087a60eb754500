// LU factors of a sparse matrix whose pattern never changes. The elimination order (least fill first, after Markowitz
// 1957, Management Science 3:255) and every multiply-subtract are worked out once; a factorisation then is one run
// through a flat list. Pivots stay on the diagonal, so they are watched: factorise() says when one is too small to
// trust and the caller must take a pivoting method instead.
#pragma once

#include <cstdint>
#include <vector>

#include "network/compiled.hpp"

namespace drawdown::solve {

class SparseLu {
 public:
  explicit SparseLu(const network::Pattern& pattern);

  [[nodiscard]] std::size_t size() const { return size_; }
  [[nodiscard]] std::size_t factor_entries() const { return entries_; }
  [[nodiscard]] std::size_t updates() const { return updates_.size(); }

  // Factors shift * identity - matrix, matrix given by its values in pattern order. False if a pivot is below
  // 1e-10 of the largest entry of its row, or not finite: the factors must then not be used.
  [[nodiscard]] bool factorise(double shift, const double* values);
  // Overwrites b with the solution. Only after a factorise() that returned true.
  void solve(double* b);

 private:
  struct Update {  // work[target] -= work[left] * work[right]
    std::uint16_t target;
    std::uint16_t left;
    std::uint16_t right;
  };
  struct Entry {
    std::uint16_t slot;
    std::uint16_t column;
  };
  std::size_t size_ = 0;
  std::size_t entries_ = 0;
  std::vector<std::uint16_t> order_;          // order_[k] = original row eliminated k-th
  std::vector<std::uint16_t> slot_of_value_;  // pattern entry -> work slot
  std::vector<std::uint16_t> diagonal_;
  std::vector<std::uint16_t> row_first_;  // row k's slots: row_first_[k] .. row_first_[k + 1]
  std::vector<std::uint16_t> scaled_;     // slots of L below pivot k, from scaled_first_[k]
  std::vector<std::uint32_t> scaled_first_;
  std::vector<Update> updates_;
  std::vector<std::uint32_t> update_first_;
  std::vector<Entry> lower_;
  std::vector<std::uint32_t> lower_first_;
  std::vector<Entry> upper_;
  std::vector<std::uint32_t> upper_first_;
  std::vector<double> work_;
  std::vector<double> inverse_pivot_;
  std::vector<double> row_size_;
  std::vector<double> permuted_;
};

}  // namespace drawdown::solve
