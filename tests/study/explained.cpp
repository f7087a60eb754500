#include "study/explained.hpp"

#include <algorithm>
#include <cmath>

#include "study/cohort.hpp"
#include "study/people.hpp"

namespace drawdown::tests {

using namespace study::explain;
using study::Key;
using study::normal;
using study::slot;
using study::uniform;

namespace {

constexpr auto c3 = static_cast<std::size_t>(Column::c3);
constexpr auto c4 = static_cast<std::size_t>(Column::c4);

bool once(std::size_t column) {
  return column == at(Column::c4d) || column == at(Column::ch50) || column == at(Column::factor_b) ||
         column == at(Column::crp);
}

// A scatter whose share 0.3 is an Ornstein-Uhlenbeck course of 45 days; plasma proteins share 0.4 of all of it.
class Scatter {
 public:
  explicit Scatter(const Key& key) : key_(key) {}
  std::array<double, columns> next(double days, std::uint32_t visit) {
    const double kept = visit == 0 ? 0.0 : std::exp(-days / 45.0);
    std::array<double, columns + 1> now{};
    for (std::uint32_t c = 0; c <= columns; ++c) {
      const double fresh = normal(key_, slot("truth: course"), visit * 32 + c);
      course_[c] = kept * course_[c] + std::sqrt(1.0 - kept * kept) * fresh;
      now[c] = std::sqrt(0.3) * course_[c] + std::sqrt(0.7) * normal(key_, slot("truth: day"), visit * 32 + c);
    }
    std::array<double, columns> out{};
    for (std::size_t c = 0; c < columns; ++c) {
      out[c] = column_rows[c].of_plasma ? std::sqrt(0.4) * now[columns] + std::sqrt(0.6) * now[c] : now[c];
    }
    return out;
  }

