// Do C3 and C4 go with this person's flares? Visits marked as flares are held against those marked as quiet.
//
// On the logarithm, a protein at a time. Quiet: y ~ N(u, s^2). It is a marker (H1): at a flare y ~ N(u - mu, s^2 + w^2)
// but for one flare in q, whose visit missed the fall and lies as if it were none; it is none (H0): y ~ N(u, s^2 +
// w0^2). mu ~ N(m, t^2) above the least fall that counts, s = the known noise x exp(0.3 z), u flat. Summed on a grid
// this gives the protein's Bayes factor, H1 over H0; jointly, with the shares of people before the values,
//   P(marker) = 1 - none / (none + only_c3 F3 + only_c4 F4 + both F3 F4).
// "Goes with" from 0.90 on, "does not" up to 0.10, else too few visits. Depths of falls, their spread, visits missed
// and the shares are assumptions: that in about half of people with lupus complement goes with flares is common
// practice, no source; the rest is assumed.
//
// Visits of one flare (no quiet one between, not half a year apart) are one: their mean. Another laboratory's values
// are moved by its own quiet mean; where it has none they are left out. Of very many flares the newest sixty count.
#pragma once

#include <array>
#include <optional>

#include "labs/series.hpp"

namespace drawdown::labs {

struct MarkerPriors {
  double none = 0.5, only_c3 = 0.1, only_c4 = 0.1, both = 0.3;  // shares of people
  double missed = 0.15;                                         // of flares of a marker
  double spread_of_noise = 0.3;                                 // of ln s
  struct Depth {
    double middle, spread, least;  // of the mean fall mu, ln: m, t, and what it lies above
    double between, between_none;  // flares differ by that much: w, w0
  };
  Depth c3{0.36, 0.20, 0.10, 0.10, 0.03};
  Depth c4{0.60, 0.35, 0.15, 0.20, 0.045};
  double decided = 0.90;
};

struct MarkerOf {
  std::size_t quiet = 0;        // visits
  std::size_t flares = 0;       // flares with a value
  std::size_t clearly_low = 0;  // of them below the quiet visits' one-sided 95 % limit (Student's t, as in change.hpp)
  std::size_t followed = 0;     // of those, by a quiet visit
  std::size_t came_back = 0;    // of those, the first quiet visit after it is not below that limit
  double log_factor = 0.0;      // ln F
};

// unmarked: no line is marked as a flare.
enum class MarkerAnswer { unmarked, too_few, goes, does_not };
inline constexpr std::size_t fewest_flares = 3;  // for "does not"; two for "goes with"
inline constexpr std::size_t fewest_quiet = 3;
inline constexpr std::size_t most_more = 8;

struct Marker {
  MarkerAnswer answer = MarkerAnswer::unmarked;
  double probability = 0.5;  // that it is one
  MarkerOf c3, c4;
  // Where it is too few: with so many more flares nine of ten such people would have an answer; none: more than
  // `most_more`.
  std::optional<std::size_t> more;
  std::size_t quiet_wanted = 0;  // quiet visits that are missing
};
[[nodiscard]] Marker marker(const std::vector<Row>& rows, const Noise& noise, const MarkerPriors& priors = {});

}  // namespace drawdown::labs
