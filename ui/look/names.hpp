// Enumerators by name, for enums whose names stand in a table in the same order (beside each enum): what views, rooms,
// depths and tracks are called in keys of the words, on the command line, in stories and in the remembered session.
#pragma once

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>

namespace drawdown::look {

template <std::size_t N>
using Names = std::array<std::string_view, N>;

// The enumerator of that name, if there is one.
template <class Enum, std::size_t N>
[[nodiscard]] std::optional<Enum> named(const Names<N>& names, std::string_view name) {
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end()) return std::nullopt;
  return static_cast<Enum>(found - names.begin());
}

template <class Enum, std::size_t N>
[[nodiscard]] std::string name_of(const Names<N>& names, Enum value) {
  return std::string(names.at(static_cast<std::size_t>(value)));
}

}  // namespace drawdown::look
