#include "study/explain/candidates.hpp"

#include <algorithm>
#include <cmath>

#include "study/random.hpp"

namespace drawdown::study::explain {

namespace {

constexpr std::uint64_t seed = 77;  // of onsets and of what is drawn on the spot

// Stratified: one in each of so many equal shares of the prior.
class Onsets {
 public:
  Onsets(const Series& series, std::size_t shares)
      : first_(series.visits.front().day), last_(series.visits.back().day), shares_(static_cast<double>(shares)) {}
  [[nodiscard]] double day(std::size_t person, std::size_t shift) const {
    static constexpr Slot place = slot("explain: onset");
    const double within = uniform({seed, person}, place);
    const double u = (static_cast<double>(shift) + within) / shares_;
    if (u < earlier_share) return first_ - earlier_days * (1.0 - u / earlier_share);
    return first_ + (last_ - first_) * (u - earlier_share) / (1.0 - earlier_share);
  }

 private:
  double first_, last_, shares_;
};

// Place among the knots: whole part and what is left.
double place_of(double after) {
  if (after <= 60.0) return std::max(0.0, after) / 2.0;
  if (after <= 200.0) return 30.0 + (after - 60.0) / 5.0;
  if (after <= 400.0) return 58.0 + (after - 200.0) / 10.0;
  return std::min(78.0 + (after - 400.0) / 40.0, static_cast<double>(knots().size() - 1));
}
constexpr double step = 1.0 / steps_a_nat;
double between(const std::int16_t* moves, double place) {
  const auto k = static_cast<std::size_t>(place);
  const std::size_t next = std::min(k + 1, knots().size() - 1);
  const double rest = place - static_cast<double>(k);
  return step * ((1.0 - rest) * moves[k] + rest * moves[next]);
}
const double shift_of_mean = std::sqrt(1.0 - kept_near * kept_near);

class OfTheBank : public Candidates {
 public:
  OfTheBank(std::size_t row, const Series& series, const Bank& bank, std::size_t most, std::size_t times)
      : Candidates(std::min(most * eighths[row] / 8, bank.people_of(row)), onsets * times, true),
        row_(row),
        series_(&series),
        bank_(&bank),
        onsets_(series, onsets * times) {}
  [[nodiscard]] bool has(std::size_t person) const override { return bank_->has(row_, person); }
  [[nodiscard]] double move(std::size_t candidate, Column column, double day, std::size_t) const override {
    const std::size_t person = candidate / shifts();
    const double place = place_of(day - onsets_.day(person, candidate % shifts()));
    return between(bank_->moves_of(row_, person) + at(column) * knots().size(), place);
  }
  [[nodiscard]] double level(std::size_t person, Column column) const override {
    if (!series_->scale_known[at(column)]) return 0.0;
    return shift_of_mean * step * bank_->own_of(row_, person)[at(column)];
  }
  void fill(std::size_t first, const std::vector<Entry>& entries, float* moves) const override {
    const std::size_t person = first / shifts();
    std::array<double, onsets> begin{};
    for (std::size_t i = 0; i < onsets; ++i) begin[i] = onsets_.day(person, first % shifts() + i);
    // Entries stand by visit: places are worked out once a day.
    std::array<double, onsets> places{};
    double day = 1e300;
    for (std::size_t e = 0; e < entries.size(); ++e) {
      const Entry& entry = entries[e];
      if (entry.day != day) {
        day = entry.day;
        for (std::size_t i = 0; i < onsets; ++i) places[i] = place_of(day - begin[i]);
      }
      const std::int16_t* of = bank_->moves_of(row_, person) + at(entry.column) * knots().size();
      for (std::size_t i = 0; i < onsets; ++i) moves[e * block + i] = static_cast<float>(between(of, places[i]));
    }
  }

 private:
  std::size_t row_;
  const Series* series_;
  const Bank* bank_;
  Onsets onsets_;
};

class Inherited : public Candidates {
 public:
  Inherited(std::size_t row, const Series& series, const Bank& bank, std::size_t most)
      : Candidates(std::min(most * eighths[row] / 8, bank.people_of(row)), 1, true),
        row_(row),
        series_(&series),
        bank_(&bank) {}
  [[nodiscard]] bool has(std::size_t person) const override { return bank_->has(row_, person); }
  [[nodiscard]] double move(std::size_t person, Column column, double, std::size_t) const override {
    return series_->scale_known[at(column)] ? step * bank_->inherited[person * columns + at(column)] : 0.0;
  }
  [[nodiscard]] double level(std::size_t person, Column column) const override {
    if (!series_->scale_known[at(column)]) return 0.0;
    return shift_of_mean * step * bank_->own_of(row_, person)[at(column)];
  }

