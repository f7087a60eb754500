// The pass along the run.
#include "study/tangent.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "solve/sparse_lu.hpp"

namespace drawdown::study {

namespace {

constexpr double gamma = 0.29289321881345254;  // 1 - 1 / sqrt 2
constexpr double longest_step = 120.0;         // hours
constexpr std::size_t pieces = 2;              // of each of the run's steps

class Pass {
 public:
  Pass(const Run& run, const std::vector<Direction>& directions)
      : run_(run),
        directions_(directions),
        bound_(run.body().bound()),
        lu_(run.body().model->lu()),
        timeline_(run.story()),
        n_(bound_.plan().species),
        x_(n_),
        base_(n_),
        moved_(n_),
        values_(bound_.pattern().entries.size()),
        unused_(n_),
        s_(directions.size() * n_, 0.0),
        k1_(s_.size()),
        k2_(s_.size()),
        push_(s_.size()) {
    for (const Direction& d : directions) {
      if (std::find(levers_.begin(), levers_.end(), d.lever) == levers_.end()) levers_.push_back(d.lever);
    }
  }

  void settle() {
    linearise(-1.0);
    double h = 4.0;
    for (double t = 0.0; t < 3 * 8760.0; t += h, h *= 1.8) {
      factorise(1.0 / h);
      for (std::size_t i = 0; i < s_.size(); ++i) s_[i] = s_[i] / h + push_[i];
      for (std::size_t p = 0; p < directions_.size(); ++p) lu_.solve(&s_[p * n_]);
    }
  }

  void step(double t, double h) {
    // Just inside the step: at its ends the levers may jump.
    linearise(t + gamma * h);
    factorise(1.0 / (gamma * h));
    stage(s_, k1_, h);
    linearise(t + (1.0 - 1e-9) * h);
    factorise(1.0 / (gamma * h));
    for (std::size_t i = 0; i < s_.size(); ++i) s_[i] += (1.0 - gamma) * h * k1_[i];
    stage(s_, k2_, h);
    for (std::size_t i = 0; i < s_.size(); ++i) s_[i] += gamma * h * k2_[i];
  }

  [[nodiscard]] double at(std::size_t parameter, std::size_t species) const { return s_[parameter * n_ + species]; }

 private:
  // k = (I - gamma h J)^-1 (J s + b), by the identity shift * I - J with shift = 1 / (gamma h).
  void stage(const std::vector<double>& s, std::vector<double>& k, double h) {
    const auto& entries = bound_.pattern().entries;
    k = push_;
    for (std::size_t p = 0; p < directions_.size(); ++p) {
      double* out = &k[p * n_];
      const double* in = &s[p * n_];
      for (std::size_t e = 0; e < entries.size(); ++e) {
        out[entries[e].first] += values_[e] * in[entries[e].second];
      }
      for (std::size_t i = 0; i < n_; ++i) out[i] /= gamma * h;
      lu_.solve(out);
    }
  }

  void factorise(double shift) {
    if (!lu_.factorise(shift, values_.data())) throw std::runtime_error("tangents: a pivot cannot be trusted");
  }

  // J and the push of every parameter at an hour; before 0 the settled start.
  void linearise(double t) {
    const bool before = t < 0.0;
    const double day = before ? -1.0 : t / 24.0;
    run_.course().state(std::max(t, 0.0), x_.data());
    std::vector<double> levers = before ? run_.story().levers : timeline_.levers_at(day);
    bound_.bind(levers, {}, 0.0);
    bound_.linearise(0.0, x_.data(), base_.data(), values_.data(), unused_.data());
    std::fill(push_.begin(), push_.end(), 0.0);
    for (const body::LeverId lever : levers_) {
      const double value = levers[lever];
      const double by = 1e-5 * (1.0 + std::abs(value));
      levers[lever] = value + by;
      bound_.bind(levers, {}, 0.0);
      bound_.derivative(0.0, x_.data(), moved_.data());
      levers[lever] = value;
      for (std::size_t p = 0; p < directions_.size(); ++p) {
        if (directions_[p].lever != lever) continue;
        const double share = directions_[p].share(day);
        if (share == 0.0) continue;
        for (std::size_t i = 0; i < n_; ++i) push_[p * n_ + i] = share * (moved_[i] - base_[i]) / by;
      }
    }
  }

  const Run& run_;
  const std::vector<Direction>& directions_;
  network::Bound<double> bound_;
  solve::SparseLu<double> lu_;
  scenario::Timeline timeline_;
  std::size_t n_;
  std::vector<body::LeverId> levers_;
  std::vector<double> x_, base_, moved_, values_, unused_;
  std::vector<double> s_, k1_, k2_, push_;  // a parameter after the other
};

// The run's own steps, halved and not too long, and the days asked about.
std::vector<double> grid(const Run& run, const std::vector<double>& days) {
  std::vector<double> hours{0.0};
  const solve::Course& course = run.course();
  for (std::size_t i = 0; i < course.step_count(); ++i) {
    const double from = course.step_start(i);
    const double to = course.step_end(i);
    const auto n = std::max(pieces, static_cast<std::size_t>(std::ceil((to - from) / longest_step)));
    for (std::size_t k = 1; k <= n; ++k) {
      hours.push_back(from + (to - from) * static_cast<double>(k) / static_cast<double>(n));
    }
  }
  for (const double day : days) hours.push_back(24.0 * day);
  std::sort(hours.begin(), hours.end());
  const double last = days.empty() ? 0.0 : 24.0 * days.back();
  std::vector<double> out;
  for (const double t : hours) {
    if (t < 0.0 || t > last) continue;
    if (out.empty() || t - out.back() > 1e-6) out.push_back(t);
  }
  return out;
}

}  // namespace

std::vector<LevelSlopes> tangents(const Run& run, const std::vector<Direction>& directions,
                                  const std::vector<double>& days) {
  Pass pass(run, directions);
  pass.settle();
  std::vector<LevelSlopes> slopes(directions.size());
  const body::Model& model = *run.body().model;
  const body::ProteinId c3 = model.known().c3;
  const body::ProteinId c4 = model.known().c4;
  const std::vector<double> hours = grid(run, days);
  std::size_t next = 0;
  const auto note = [&](double t) {
    for (; next < days.size() && 24.0 * days[next] <= t + 1e-6; ++next) {
      for (std::size_t p = 0; p < directions.size(); ++p) {
        slopes[p].c3.push_back(model.grams_per_litre(c3, pass.at(p, model.in_plasma(c3))));
        slopes[p].c4.push_back(model.grams_per_litre(c4, pass.at(p, model.in_plasma(c4))));
      }
    }
  };
  note(0.0);
  for (std::size_t i = 1; i < hours.size(); ++i) {
    pass.step(hours[i - 1], hours[i] - hours[i - 1]);
    note(hours[i]);
  }
  return slopes;
}

}  // namespace drawdown::study
