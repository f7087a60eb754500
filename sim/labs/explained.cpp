#include "labs/explained.hpp"

#include <algorithm>

#include "labs/cells.hpp"

namespace drawdown::labs {

namespace {

using study::explain::at;
using Test = study::explain::Column;

struct Taken {
  Test test;
  Column column;
  std::optional<Value> Row::*value;
  double of_normal;  // the standard person's, in the model's unit; 0: no share of normal is taken
};
constexpr std::array<Taken, study::explain::columns> taken{{
    {Test::c3, Column::c3, &Row::c3, 0.0},
    {Test::c4, Column::c4, &Row::c4, 0.0},
    {Test::ch50, Column::ch50, &Row::ch50, 100.0},
    {Test::ah50, Column::ah50, &Row::ah50, 100.0},
    {Test::c1q, Column::c1q, &Row::c1q, 100.0},
    {Test::c4d, Column::c4d, &Row::c4d, 0.0},
    {Test::factor_b, Column::factor_b, &Row::factor_b, 210.0},
    {Test::crp, Column::crp, &Row::crp, 0.0},
    {Test::anti_dsdna, Column::anti_dsdna, &Row::anti_dsdna, 0.0},
    {Test::urine_protein, Column::urine_protein, &Row::urine_protein, 0.0},
}};

// By what a value is multiplied for the model's unit; nothing if nobody knows.
std::optional<double> scale(const Taken& of, const Titles& titles) {
  if (of.test == Test::c3 || of.test == Test::c4) return 1.0;
  const auto title = titles.find(of.column);
  if (title == titles.end()) return std::nullopt;
  const std::string plain = plain_name(title->second);
  const auto ends = [&](std::string_view unit) {
    return plain.size() > unit.size() && plain.compare(plain.size() - unit.size(), unit.size(), unit) == 0;
  };
  if (of.of_normal > 0.0 && title->second.find('%') != std::string::npos) return of.of_normal / 100.0;
  if (of.test == Test::crp && ends("mgdl")) return 10.0;
  if ((of.test == Test::crp || of.test == Test::c4d) && ends("mgl")) return 1.0;
  return std::nullopt;
}

}  // namespace

study::explain::Series series_of(const std::vector<Row>& rows, const Titles& titles, const Noise& noise) {
  study::explain::Series series;
  series.c3 = noise.c3;
  series.c4 = noise.c4;
  std::array<double, study::explain::columns> times{};
  for (const Taken& of : taken) {
    const auto known = scale(of, titles);
    series.scale_known[at(of.test)] = known.has_value();
    times[at(of.test)] = known.value_or(1.0);
  }
  for (const Row& row : rows) {
    study::explain::Visit visit{static_cast<double>(row.day), {}};
    for (const Taken& of : taken) {
      const std::optional<Value>& value = row.*of.value;
      if (!value || !(value->value > 0.0)) continue;
      visit.values[at(of.test)] = study::explain::Value{value->value * times[at(of.test)], value->below};
    }
    series.visits.push_back(visit);
  }
  return series;
}

Explained explained(const std::vector<Row>& rows, const Titles& titles, const Noise& noise,
                    const study::explain::Bank& bank, study::explain::Control* control) {
  Explained out;
  study::explain::Series series = series_of(rows, titles, noise);
  if (!rows.empty()) out.first_day = rows.front().day;
  for (study::explain::Visit& visit : series.visits) visit.day -= out.first_day;
  out.treatment = std::any_of(rows.begin(), rows.end(), [](const Row& row) { return !row.treatment.empty(); });
  out.flares = std::any_of(rows.begin(), rows.end(), [](const Row& row) { return row.flare == true; });
  out.weights = study::explain::weigh(series, bank, {}, control);
  return out;
}

}  // namespace drawdown::labs
