// The single reactions' rates, told apart by name, and the sources of the debts: what own_account.cpp integrates.
#pragma once

#include <string>
#include <vector>

#include "stage/own_account.hpp"

namespace drawdown::support {

// One protein at one moment, in nmol/L of plasma and hours.
struct Now {
  double c = 0, e = 0, made = 0, to = 0, back = 0, out = 0, in = 0, volume = 1, grows = 0;
  std::array<double, groups> used{};
  double by_classical = 0, in_tissue = 0;  // as they run, not as the usual gain would have it
  [[nodiscard]] double all_used() const {
    double sum = 0;
    for (const double one : used) sum += one;
    return sum;
  }
};
struct Debts {
  std::array<double, groups> c{}, e{};
};

enum class Flow { made, to_tissue, from_tissue, out, in, use };
struct Line {
  std::size_t reaction;
  double count;
  Flow flow;
  std::size_t group;
  bool classical;
};

class Books {
 public:
  explicit Books(const Run& run);
  // C3 and C4 under these levers, the volume growing by V'/V.
  std::array<Now, 2> at(const std::vector<double>& state, const std::vector<double>& levers, double grows);
  [[nodiscard]] Debts sources(std::size_t p, const Now& n) const;
  [[nodiscard]] Debts speed(std::size_t p, const Debts& source, const Debts& owed) const;
  [[nodiscard]] Debts settled_under(std::size_t p, const Now& n) const;
  [[nodiscard]] OwnAccount told(std::size_t p, const Now& n, const Debts& owed) const;
  [[nodiscard]] static double volume_of(const std::vector<double>& levers);
  static void add(std::array<double, groups>& to, Group group, double what) {
    to[static_cast<std::size_t>(group)] += what;
  }

 private:
  struct Feed {
    std::size_t reaction, group;
  };
  [[nodiscard]] double k(std::size_t p) const { return usual_[p].c > 0 ? usual_[p].all_used() / usual_[p].c : 0.0; }
  [[nodiscard]] double x(std::size_t p) const { return usual_[p].c > 0 ? usual_[p].to / usual_[p].c : 0.0; }
  [[nodiscard]] double r(std::size_t p) const { return usual_[p].e > 0 ? usual_[p].back / usual_[p].e : 0.0; }
  std::vector<double> rates(const std::vector<double>& state, const std::vector<double>& levers);
  [[nodiscard]] int loop_place(int species) const;
  [[nodiscard]] int driver_of(const network::Reaction& reaction) const;
  [[nodiscard]] std::array<double, 4> comes(const std::vector<double>& rate) const;
  [[nodiscard]] std::vector<double> calm_rates(const std::vector<double>& state, const std::vector<double>& rate) const;
  [[nodiscard]] std::array<double, groups> fed(const std::vector<double>& rate) const;

  const Run& run_;
  network::Bound<double> bound_;
  std::vector<double> bound_to_;
  std::array<std::size_t, 2> plasma_{}, tissue_{};
  std::array<std::vector<Line>, 2> lines_;
  std::vector<Feed> feeds_;
  std::array<int, 4> loop_{};
  std::vector<int> driver_;
  double litres_ = 1;
  std::vector<double> usual_rates_;
  std::array<double, 4> usual_comes_{};
  std::array<Now, 2> usual_;
};

}  // namespace drawdown::support
