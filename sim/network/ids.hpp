// Places in the lists of a network, worked out once from a name. Each kind is a type of its own, so that a species
// cannot be taken for a lever; all can be used as an index into a vector of their kind's values.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <set>
#include <string>
#include <string_view>

namespace drawdown::network {

template <class Kind>
struct Id {
  constexpr Id() = default;
  explicit constexpr Id(std::size_t at) : index(static_cast<std::uint32_t>(at)) {}
  // NOLINTNEXTLINE(google-explicit-constructor): to stand between the brackets of a vector is what it is for
  constexpr operator std::size_t() const { return index; }
  std::uint32_t index = 0;
};

using SpeciesId = Id<struct SpeciesKind>;
using ReactionId = Id<struct ReactionKind>;

// How often anybody in this process has looked for a species, reaction, input, lever, protein or readout by its text.
// Nothing that is done again and again may: a test draws frames, takes steps and samples people and finds it unmoved.
inline std::atomic<std::uint64_t>& lookups_by_text() {
  static std::atomic<std::uint64_t> count{0};
  return count;
}

// Index of the row with this name, or -1.
template <class Rows>
[[nodiscard]] int index_of(const Rows& rows, std::string_view name) {
  lookups_by_text() += 1;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].name == name) return static_cast<int>(i);
  }
  return -1;
}

// The first name that is empty or has stood before, or null.
template <class Rows>
[[nodiscard]] const std::string* unnamed_or_repeated(const Rows& rows) {
  std::set<std::string_view> seen;
  for (const auto& row : rows) {
    if (row.name.empty() || !seen.insert(row.name).second) return &row.name;
  }
  return nullptr;
}

}  // namespace drawdown::network