 private:
  std::size_t row_;
  const Series* series_;
  const Bank* bank_;
};

class Noise : public Candidates {
 public:
  Noise() : Candidates(1, 1, false) {}
  [[nodiscard]] double move(std::size_t, Column, double, std::size_t) const override { return 0.0; }
};

class Diluted : public Candidates {
 public:
  Diluted(const Series& series, const Bank& bank)
      : Candidates(64, onsets, false), bank_(&bank), onsets_(series, onsets) {}
  [[nodiscard]] double move(std::size_t candidate, Column column, double day, std::size_t) const override {
    const std::size_t person = candidate / onsets;
    const double share = (static_cast<double>(person) + 0.5) / static_cast<double>(people());
    const double full = std::log(least_dilution) + share * std::log(most_dilution / least_dilution);
    const double after = day - onsets_.day(person, candidate % onsets);
    return -bank_->dilution[at(column)] * full * std::clamp(after / 14.0, 0.0, 1.0);
  }

 private:
  const Bank* bank_;
  Onsets onsets_;
};

// Each visit with 64 mishaps.
class OneSample : public Candidates {
 public:
  OneSample(const Series& series, const Bank& bank) : Candidates(series.visits.size() * mishaps, 1, false) {
    const body::Model& model = *body::standard_model();
    const body::LeverId fridge = model.lever("fridge_days");
    const body::LeverId cold = model.lever("cold_activation");
    for (std::size_t i = 0; i < mishaps; ++i) {
      std::vector<double> levers = model.resting_levers();
      const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(mishaps);
      auto& moves = moves_.emplace_back();
      const double left = share - watered_share;
      if (left < 0.0) {
        const double more = std::log(1.05) + share / watered_share * std::log(2.0 / 1.05);
        for (std::size_t c = 0; c < columns; ++c) moves[c] = -bank.dilution[c] * more;
        continue;
      }
      if (left < fridge_share) {
        levers[fridge] = 1.0 + 6.0 * left / fridge_share;
      } else {
        levers[cold] = 0.3 + 0.7 * (left - fridge_share) / (1.0 - watered_share - fridge_share);
      }
      for (std::size_t c = 0; c < columns; ++c) {
        const auto id = model.readout(column_rows[c].readout);
        const double before = std::exp(bank.usual[c]) - column_rows[c].floor;
        const double after = std::max(0.0, model.in_sample(id, before, levers.data()));
        moves[c] = std::log((after + column_rows[c].floor) / (before + column_rows[c].floor));
      }
    }
  }
  [[nodiscard]] double move(std::size_t candidate, Column column, double, std::size_t visit) const override {
    return candidate / mishaps == visit ? moves_[candidate % mishaps][at(column)] : 0.0;
  }

 private:
  static constexpr std::size_t mishaps = 64;
  std::vector<std::array<double, columns>> moves_;
};

}  // namespace

void Candidates::fill(std::size_t first, const std::vector<Entry>& entries, float* moves) const {
  for (std::size_t e = 0; e < entries.size(); ++e) {
    for (std::size_t i = 0; i < block; ++i) {
      const bool there = first + i < size();
      moves[e * block + i] =
          there ? static_cast<float>(move(first + i, entries[e].column, entries[e].day, entries[e].visit)) : 0.0F;
    }
  }
}

std::unique_ptr<Candidates> candidates_for(Explanation e, const Series& series, const Bank& bank,
                                           std::size_t most_people, std::size_t times) {
  const auto* const found = std::find(simulated.begin(), simulated.end(), e);
  const auto row = static_cast<std::size_t>(found - simulated.begin());
  switch (e) {
    case Explanation::noise:
      return std::make_unique<Noise>();
    case Explanation::diluted:
      return std::make_unique<Diluted>(series, bank);
    case Explanation::sample:
      return std::make_unique<OneSample>(series, bank);
    case Explanation::inherited:
      return std::make_unique<Inherited>(row, series, bank, most_people);
    default:
      return std::make_unique<OfTheBank>(row, series, bank, most_people, times);
  }
}

}  // namespace drawdown::study::explain
