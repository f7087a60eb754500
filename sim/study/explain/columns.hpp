// What a laboratory or a clinician measures again and again of a person, as the weighing of explanations takes it: how
// it scatters from sample to sample, and how it spreads between healthy people.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace drawdown::study::explain {

// In the order of every table here. Units are the readouts' of the model (body/readouts.cpp).
enum class Column : std::size_t { c3, c4, ch50, ah50, c1q, c4d, factor_b, crp, anti_dsdna, urine_protein };
inline constexpr std::size_t columns = 10;
[[nodiscard]] constexpr std::size_t at(Column column) {
  return static_cast<std::size_t>(column);
}

struct ColumnRow {
  std::string_view readout;   // the model's name
  double analytical, within;  // coefficients of variation, %
  bool of_plasma;             // a plasma protein, or made up of them: one day's values scatter together
  double floor;               // added before a logarithm is taken: below it nobody measures
  double between;  // standard deviation of the logarithm between healthy people, besides what the sampler draws
};
// C3 and C4 as change_value.hpp (from memory). CRP and urine protein within a person: Ricos 1999 Scand J Clin Lab
// Invest 59:491 (from memory). All else assumed, of the size that such tests commonly have.
inline constexpr std::array<ColumnRow, columns> column_rows{{
    {"C3", 3.0, 5.2, true, 0.005, 0.05},
    {"C4", 4.0, 8.9, true, 0.002, 0.15},
    {"CH50", 8.0, 8.0, true, 1.0, 0.10},
    {"AH50", 8.0, 8.0, true, 1.0, 0.12},
    {"C1q", 6.0, 7.0, false, 0.5, 0.10},
    {"C4d", 10.0, 15.0, false, 0.05, 0.30},
    {"factor B", 5.0, 7.0, true, 1.0, 0.08},
    {"CRP-like", 5.0, 42.0, false, 0.5, 0.90},
    {"anti-dsDNA", 15.0, 20.0, false, 0.30, 1.00},
    {"urine protein", 8.0, 36.0, false, 0.03, 0.50},
}};

}  // namespace drawdown::study::explain
