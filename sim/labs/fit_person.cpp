// Parameters, story, residuals.
#include "labs/fit_person.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "study/tangent.hpp"

namespace drawdown::labs {

namespace {

constexpr std::size_t most_samples = 24;
constexpr std::size_t most_knots = 6;
constexpr double debris = 3.0;  // antigen release while a fit looks for the antibody drive
constexpr double most_load = 10.0;
constexpr double load_scale = 4.0;  // of the half-normal prior at the first visit
constexpr double load_step = 3.0;   // between neighbouring knots
constexpr double liver_scale = 0.15;
constexpr double acute_scale = 0.35;

double own_scale(Protein p) {
  return study::log_sd({0.0, between_persons(p)});
}

}  // namespace

Problem::Problem(const std::vector<Row>& rows, const Noise& noise) : body_(body::make_body({})) {
  std::vector<const Row*> used;
  for (const Row& row : rows) {
    const auto counts = [](const std::optional<Value>& v) { return v && v->value > 0.0; };
    if (counts(row.c3) || counts(row.c4)) used.push_back(&row);
  }
  if (used.size() > most_samples) used.erase(used.begin(), used.end() - static_cast<std::ptrdiff_t>(most_samples));
  if (used.empty()) return;
  first_date_ = used.front()->day;
  for (const Row* row : used) {
    const double day = row->day - first_date_;
    if (days_.empty() || day > days_.back()) days_.push_back(day);
    for (const Protein p : {Protein::c3, Protein::c4}) {
      const auto& value = value_of(*row, p);
      if (!value || value->value <= 0.0) continue;
      data_.push_back({days_.size() - 1, p, std::log(value->value), study::log_sd(noise.of(p)), value->below});
    }
  }
  const std::size_t knots = std::min(most_knots, days_.size());
  for (std::size_t k = 0; k < knots; ++k) {
    knots_.push_back(knots == 1 ? 0.0 : days_[k * (days_.size() - 1) / (knots - 1)]);
  }
}

double Problem::natural(std::size_t i, double x) const {
  switch (i) {
    case own_c3:
      return std::exp(own_scale(Protein::c3) * x);
    case own_c4:
      return std::exp(own_scale(Protein::c4) * x);
    case liver:
      return 1.0 + liver_scale * x;
    case acute:
      return 1.0 + acute_scale * x;
    default:
      return load_scale * x;
  }
}

Bounds Problem::bounds(std::size_t i) const {
  switch (i) {
    case own_c3:
    case own_c4:
      return {-3.0, 3.0};
    case liver:
      return {(0.4 - 1.0) / liver_scale, (1.5 - 1.0) / liver_scale};
    case acute:
      return {(0.0 - 1.0) / acute_scale, (1.5 - 1.0) / acute_scale};
    default:
      return {0.0, most_load / load_scale};
  }
}

Prior Problem::prior90(std::size_t i) const {
  constexpr double z = 1.644854;
  switch (i) {
    case own_c3:
    case own_c4:
      return {natural(i, -z), natural(i, z)};
    case liver:
      return {1.0 - z * liver_scale, 1.0 + z * liver_scale};
    case acute:
      return {1.0 - z * acute_scale, 1.5};
    default:
      // The walk from the first visit on spreads it over nearly the whole range.
      return {0.05 * most_load, 0.95 * most_load};
  }
}

std::vector<double> Problem::start(int which) const {
  std::vector<double> x(parameters(), 0.0);
  const auto n = static_cast<double>(std::max<std::size_t>(1, knots_.size() - 1));
  for (std::size_t k = 0; k < knots_.size(); ++k) {
    const double rising = static_cast<double>(k) / n;
    x[first_load + k] = which == 0 ? 0.3 : which == 1 ? 1.2 : which == 2 ? 2.0 : 0.1 + 1.2 * rising;
  }
  return x;
}

double Problem::share(std::size_t knot, double day) const {
  const double here = knots_[knot];
  if (day <= here) {
    if (knot == 0) return 1.0;
    const double before = knots_[knot - 1];
    return day <= before ? 0.0 : (day - before) / (here - before);
  }
  if (knot + 1 == knots_.size()) return 1.0;
  const double after = knots_[knot + 1];
  return day >= after ? 0.0 : (after - day) / (after - here);
}

scenario::Scenario Problem::story(const std::vector<double>& x, const std::vector<WhatIf>& from_last,
                                  double more_days) const {
  static const body::LeverId drive = body::lever_at("antibody_drive");
  scenario::Scenario s;
  s.days = std::max(1.0, last_day() + more_days);
  s.levers[body::lever_at("synthesis_C3")] = natural(own_c3, x[own_c3]);
  s.levers[body::lever_at("synthesis_C4")] = natural(own_c4, x[own_c4]);
  s.levers[body::lever_at("hepatic_output")] = natural(liver, x[liver]);
  s.levers[body::lever_at("acute_phase_response")] = natural(acute, x[acute]);
  s.levers[body::lever_at("antigen_release")] = debris;
  s.levers[drive] = natural(first_load, x[first_load]);
  for (std::size_t k = 1; k < knots_.size(); ++k) {
    const double value = natural(first_load + k, x[first_load + k]);
    s.events.push_back({knots_[k - 1], drive, value, knots_[k] - knots_[k - 1], 0.0, ""});
  }
  for (const WhatIf& w : from_last) {
    const double value = w.times ? std::min(most_load, w.value * natural(last_load(), x[last_load()])) : w.value;
    s.events.push_back({last_day(), w.lever, value, 14.0, 0.0, ""});
  }
  return s;
}

std::shared_ptr<const Run> Problem::run(const std::vector<double>& x, const std::vector<WhatIf>& from_last,
                                        double more_days) const {
  const scenario::Scenario s = story(x, from_last, more_days);
  SimulateOptions options;
  // Usual: this person without complexes, with a liver as usual.
  options.usual_levers = quiet_levers(s);
  options.usual_levers[body::lever_at("hepatic_output")] = 1.0;
  return simulate(body_, s, options);
}

void Problem::residuals_of(const std::vector<double>& x, const Run& run, double* residuals) const {
  std::size_t r = 0;
  for (const Datum& d : data_) {
    const double level = d.protein == Protein::c3 ? run.c3(days_[d.day]) : run.c4(days_[d.day]);
    const double off = (std::log(std::max(level, 1e-6)) - d.log_value) / d.sd;
    residuals[r++] = d.below && off < 0.0 ? 0.0 : off;
  }
  for (std::size_t i = 0; i <= first_load; ++i) residuals[r++] = x[i];
  for (std::size_t k = 1; k < knots_.size(); ++k) {
    residuals[r++] = load_scale / load_step * (x[first_load + k] - x[first_load + k - 1]);
  }
}

void Problem::columns_of(const std::vector<double>& x, const Run& run, double** columns) const {
  static const std::array<body::LeverId, 5> levers{
      body::lever_at("synthesis_C3"), body::lever_at("synthesis_C4"), body::lever_at("hepatic_output"),
      body::lever_at("acute_phase_response"), body::lever_at("antibody_drive")};
  std::vector<std::size_t> asked;
  std::vector<study::Direction> directions;
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (columns[i] == nullptr) continue;
    const bool load = i >= first_load;
    // d lever / d x.
    double scale = load ? load_scale : i == liver ? liver_scale : acute_scale;
    if (i == own_c3) scale = own_scale(Protein::c3) * natural(i, x[i]);
    if (i == own_c4) scale = own_scale(Protein::c4) * natural(i, x[i]);
    asked.push_back(i);
    directions.push_back({levers[std::min<std::size_t>(i, first_load)], [this, i, load, scale](double day) {
                            return scale * (load ? share(i - first_load, std::max(day, 0.0)) : 1.0);
                          }});
  }
  const std::vector<study::LevelSlopes> slopes = study::tangents(run, directions, days_);
  for (std::size_t a = 0; a < asked.size(); ++a) {
    const std::size_t i = asked[a];
    double* column = columns[i];
    std::size_t r = 0;
    for (const Datum& d : data_) {
      const bool is_c3 = d.protein == Protein::c3;
      const double level = is_c3 ? run.c3(days_[d.day]) : run.c4(days_[d.day]);
      const double slope = is_c3 ? slopes[a].c3[d.day] : slopes[a].c4[d.day];
      const bool silent = d.below && std::log(std::max(level, 1e-6)) < d.log_value;
      column[r++] = silent || level <= 1e-6 ? 0.0 : slope / level / d.sd;
    }
    for (std::size_t k = 0; k <= first_load; ++k) column[r++] = k == i ? 1.0 : 0.0;
    for (std::size_t k = 1; k < knots_.size(); ++k) {
      const double step = load_scale / load_step;
      column[r++] = i == first_load + k ? step : i == first_load + k - 1 ? -step : 0.0;
    }
  }
}