 private:
  Key key_;
  std::array<double, columns + 1> course_{};
};

double log_spread(double cv) {
  return std::sqrt(std::log(1.0 + cv * cv / 1e4));
}
double printed(double value, std::size_t column) {
  return column == c3 || column == c4 ? std::max(0.01, std::floor(value * 100.0 + 0.5) / 100.0) : value;
}

// By straight lines between the bank's knots.
double moved(const Bank& bank, std::size_t row, std::size_t person, std::size_t column, double after) {
  if (after <= 0.0) return 0.0;
  const std::int16_t* moves = bank.moves_of(row, person) + column * knots().size();
  for (std::size_t k = 1; k < knots().size(); ++k) {
    if (after > knots()[k]) continue;
    const double share = (after - knots()[k - 1]) / (knots()[k] - knots()[k - 1]);
    return (moves[k - 1] + share * (moves[k] - moves[k - 1])) / steps_a_nat;
  }
  return moves[knots().size() - 1] / steps_a_nat;
}

}  // namespace

Series planted(Explanation truth, const Bank& bank, std::uint64_t number, std::size_t visits, Tests tests) {
  const Key key{4711 + at(truth), number};
  const auto u = [&](const char* name, std::uint32_t i = 0) { return uniform(key, slot(name), i); };
  const auto* const found = std::find(simulated.begin(), simulated.end(), truth);
  const auto row = static_cast<std::size_t>(found - simulated.begin());
  // Healthy people's own levels: those of any row whose illness does nothing before it begins.
  const std::size_t own_row = found == simulated.end() ? 1 : row;
  const std::size_t person = number % bank.people_of(own_row);
  const double s = std::exp(0.3 * normal(key, slot("truth: scatter")));
  std::vector<double> days{0.0};
  for (std::uint32_t j = 1; j < visits; ++j) days.push_back(days.back() + std::floor(15.0 + 75.0 * u("truth: gap", j)));
  const double place = u("truth: onset");
  const double onset = place < earlier_share ? -earlier_days * (1.0 - place / earlier_share)
                                             : days.back() * (place - earlier_share) / (1.0 - earlier_share);
  const auto wrong = static_cast<std::size_t>(u("truth: which") * static_cast<double>(visits));
  const double mishap = u("truth: mishap");
  const double thin = std::log(least_dilution) + u("truth: thin") * std::log(most_dilution / least_dilution);
  Scatter scatter(key);
  Series series;
  series.scale_known.fill(true);
  for (std::uint32_t j = 0; j < visits; ++j) {
    Visit visit{days[j], {}};
    const auto w = scatter.next(j == 0 ? 0.0 : days[j] - days[j - 1], j);
    for (std::size_t c = 0; c < columns; ++c) {
      const bool taken = c == c3 || c == c4 || (tests == Tests::more_once && j + 1 == visits && once(c));
      const double besides =
          column_rows[c].between * normal(key, slot("truth: besides"), static_cast<std::uint32_t>(c));
      double y = bank.usual[c] + bank.own_of(own_row, person)[c] / steps_a_nat + besides;
      if (truth == Explanation::inherited) y += bank.inherited[person * columns + c] / steps_a_nat;
      if (found != simulated.end() && truth != Explanation::inherited)
        y += moved(bank, row, person, c, days[j] - onset);
      if (truth == Explanation::diluted) y -= bank.dilution[c] * thin * std::clamp((days[j] - onset) / 14.0, 0.0, 1.0);
      if (truth == Explanation::sample && j == wrong) y -= bank.dilution[c] * std::log(1.05 + 0.95 * mishap);
      const double a = normal(key, slot("truth: analytical"), j * 32 + static_cast<std::uint32_t>(c));
      y += s * (log_spread(column_rows[c].within) * w[c] + log_spread(column_rows[c].analytical) * a);
      if (taken) visit.values[c] = study::explain::Value{printed(std::exp(y) - column_rows[c].floor, c), false};
    }
    series.visits.push_back(visit);
  }
  return series;
}

std::vector<Series> of_group(const char* name, std::uint64_t seed, std::size_t people, std::size_t visits,
                             Tests tests) {
  const study::Group& group = study::group_named(name);
  constexpr double every = 40.0;
  constexpr double days = 520.0;
  const study::Cohort cohort(
      body::make_body({}), [&](std::size_t n) { return study::story_of(study::person(group, seed, n), days); }, people);
  study::CohortReads reads;
  for (int day = 0; day <= 520; ++day) reads.days.push_back(day);
  for (const ColumnRow& row : column_rows) reads.samples.push_back(body::standard_model()->readout(row.readout));
  std::vector<Series> all;
  const auto take = [&](std::size_t first, const std::vector<study::CohortCourse>& block) {
    for (std::size_t i = 0; i < block.size(); ++i) {
      const study::Person p = study::person(group, seed, first + i);
      const double before = 60.0 + 220.0 * uniform(p.key, slot("truth: before"));
      Series series;
      series.scale_known.fill(true);
      for (std::uint32_t j = 0; j < visits; ++j) {
        const double day = std::floor(p.onset_day - before + every * j);
        const auto from = static_cast<std::size_t>(std::clamp(day, 0.0, days)) * columns;
        Visit visit{day, {}};
        for (std::size_t c = 0; c < columns; ++c) {
          const bool pair = c == c3 || c == c4;
          if (!pair && !(tests == Tests::more_once && j + 1 == visits && once(c))) continue;
          const ColumnRow& row = column_rows[c];
          const double sd = study::log_sd({row.analytical, row.within});
          const double scattered =
              block[i].read[from + c] *
              std::exp(sd * normal(p.key, slot("truth: reading"), j * 32 + static_cast<std::uint32_t>(c)));
          visit.values[c] = study::explain::Value{printed(scattered, c), false};
        }
        series.visits.push_back(visit);
      }
      all.push_back(series);
    }
  };
  (void)cohort.run(0, people, reads, take, 2);
  return all;
}

Visit keep_back(Series& series) {
  const Visit last = series.visits.back();
  series.visits.pop_back();
  return last;
}

void Said::add(const Weights& w, Explanation truth) {
  const auto verdict = [&](Explanation e) { return w.each[at(e)].verdict; };
  people += 1;
  used_up += w.used_up() > said_from ? 1U : 0U;
  surely_used_up += w.used_up() > 0.95 ? 1U : 0U;
  noise_fits += verdict(Explanation::noise) == Verdict::fits ? 1U : 0U;
  const double behind = w.each[at(w.best())].log_evidence - w.each[at(Explanation::noise)].log_evidence;
  noise_out += behind > std::log(20.0) || w.each[at(Explanation::noise)].misfit < odd ? 1U : 0U;
  complexes_fit += verdict(Explanation::complexes) == Verdict::fits ? 1U : 0U;
  few += verdict(truth) == Verdict::cannot_tell ? 1U : 0U;
  truth_best += w.best() == truth ? 1U : 0U;
  truth_near += w.each[at(w.best())].log_evidence - w.each[at(truth)].log_evidence < std::log(fits_within) ? 1U : 0U;
  log_score -= std::log(std::max(1e-12, w.each[at(truth)].share));
  for (std::size_t e = 0; e < explanations; ++e) shares[e] += w.each[e].share;
}

void Said::foresaw(const Weights& w, const Visit& kept_back) {
  if (!w.c3 || !w.c4 || !kept_back.values[c3] || !kept_back.values[c4]) return;
  const auto inside = [](const Between& b, double x) { return x >= b.low && x <= b.high ? 1U : 0U; };
  foreseen += 1;
  next_c3 += inside(*w.c3, kept_back.values[c3]->value);
  next_c4 += inside(*w.c4, kept_back.values[c4]->value);
}

void Said::add(const Said& o) {
  people += o.people;
  used_up += o.used_up;
  surely_used_up += o.surely_used_up;
  noise_fits += o.noise_fits;
  noise_out += o.noise_out;
  complexes_fit += o.complexes_fit;
  truth_near += o.truth_near;
  truth_best += o.truth_best;
  next_c3 += o.next_c3;
  next_c4 += o.next_c4;
  foreseen += o.foreseen;
  few += o.few;
  log_score += o.log_score;
  for (std::size_t e = 0; e < explanations; ++e) shares[e] += o.shares[e];
}

}  // namespace drawdown::tests
