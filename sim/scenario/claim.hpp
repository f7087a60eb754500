// A claim that a step of a talk makes about the numbers, so that the talk can be held to them:
//   PROTEIN QUANTITY OP NUMBER                     C4 out > 1.1
//   PROTEIN QUANTITY OP PROTEIN QUANTITY           C4 level < C3 level
// either of them followed by `on day N` or `from day A to day B` (every whole day of them); else the step's own day.
// PROTEIN is C3 or C4. OP is <, <=, > or >=. NUMBER has at most fifteen digits. QUANTITY is
//   level   the level / this person's usual level
//   in      grams made and given a day / usually made
//   out     grams used and taken out a day / usually used
//   share   share of the pool used a day / the usual share
//   slope   change of the pool, % of the pool a day
//   g/L     the level itself
#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace drawdown::scenario {

enum class Quantity { level, in, out, share, slope, grams_per_litre };
inline constexpr std::array<std::string_view, 6> quantity_names{"level", "in", "out", "share", "slope", "g/L"};
enum class Relation { less, at_most, more, at_least };
inline constexpr std::array<std::string_view, 4> relation_names{"<", "<=", ">", ">="};

struct Measured {
  bool c4 = false;  // else C3
  Quantity quantity = Quantity::level;
};

struct Claim {
  std::string text;  // as written
  Measured left;
  Relation relation = Relation::less;
  std::optional<Measured> right;  // else `number`
  double number = 0.0;
  double from_day = -1.0;  // below 0 = the step's day
  double to_day = -1.0;
  std::size_t line = 0, column = 0;  // in the file
};

inline constexpr std::size_t longest_claim = 120;  // characters
inline constexpr std::size_t most_claims = 20;     // of one step

struct ClaimRead {
  std::optional<Claim> claim;
  std::string problem;  // why there is none, and what is allowed
};
// Days from 0 to `last_day`.
[[nodiscard]] ClaimRead read_claim(const std::string& text, double last_day);

}  // namespace drawdown::scenario
