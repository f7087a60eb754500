// Simulated people whose level is known: what the rules for own results are tried on. A stated model, not a person.
//
// Visits 30 to 120 days apart. On the logarithm a value is the own level, plus scatter of the known noise's standard
// deviation (5.2 and 8.9 % within, 3 and 4 % of the method, unless told otherwise) times a factor of the person's,
// log-normal with standard deviation 0.3, its C3 and C4 correlated by 0.5; in 30 % of people 0.6 of the variance goes
// with itself over time (exp(-dt / 45 d)). Printed to 0.01 g/L. Own levels 1.2 and 0.25 g/L, unless told otherwise.
#pragma once

#include <array>
#include <cmath>
#include <random>
#include <vector>

#include "labs/noise.hpp"

namespace drawdown::tests {

struct Mix {
  std::array<double, 2> level{1.2, 0.25};
  labs::Noise truth;  // of the values, whatever the rules are told
  double spread = 0.3;
  double correlated = 0.3;        // of people
  std::array<double, 2> limit{};  // of detection, g/L
};

class People {
 public:
  explicit People(unsigned seed, Mix of = {}) : random_(seed), mix_(of) {}

  int visits(int from = 4, int to = 20) { return from + static_cast<int>(uniform() * (to - from + 1)); }
  double uniform() { return std::uniform_real_distribution<double>(0.0, 1.0)(random_); }
  double normal() { return std::normal_distribution<double>()(random_); }

  // `off`: by visit and protein, what is added to the logarithm.
  std::vector<labs::Row> rows(int n, const std::vector<std::array<double, 2>>& off = {}) {
    std::vector<labs::Row> all(static_cast<std::size_t>(n));
    const double first = normal();
    const double second = 0.5 * first + std::sqrt(0.75) * normal();
    factors = {std::exp(mix_.spread * first), std::exp(mix_.spread * second)};
    const bool correlated = uniform() < mix_.correlated;
    std::array<double, 2> slow{normal(), normal()};
    int day = 18000;
    for (std::size_t i = 0; i < all.size(); ++i) {
      const int gap = 30 + static_cast<int>(uniform() * 91.0);
      day += gap;
      all[i].day = day;
      const double keeps = std::exp(-gap / 45.0);
      for (std::size_t k = 0; k < 2; ++k) {
        slow[k] = keeps * slow[k] + std::sqrt(1.0 - keeps * keeps) * normal();
        const double fast = normal();
        const auto p = k == 0 ? labs::Protein::c3 : labs::Protein::c4;
        const double sd = factors[k] * study::log_sd(mix_.truth.of(p));
        const double e = correlated ? std::sqrt(0.6) * slow[k] + std::sqrt(0.4) * fast : fast;
        const double real = mix_.level[k] * std::exp(sd * e + (i < off.size() ? off[i][k] : 0.0));
        labs::Value value{std::max(0.01, std::round(100.0 * real) / 100.0), false};
        if (value.value < mix_.limit[k]) value = {mix_.limit[k], true};
        (k == 0 ? all[i].c3 : all[i].c4) = value;
      }
    }
    return all;
  }
  std::array<double, 2> factors{1.0, 1.0};  // of the last person

 private:
  std::mt19937 random_;
  Mix mix_;
};

}  // namespace drawdown::tests
