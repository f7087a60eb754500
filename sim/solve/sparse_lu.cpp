// The symbolic work: order, fill, and the list of operations.
#include "solve/sparse_lu.hpp"

#include <algorithm>
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

LuPlan::LuPlan(const network::Pattern& pattern) : size(pattern.size) {
  const std::size_t n = size;
  Grid grid(n, std::vector<char>(n, 0));
  std::vector<std::vector<int>> value_at(n, std::vector<int>(n, -1));
  for (std::size_t i = 0; i < n; ++i) grid[i][i] = 1;
  for (std::size_t e = 0; e < pattern.entries.size(); ++e) {
    const auto row = static_cast<std::size_t>(pattern.entries[e].first);
    const auto at = static_cast<std::size_t>(pattern.entries[e].second);
    grid.at(row).at(at) = 1;
    value_at[row][at] = static_cast<int>(e);
  }
  order = least_fill_order(grid);

  const auto narrow = [](std::size_t number) { return static_cast<std::uint16_t>(number); };
  std::vector<std::vector<int>> entry_at(n, std::vector<int>(n, -1));
  row_first.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t j = 0; j < n; ++j) {
      if (grid[order[i]][order[j]] == 0) continue;
      entry_at[i][j] = static_cast<int>(column.size());
      if (i == j) diagonal.push_back(narrow(column.size()));
      const int from = value_at[order[i]][order[j]];
      value.push_back(from < 0 ? no_value : narrow(static_cast<std::size_t>(from)));
      column.push_back(narrow(j));
    }
    if (column.size() >= no_value) throw std::logic_error("sparse LU: matrix too large");
    row_first.push_back(narrow(column.size()));
  }
  pair_first.push_back(0);
  for (std::size_t i = 0; i < n; ++i) {
    for (std::size_t e = row_first[i]; e < row_first[i + 1]; ++e) {
      const std::size_t j = column[e];
      for (std::size_t k = 0; k < std::min(i, j); ++k) {
        if (entry_at[i][k] < 0 || entry_at[k][j] < 0) continue;
        pairs.push_back(narrow(static_cast<std::size_t>(entry_at[i][k])));
        pairs.push_back(narrow(static_cast<std::size_t>(entry_at[k][j])));
      }
      pair_first.push_back(static_cast<std::uint32_t>(pairs.size() / 2));
    }
  }
}

}  // namespace drawdown::solve
