// Running the people and reading them.
#include "study/explain/bank.hpp"

#include <algorithm>
#include <cmath>

#include "network/elementary.hpp"
#include "study/cohort.hpp"

namespace drawdown::study::explain {

namespace {

constexpr double bank_tolerance = 3e-4;  // relative: far below a step of 1/4000 after a few steps, and far below noise

std::vector<body::ReadoutId> readouts() {
  std::vector<body::ReadoutId> ids;
  ids.reserve(columns);
  for (const ColumnRow& row : column_rows) ids.push_back(body::standard_model()->readout(row.readout));
  return ids;
}
double log_of(double value, std::size_t column) {
  return elementary::log(std::max(value, 0.0) + column_rows[column].floor);
}
std::int16_t stepped(double nats) {
  const double whole = std::floor(nats * steps_a_nat + 0.5);
  return static_cast<std::int16_t>(std::clamp(whole, -32767.0, 32767.0));
}

CohortOptions cohort_options() {
  CohortOptions options;
  options.rtol = bank_tolerance;
  return options;
}

// Mean and covariance of healthy people's quiet readouts.
bool measure_usual(Bank& bank, const std::shared_ptr<const body::Body>& body, const BankOptions& options,
                   Control* control) {
  const Cohort cohort(
      body, [&](std::size_t number) { return quiet_story(options.seed, number, 1.0); }, quiet_people, cohort_options());
  CohortReads reads;
  reads.days = {0.0};
  reads.samples = readouts();
  std::vector<std::array<double, columns>> all;
  const auto take = [&](std::size_t, const std::vector<CohortCourse>& block) {
    for (const CohortCourse& course : block) {
      if (course.read.empty()) continue;
      auto& logs = all.emplace_back();
      for (std::size_t c = 0; c < columns; ++c) logs[c] = log_of(course.read[c], c);
    }
  };
  const std::atomic<bool>* stop = control == nullptr ? nullptr : &control->cancel;
  if (cohort.run(0, quiet_people, reads, take, options.threads, stop) < quiet_people) return false;
  const auto n = static_cast<double>(all.size());
  for (std::size_t c = 0; c < columns; ++c) {
    for (const auto& logs : all) bank.usual[c] += logs[c] / n;
  }
  for (std::size_t c = 0; c < columns; ++c) {
    for (std::size_t d = 0; d < columns; ++d) {
      double sum = c == d ? n * column_rows[c].between * column_rows[c].between : 0.0;
      for (const auto& logs : all) sum += (logs[c] - bank.usual[c]) * (logs[d] - bank.usual[d]);
      bank.spread[c * columns + d] = sum / n;
    }
  }
  return true;
}

// All that is dissolved in the plasma at a quarter more of it; an injury does not thin out.
void measure_dilution(Bank& bank, const body::Body& body) {
  constexpr double times = 1.25;
  const body::Model& model = *body.model;
  std::vector<double> thin = body.rest;
  for (double& x : thin) x /= times;
  const auto ids = readouts();
  const auto levers = body::resting_levers();
  for (std::size_t c = 0; c < columns; ++c) {
    const double before = log_of(model.from_sample(ids[c], body.rest.data(), levers.data()), c);
    const double after = log_of(model.from_sample(ids[c], thin.data(), levers.data()), c);
    bank.dilution[c] = (before - after) / elementary::log(times);
  }
  bank.dilution[at(Column::crp)] = 1.0;
  bank.dilution[at(Column::anti_dsdna)] = 1.0;
  bank.dilution[at(Column::urine_protein)] = 0.0;
}

void keep(Bank& bank, std::size_t row, std::size_t person, const CohortCourse& course) {
  std::int16_t* own = bank.own.data() + (bank.first_of(row) + person) * columns;
  if (course.read.empty()) {
    std::fill(own, own + columns, Bank::missing);
    return;
  }
  const bool for_good = simulated[row] == Explanation::inherited;
  const std::size_t times = course.read.size() / columns;
  for (std::size_t c = 0; c < columns; ++c) {
    const double quiet = log_of(course.read[c], c);
    own[c] = stepped(quiet - bank.usual[c]);
    const auto moved = [&](std::size_t time) { return stepped(log_of(course.read[time * columns + c], c) - quiet); };
    if (for_good) {
      bank.inherited[person * columns + c] = moved(times - 1);
    } else {
      std::int16_t* to = bank.moves.data() + ((bank.first_of(row) + person) * columns + c) * knots().size();
      for (std::size_t k = 0; k + 1 < times; ++k) to[k] = moved(k + 1);
    }
  }
}

// Own levels about the usual one: what a person is before the cause says nothing of the cause.
void centre(Bank& bank, std::size_t row) {
  for (std::size_t c = 0; c < columns; ++c) {
    double sum = 0.0;
    double count = 0.0;
    for (std::size_t p = 0; p < bank.people_of(row); ++p) {
      if (!bank.has(row, p)) continue;
      sum += bank.own[(bank.first_of(row) + p) * columns + c];
      count += 1.0;
    }
    const double middle = count > 0.0 ? sum / count : 0.0;
    for (std::size_t p = 0; p < bank.people_of(row); ++p) {
      std::int16_t& own = bank.own[(bank.first_of(row) + p) * columns + c];
      if (bank.has(row, p)) own = stepped((own - middle) / steps_a_nat);
    }
  }
}

}  // namespace

const std::vector<double>& knots() {
  static const std::vector<double> all = [] {
    std::vector<double> days;
    const auto to = [&](int last, int step) {
      while (days.empty() || days.back() < last) days.push_back(days.empty() ? 0.0 : days.back() + step);
    };
    to(60, 2);
    to(200, 5);
    to(400, 10);
    to(1600, 40);
    return days;
  }();
  return all;
}

void Bank::resize(std::size_t so_many) {
  people = so_many;
  static_assert(simulated.back() == Explanation::inherited);
  own.resize(first_of(simulated.size()) * columns);
  moves.resize(first_of(simulated.size() - 1) * columns * knots().size());
  inherited.resize(people_of(simulated.size() - 1) * columns);
}

std::optional<Bank> make_bank(const BankOptions& options, Control* control) {
  Bank bank;
  bank.resize(options.people);
  const auto body = body::make_body(body::Patient{});
  measure_dilution(bank, *body);
  if (control != nullptr) control->building = true;
  if (!measure_usual(bank, body, options, control)) return std::nullopt;
  for (std::size_t row = 0; row < simulated.size(); ++row) {
    const bool for_good = simulated[row] == Explanation::inherited;
    const double days = begins + (for_good ? 400.0 : knots().back());
    CohortReads reads;
    reads.samples = readouts();
    reads.days = {0.0};
    if (for_good) {
      reads.days.push_back(days);
    } else {
      for (const double day : knots()) reads.days.push_back(begins + day);
    }
    const Cohort cohort(
        body, [&](std::size_t number) { return story(simulated[row], options.seed, number, days); },
        bank.people_of(row), cohort_options());
    const auto take = [&](std::size_t first, const std::vector<CohortCourse>& block) {
      for (std::size_t i = 0; i < block.size(); ++i) keep(bank, row, first + i, block[i]);
      if (control == nullptr) return;
      const double done = static_cast<double>(first + block.size()) / static_cast<double>(bank.people_of(row));
      control->progress = (static_cast<double>(row) + done) / static_cast<double>(simulated.size());
    };
    const std::atomic<bool>* stop = control == nullptr ? nullptr : &control->cancel;
    if (cohort.run(0, bank.people_of(row), reads, take, options.threads, stop) < bank.people_of(row))
      return std::nullopt;
    centre(bank, row);
  }
  if (control != nullptr) control->building = false;
  return bank;
}

}  // namespace drawdown::study::explain
