// The symbolic work (order, fill, list of operations) and the two numeric loops.
#include "solve/sparse_lu.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace drawdown::solve {

namespace {

using Grid = std::vector<std::vector<char>>;

// Picks, again and again, the diagonal pivot that can cause least fill, and marks the fill it causes in `grid`.
std::vector<std::uint16_t> least_fill_order(Grid& grid) {
  const std::size_t n = grid.size();
  std::vector<char> done(n, 0);
  std::vector<std::uint16_t> order;
  for (std::size_t step = 0; step < n; ++step) {
    std::size_t best = n;
    std::size_t best_cost = std::numeric_limits<std::size_t>::max();
    for (std::size_t k = 0; k < n; ++k) {
      if (done[k] != 0) continue;
      std::size_t row = 0;
      std::size_t column = 0;
      for (std::size_t j = 0; j < n; ++j) {
        if (done[j] != 0 || j == k) continue;
        row += grid[k][j] != 0 ? 1U : 0U;
        column += grid[j][k] != 0 ? 1U : 0U;
      }
      if (row * column < best_cost) {
        best_cost = row * column;
        best = k;
      }
    }
    done[best] = 1;
    order.push_back(static_cast<std::uint16_t>(best));
    for (std::size_t i = 0; i < n; ++i) {
      if (done[i] != 0 || grid[i][best] == 0) continue;
      for (std::size_t j = 0; j < n; ++j) {
        if (done[j] == 0 && grid[best][j] != 0) grid[i][j] = 1;
      }
    }
  }
  return order;
}

}  // namespace

SparseLu::SparseLu(const network::Pattern& pattern) : size_(pattern.size) {
  const std::size_t n = size_;
  Grid grid(n, std::vector<char>(n, 0));
  for (std::size_t i = 0; i < n; ++i) grid[i][i] = 1;
  for (const auto& [row, column] : pattern.entries) {
    grid.at(static_cast<std::size_t>(row)).at(static_cast<std::size_t>(column)) = 1;
  }
  order_ = least_fill_order(grid);
  std::vector<std::size_t> place(n);
  for (std::size_t k = 0; k < n; ++k) place[order_[k]] = k;

  // Work slots, row by row in elimination order.
  std::vector<std::vector<int>> slot(n, std::vector<int>(n, -1));
  std::size_t next = 0;
  row_first_.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      if (grid[order_[i]][order_[j]] != 0) slot[i][j] = static_cast<int>(next++);
    }
    if (next > std::numeric_limits<std::uint16_t>::max()) throw std::logic_error("sparse LU: matrix too large");
    row_first_.push_back(static_cast<std::uint16_t>(next));
    diagonal_.push_back(static_cast<std::uint16_t>(slot[i][i]));
  }
  entries_ = next;
  for (const auto& [row, column] : pattern.entries) {
    slot_of_value_.push_back(static_cast<std::uint16_t>(
        slot[place[static_cast<std::size_t>(row)]][place[static_cast<std::size_t>(column)]]));
  }
  const auto narrow = [](int value) { return static_cast<std::uint16_t>(value); };
  for (std::size_t k = 0; k < n; ++k) {
    scaled_first_.push_back(static_cast<std::uint32_t>(scaled_.size()));
    update_first_.push_back(static_cast<std::uint32_t>(updates_.size()));
    lower_first_.push_back(static_cast<std::uint32_t>(lower_.size()));
    upper_first_.push_back(static_cast<std::uint32_t>(upper_.size()));
    for (std::size_t j = 0; j < k; ++j) {
      if (slot[k][j] >= 0) lower_.push_back({narrow(slot[k][j]), static_cast<std::uint16_t>(j)});
    }
    for (std::size_t j = k + 1; j < n; ++j) {
      if (slot[k][j] >= 0) upper_.push_back({narrow(slot[k][j]), static_cast<std::uint16_t>(j)});
    }
    for (std::size_t i = k + 1; i < n; ++i) {
      if (slot[i][k] < 0) continue;
      scaled_.push_back(narrow(slot[i][k]));
      for (std::size_t j = k + 1; j < n; ++j) {
        if (slot[k][j] >= 0) updates_.push_back({narrow(slot[i][j]), narrow(slot[i][k]), narrow(slot[k][j])});
      }
    }
  }
  scaled_first_.push_back(static_cast<std::uint32_t>(scaled_.size()));
  update_first_.push_back(static_cast<std::uint32_t>(updates_.size()));
  lower_first_.push_back(static_cast<std::uint32_t>(lower_.size()));
  upper_first_.push_back(static_cast<std::uint32_t>(upper_.size()));
  work_.resize(entries_);
  inverse_pivot_.resize(n);
  row_size_.resize(n);
  permuted_.resize(n);
}

bool SparseLu::factorise(double shift, const double* values) {
  std::fill(work_.begin(), work_.end(), 0.0);
  for (std::size_t e = 0; e < slot_of_value_.size(); ++e) work_[slot_of_value_[e]] -= values[e];
  for (const std::uint16_t slot : diagonal_) work_[slot] += shift;
  for (std::size_t k = 0; k < size_; ++k) {
    double largest = 0.0;
    for (std::uint32_t s = row_first_[k]; s < row_first_[k + 1]; ++s) largest = std::max(largest, std::abs(work_[s]));
    row_size_[k] = largest;
  }
  bool trusted = true;
  for (std::size_t k = 0; k < size_; ++k) {
    const double pivot = work_[diagonal_[k]];
    // Negated so that a pivot that is not a number fails too.
    if (!(std::abs(pivot) > 1e-10 * row_size_[k]) || !std::isfinite(pivot)) trusted = false;
    const double inverse = 1.0 / pivot;
    inverse_pivot_[k] = inverse;
    for (std::uint32_t s = scaled_first_[k]; s < scaled_first_[k + 1]; ++s) work_[scaled_[s]] *= inverse;
    for (std::uint32_t u = update_first_[k]; u < update_first_[k + 1]; ++u) {
      work_[updates_[u].target] -= work_[updates_[u].left] * work_[updates_[u].right];
    }
  }
  return trusted;
}

void SparseLu::solve(double* b) {
  for (std::size_t k = 0; k < size_; ++k) {
    double sum = b[order_[k]];
    for (std::uint32_t e = lower_first_[k]; e < lower_first_[k + 1]; ++e) {
      sum -= work_[lower_[e].slot] * permuted_[lower_[e].column];
    }
    permuted_[k] = sum;
  }
  for (std::size_t k = size_; k-- > 0;) {
    double sum = permuted_[k];
    for (std::uint32_t e = upper_first_[k]; e < upper_first_[k + 1]; ++e) {
      sum -= work_[upper_[e].slot] * permuted_[upper_[e].column];
    }
    permuted_[k] = sum * inverse_pivot_[k];
    b[order_[k]] = permuted_[k];
  }
}

}  // namespace drawdown::solve
