// exp, log and powers with the same bits everywhere. The C library's differ in the last bit from system to system;
// these are made of + - * / on doubles and of the exponent's bits alone, which IEEE 754 settles to the last bit, given
// that nothing is contracted (-ffp-contract=off) and doubles are computed with as doubles.
#pragma once

#include <cfloat>
#include <limits>

namespace drawdown::elementary {

static_assert(std::numeric_limits<double>::is_iec559 && FLT_EVAL_METHOD == 0,
              "the same bits everywhere need IEEE doubles without excess precision");
#ifdef __FAST_MATH__
#error "the same bits everywhere need arithmetic as written, not -ffast-math"
#endif

// Within 0.6 units in the last place (0.8 below the normal numbers); the ends and what is not a number as in C.
[[nodiscard]] double exp(double x);
[[nodiscard]] double log(double x);
// base to the `exponent`; base above 0, else not a number. Within one unit in the last place while the result lies
// between 1e-4 and 1e4.
[[nodiscard]] double power(double base, double exponent);

}  // namespace drawdown::elementary
