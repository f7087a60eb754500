// Which of the two proteins, and how far two of one person's results lie apart when nothing has changed.
#pragma once

#include <optional>

#include "labs/record.hpp"
#include "study/change_value.hpp"

namespace drawdown::labs {

enum class Protein { c3, c4 };

struct Noise {
  study::Variation c3 = study::c3_variation;
  study::Variation c4 = study::c4_variation;
  bool one_sided = false;  // only falls are asked about
  [[nodiscard]] const study::Variation& of(Protein p) const { return p == Protein::c3 ? c3 : c4; }
  [[nodiscard]] double z() const { return one_sided ? 1.644854 : 1.959964; }  // of two results and of the error bars
};

[[nodiscard]] const std::optional<Value>& value_of(const Row& row, Protein p);

}  // namespace drawdown::labs
