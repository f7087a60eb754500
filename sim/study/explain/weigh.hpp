// Which mechanism could have made a person's serial results? Every explanation of mechanisms.hpp against the same
// values, by the probability each gives them.
//
// Values of visit j, test c, on the logarithm:  y = usual_c + b_c + g_c(t_j - onset) + e.  b: the own usual level,
// normal with the bank's covariance. e: scatter s (within_c w + analytical_c a); w has a share of 0.3 that is
// correlated in time (exp(-dt / 45 days)), and 0.4 between the plasma proteins of one day; C3 and C4 besides their
// rounding to 0.01 g/L; s, one's own, log-normal (sd 0.3) at three nodes, exp(-0.52, 0, 0.52) weighing 1/6, 2/3, 1/6.
// So all but g is one normal distribution a file. g is a sampled person's of the bank, at 24 stratified onsets each.
// The bank's person keeps near the own simulated level: mean shifted by sqrt(1 - h^2) of it, spread h^2, h = 0.85. How
// strong the cause is goes by the person's, times 1 + N(0, 0.2^2), integrated: no body is right to a few per cent.
//
// Below detection: the density of the seen values times the probability of the hidden ones given them, each by itself
// (exact for one; for more their correlation beyond the seen ones is left out).
//
// All shares and sizes are assumed (from memory: studies of biological variation). What comes out is no better than the
// body and the priors: it says which mechanisms fit, never what a person has.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "study/change_value.hpp"
#include "study/explain/bank.hpp"

namespace drawdown::study::explain {

struct Value {
  double value = 0.0;  // in the readout's unit
  bool below = false;  // less than that
};
struct Visit {
  double day = 0.0;
  std::array<std::optional<Value>, columns> values;
};
struct Series {
  std::vector<Visit> visits;  // in order of day
  // The unit is known, so that a value can be held against other people's; else only its changes count.
  std::array<bool, columns> scale_known{};
  Variation c3 = c3_variation, c4 = c4_variation;
};

using Shares = std::array<double, explanations>;
struct WeighOptions {
  // In any measure. Noise three times each other one: assumed; with all alike nine in a hundred healthy people were
  // said to use more up.
  Shares prior{3, 1, 1, 1, 1, 1, 1, 1, 1};
  bool foresee = true;      // next visit and further tests
  double next_after = 0.0;  // days after the last visit; 0: the middle of the gaps before, 14 to 180
  std::size_t threads = 2;
};

// fits: within ten times the best, and its own prediction of the values' distance (posterior predictive p) above 0.01.
// poorly: within a hundred times, or only the distance is odd. cannot_tell: too few of the bank's people come near.
enum class Verdict { fits, poorly, does_not, cannot_tell };
inline constexpr std::array<std::string_view, 4> verdict_names{"fits", "poorly", "does_not", "cannot_tell"};
inline constexpr double fits_within = 10.0;
inline constexpr double poorly_within = 100.0;
inline constexpr double fewest_effective = 10.0;
inline constexpr double fewest_near = 3.0;     // where it is within ten times the best all the same
inline constexpr double cannot_within = 10.0;  // nats behind the best: further off few people decide nothing
inline constexpr double odd = 0.01;
inline constexpr double said_from = 0.5;  // "used up more" from this share on

struct Weighed {
  double log_evidence = 0.0;     // of the values, natural logarithm
  double share = 0.0;            // posterior
  std::optional<double> people;  // effective; nothing where none are sampled
  double misfit = 1.0;           // posterior predictive p
  Verdict verdict = Verdict::does_not;
};
struct Between {
  double low = 0.0, middle = 0.0, high = 0.0;  // 90 %
};
enum class Status { done, too_few, cancelled };
struct Weights {
  Status status = Status::too_few;
  std::size_t visits = 0, values = 0, hidden = 0;
  std::array<bool, columns> used{};
  std::array<Weighed, explanations> each;
  std::size_t people = 0;         // of the bank that were asked, for each explanation on average
  double next_day = 0.0;          // the next visit
  std::optional<Between> c3, c4;  // then, g/L; the mixture of all explanations
  // What one more test with a known unit, now, would tell of the explanation, in nats, on average.
  std::array<double, columns> information{};
  double undecided = 0.0;  // entropy of the shares, nats: no test can tell more

  // "Used up more", all its ways together.
  [[nodiscard]] double used_up() const;
  [[nodiscard]] Explanation best() const;
  // Those that fit, the best first: they cannot be told from each other with these tests.
  [[nodiscard]] std::vector<Explanation> fitting() const;
};
inline constexpr std::size_t fewest_visits = 3;
inline constexpr std::size_t most_visits = 24;  // the last ones are taken

[[nodiscard]] Weights weigh(const Series& series, const Bank& bank, const WeighOptions& options = {},
                            Control* control = nullptr);

}  // namespace drawdown::study::explain