double Problem::misfit(const std::vector<double>& x) const {
  const auto of = run(x);
  if (!of->complete()) return std::numeric_limits<double>::infinity();
  std::vector<double> all(residuals());
  residuals_of(x, *of, all.data());
  double sum = 0.0;
  for (std::size_t i = 0; i < data_.size(); ++i) sum += all[i] * all[i];
  return sum;
}

Eigen::VectorXd Problem::c4d_slope(const std::vector<double>& x) const {
  Eigen::VectorXd slope(static_cast<Eigen::Index>(x.size()));
  constexpr double h = 0.05;  // of a prior's width; far above the solver's error
  for (std::size_t i = 0; i < x.size(); ++i) {
    const auto log_at = [&](double by) {
      std::vector<double> moved = x;
      const Bounds b = bounds(i);
      moved[i] = std::clamp(x[i] + by, b.low, b.high);
      const auto of = run(moved);
      const double c4d = of->complete() ? of->serum(last_day()).c4d : std::nan("");
      return std::make_pair(moved[i], std::log(std::max(c4d, 1e-9)));  // keeps a NaN
    };
    const auto low = log_at(-h);
    const auto high = log_at(h);
    const double found = (high.second - low.second) / (high.first - low.first);
    slope(static_cast<Eigen::Index>(i)) = std::isfinite(found) ? found : 0.0;  // a run that failed tells nothing
  }
  return slope;
}

std::vector<Course> Problem::courses_ahead() {
  const body::LeverId drive = body::lever_at("antibody_drive");
  return {{"nothing", {}},
          {"double", {{drive, 2.0, true}}},
          {"calmed", {{body::lever_at("b_cell_treatment"), 0.7}, {body::lever_at("glucocorticoid"), 0.5}}},
          {"blocked", {{body::lever_at("block_c1s"), 0.9}}}};
}

}  // namespace drawdown::labs
