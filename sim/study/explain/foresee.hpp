// What is to come, and what one more test would tell, from the candidates that are left.
#pragma once

#include "study/explain/candidates.hpp"

namespace drawdown::study::explain {

inline constexpr std::size_t nodes = node_scale.size();

// By candidate and node.
struct Densities {
  std::vector<float> log_density;
  std::vector<float> distance;
};

// A block's moves after the turn.
void turn_block(const Turned& turned, const float* moves, float* turned_moves);
// The turned values less the own levels of a block's candidates.
void levels_apart(const Turned& turned, const File& file, const Candidates& of, std::size_t first, float* apart);

void foresee(Weights& out, const Series& series, const File& file, const Turned& near, const Turned& free,
             const std::vector<std::unique_ptr<Candidates>>& all, const std::vector<Densities>& densities,
             const WeighOptions& options);

}  // namespace drawdown::study::explain
