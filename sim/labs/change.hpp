// Did a person's level change by more than noise? The last value, one earlier value, or a step, each held against the
// person's own usual level.
//
// On the logarithm. Of the scatter s of one person's values only its middle between people is known before: s^2 is
// scaled inverse chi square with nu = 6.5 and s0^2 = 0.85 x the known noise's variance, whose logarithm has the known
// noise's as its mean and a standard deviation of 0.6 (of the coefficient of variation: 0.3; assumed). With the values'
// own sum of squares SS about their mean S^2 = (nu s0^2 + SS) / (nu + n - 2), and
//   last value   t = (y - mean of the others) / (S sqrt(1 + 1/(n-1))), of its n - 1 others;
//   an earlier   the same, each value held against all others;
//   step         t of the two means before and from visit k, k = 2 ... n-2, with SS about both,
// all Student's t with nu + n - 2 degrees of freedom (Smyth 2004 Stat Appl Genet Mol Biol 3:3 moderates t so; from
// memory). Rounding adds its variance to s0^2: to 0.01 g/L, or finer where the values are.
//
// Chances are shared out over the whole file, both proteins, falls and rises (Bonferroni): of 1.4 % for the last value
// each protein and side gets a quarter; of 0.5 % for earlier values a quarter of an (n-1)th; of 0.6 % for steps, which
// go together, a 5.5th of an (n-3)th. So about one unchanged person in forty leaves with a finding, however many values
// there are. Where only falls are asked about they get the share of rises too.
//
// Another laboratory may read higher or lower by a constant that nobody knows: each has a mean of its own, which costs
// a degree of freedom; a change that comes with a change of laboratory is not seen. Values below detection: see
// labs/censored.hpp; a value under a limit is held to the limit, and is a fall only if the limit itself would be.
#pragma once

#include <optional>
#include <vector>

#include "labs/series.hpp"

namespace drawdown::labs {

// Chances that an unchanged person's file has a finding of each kind.
struct Shares {
  double last = 0.014;
  double step = 0.006;
  double earlier = 0.005;
};

enum class Way { fell, rose };

// What noise does not explain. Against the usual level, %.
struct Apart {
  Way way = Way::fell;
  std::size_t row = 0;    // of the value; of a step, of the first value from it
  double percent = 0.0;   // of a step: the later mean against the earlier
  bool at_least = false;  // hidden by a limit: so far or further
};

// The usual level: the geometric mean of the visits that count, without the last value; and where a further value lies
// if nothing changed, so wide that the last value outside it is a finding. g/L.
struct OwnUsual {
  std::size_t values = 0;  // visits it is made of
  double level = 0.0;
  double low = 0.0, high = 0.0;
};
inline constexpr std::size_t fewest_others = 3;

// none: no value. too_few: fewer than three others tell the usual level. new_laboratory: enough of them, but none of
// the last value's laboratory. hidden: too many are below detection. disputed: the last day's results differ by more
// than noise. open: the last value is below a limit, and no other one is: how far it fell nobody knows.
enum class Standing { none, too_few, new_laboratory, hidden, disputed, open, within, fell, rose };

struct LevelChange {
  Standing standing = Standing::none;  // of the last value against the usual level
  std::optional<std::size_t> last;     // row of the last value
  std::optional<OwnUsual> usual;
  double last_percent = 0.0;  // the last value against it
  bool last_at_least = false;
  std::optional<Apart> step;        // the clearest one
  std::vector<Apart> earlier;       // by day
  std::size_t visits = 0;           // days with a value
  std::size_t below_detection = 0;  // of them
  Series series;                    // what was left out, and why
  [[nodiscard]] bool found() const {
    return standing == Standing::fell || standing == Standing::rose || step.has_value() || !earlier.empty();
  }
};

[[nodiscard]] LevelChange level_change(const std::vector<Row>& rows, Protein p, const Noise& noise,
                                       const Shares& shares = {});

// The variance before the values, s0^2: so large a share of the known noise's, because of
// s^2 with this prior the logarithm's mean is the known noise's then. How many values it is worth.
inline constexpr double prior_worth = 6.5;
inline constexpr double variance_share = 0.85;
[[nodiscard]] double prior_variance(const std::vector<Row>& rows, const Series& series, Protein p, const Noise& noise);

}  // namespace drawdown::labs
