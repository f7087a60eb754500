// Random numbers that are looked up, not rolled: each is a function of a seed, a person's number, the name of what is
// drawn and how often that was drawn before. So person 17 is person 17 whoever else is drawn and in whatever order, and
// a quantity added later has a name of its own and moves none of the others. The same bits on every machine: whole
// numbers, + - * /, square roots and the core's own logarithm and exponential only.
#pragma once

#include <array>
#include <cstdint>
#include <string_view>

namespace drawdown::study {

// A drawn quantity's place in the counter: the 32-bit FNV-1a hash of its name (offset 2166136261, prime 16777619). That
// no two names in use share one is tested.
struct Slot {
  std::uint32_t place = 0;
};
[[nodiscard]] constexpr Slot slot(std::string_view name) {
  std::uint32_t hash = 2166136261U;
  for (const char c : name) {
    hash ^= static_cast<std::uint8_t>(c);
    hash *= 16777619U;
  }
  return {hash};
}

// Whose number it is.
struct Key {
  std::uint64_t seed = 0;    // of the whole group
  std::uint64_t person = 0;  // the person's number in it
};

// One block of Philox4x32 with ten rounds (Salmon, Moraes, Dror & Shaw 2011, "Parallel random numbers: as easy as
// 1, 2, 3"), by the Random123 library.
[[nodiscard]] std::array<std::uint32_t, 4> philox(const std::array<std::uint32_t, 4>& counter,
                                                  const std::array<std::uint32_t, 2>& key);

// Between 0 and 1, never either: (a 52-bit number + 1/2) / 2^52 from the block at the counter (the person's number, low
// and high half; the slot; `index`) under the seed. `index` tells draws of one quantity apart, as one of several
// visits.
[[nodiscard]] double uniform(const Key& key, Slot of, std::uint32_t index = 0);

// The standard normal distribution's quantile at p in (0, 1): algorithm AS 241, PPND16 (Wichura 1988 Applied Statistics
// 37:477), published as accurate to about one part in 10^16; a test holds it within 1e-14 of Boost.Math. Not a number
// outside.
[[nodiscard]] double normal_quantile(double p);
// Standard normal: the quantile at `uniform`, so never beyond 8.3.
[[nodiscard]] double normal(const Key& key, Slot of, std::uint32_t index = 0);

}  // namespace drawdown::study
