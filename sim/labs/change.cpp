// Last value, earlier values, steps.
#include "labs/change.hpp"

#include <algorithm>
#include <array>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>

#include "labs/censored.hpp"

namespace drawdown::labs {

namespace {

constexpr double steps_alike = 5.5;

double t_limit(double freedom, double tail) {
  return boost::math::quantile(boost::math::complement(boost::math::students_t(freedom), tail));
}
double percent_of(double log_change) {
  return 100.0 * (std::exp(log_change) - 1.0);
}

// The visits that count, laboratory by laboratory.
class Usual {
 public:
  Usual(const Series& series, std::size_t without, const Scatter& scatter)
      : groups_(series.laboratories), scatter_(scatter) {
    for (std::size_t i = 0; i < series.visits.size(); ++i) {
      const Visit& v = series.visits[i];
      if (i != without && v.left == LeftOut::no) take(v);
    }
  }
  void take(const Visit& v) { groups_[v.laboratory].take(v.log_value, v.below); }

  [[nodiscard]] bool hides() const {
    return std::any_of(groups_.begin(), groups_.end(), [](const Group& g) { return g.hides(); });
  }
  // Measured values beyond one a laboratory.
  [[nodiscard]] double spare() const {
    double spare = 0.0;
    for (const Group& g : groups_) spare += std::max(0.0, g.n - 1.0);
    return spare;
  }
  [[nodiscard]] const Group& own(std::size_t laboratory) const { return groups_[laboratory]; }
  [[nodiscard]] double count() const {
    double n = 0.0;
    for (const Group& g : groups_) {
      n += g.n;
      for (const auto& one : g.limits) n += one.second;
    }
    return n;
  }
  [[nodiscard]] double freedom() const { return scatter_.nu + spare(); }
  [[nodiscard]] double squares() const {
    double sum = 0.0;
    for (const Group& g : groups_) sum += g.squares;
    return sum;
  }
  // Of a further value of the laboratory, measured ones alone.
  [[nodiscard]] double spread(const Group& own) const {
    const double variance = (scatter_.nu * scatter_.variance + squares()) / freedom();
    return std::sqrt(variance * (1.0 + 1.0 / own.n));
  }
  [[nodiscard]] NextValue next(std::size_t laboratory) const {
    std::vector<Group> others;
    for (std::size_t i = 0; i < groups_.size(); ++i) {
      if (i != laboratory) others.push_back(groups_[i]);
    }
    return {groups_[laboratory], others, scatter_};
  }

 private:
  std::vector<Group> groups_;
  Scatter scatter_;
};

class Judge {
 public:
  Judge(const std::vector<Row>& rows, Protein p, const Noise& noise, const Shares& shares)
      : shares_(shares), sides_(noise.one_sided ? 2.0 : 4.0), falls_only_(noise.one_sided) {
    out_.series = series_of(rows, p, noise);
    const std::vector<Visit>& visits = out_.series.visits;
    out_.visits = visits.size();
    for (const Visit& v : visits) out_.below_detection += v.below ? 1 : 0;
    scatter_ = {prior_worth, prior_variance(rows, out_.series, p, noise)};
  }

  LevelChange judged() {
    if (out_.visits == 0) {
      if (out_.series.disputed > 0) out_.standing = Standing::disputed;
      return std::move(out_);
    }
    judge_last();
    judge_earlier();
    judge_steps();
    return std::move(out_);
  }

 private:
  [[nodiscard]] const std::vector<Visit>& visits() const { return out_.series.visits; }

  void judge_last() {
    const std::size_t n = visits().size() - 1;
    const Visit& last = visits()[n];
    out_.last = last.row;
    const Usual usual(out_.series, n, scatter_);
    const Group& own = usual.own(last.laboratory);
    if (usual.count() < static_cast<double>(fewest_others)) {
      out_.standing = Standing::too_few;
    } else if (own.n < 1.0 && !own.hides()) {
      out_.standing = Standing::new_laboratory;
    } else if (usual.spare() + 1.0 < static_cast<double>(fewest_others) || own.n < 1.0) {
      out_.standing = usual.hides() ? Standing::hidden : Standing::too_few;
    }
    if (out_.standing != Standing::none) {
      if (out_.series.last_disputed) out_.standing = Standing::disputed;
      return;
    }
    const double tail = shares_.last / sides_;
    OwnUsual shown;
    shown.values = static_cast<std::size_t>(usual.count());
    const auto [low, middle, high] = interval(usual, last.laboratory, tail);
    shown.level = std::exp(middle);
    shown.low = std::exp(low);
    shown.high = std::exp(high);
    out_.usual = shown;
    if (out_.series.last_disputed) {
      out_.standing = Standing::disputed;
      return;
    }
    out_.last_percent = percent_of(last.log_value - middle);
    out_.last_at_least = last.below;
    out_.standing = last.log_value < low                                   ? Standing::fell
                    : last.log_value > high && !last.below && !falls_only_ ? Standing::rose
                    : last.below && !usual.hides()                         ? Standing::open
                                                                           : Standing::within;
  }

  // Where a further value lies but for `tail` on each side, and its middle.
  static std::array<double, 3> interval(const Usual& usual, std::size_t laboratory, double tail) {
    const Group& own = usual.own(laboratory);
    const double half = t_limit(usual.freedom(), tail) * usual.spread(own);
    if (!usual.hides()) return {own.mean - half, own.mean, own.mean + half};
    const NextValue next = usual.next(laboratory);
    const double high = solve([&](double c) { return next.at(c).above - tail; }, own.mean, half);
    return {solve([&](double c) { return next.at(c).below - tail; }, own.mean, -half),
            solve([&](double c) { return 0.5 - next.at(c).above; }, high, -half), high};
  }
  // Where `f`, above 0 at `from` and falling on the way, reaches 0; steps first, then halves.
  template <typename F>
  static double solve(F f, double from, double step) {
    double inside = from;
    double outside = from + step;
    for (int i = 0; i < 8 && f(outside) > 0.0; ++i) {
      inside = outside;
      outside += step;
    }
    for (int i = 0; i < 12; ++i) {
      const double middle = 0.5 * (inside + outside);
      (f(middle) > 0.0 ? inside : outside) = middle;
    }
    return 0.5 * (inside + outside);
  }

  void judge_earlier() {
    const std::size_t last = visits().size() - 1;
    if (last == 0) return;
    const double tail = shares_.earlier / (sides_ * static_cast<double>(last));
    const Usual all(out_.series, visits().size(), scatter_);
    std::vector<std::size_t> candidates;
    for (std::size_t i = 0; i < last; ++i) candidates.push_back(i);
    const bool hides = all.hides();
    const double all_spare = all.spare();
    const double all_squares = all.squares();
    if (hides) keep_outermost(candidates);
    double freedom = 0.0;
    double limit = 0.0;
    for (const std::size_t i : candidates) {
      const Visit& v = visits()[i];
      const Group& group = all.own(v.laboratory);
      if (!hides) {
        // The mean and squares of the others follow from those of all.
        Group own = group;
        double spare = all_spare;
        double squares = all_squares;
        if (v.left == LeftOut::no) {
          if (group.n < 2.0) continue;
          const double off = v.log_value - group.mean;
          own.n -= 1.0;
          own.mean -= off / own.n;
          squares = std::max(0.0, squares - off * off * group.n / own.n);
          spare -= 1.0;
        }
        if (own.n < 1.0 || spare + 1.0 < static_cast<double>(fewest_others)) continue;
        if (freedom != scatter_.nu + spare) {
          freedom = scatter_.nu + spare;
          limit = t_limit(freedom, tail);
        }
        const double variance = (scatter_.nu * scatter_.variance + squares) / freedom;
        const double t = (v.log_value - own.mean) / std::sqrt(variance * (1.0 + 1.0 / own.n));
        tell_earlier(v, t<-limit, t> limit, own.mean);
      } else {
        const Usual others(out_.series, i, scatter_);
        const Group& own = others.own(v.laboratory);
        if (own.n < 1.0 || others.spare() + 1.0 < static_cast<double>(fewest_others)) continue;
        const TwoSides sides = others.next(v.laboratory).at(v.log_value);
        if (sides.below < tail || sides.above < tail) {
          tell_earlier(v, sides.below < tail, sides.above < tail, interval(others, v.laboratory, 0.25)[1]);
        }
      }
    }
  }
  void tell_earlier(const Visit& v, bool fell, bool rose, double usual) {
    if (rose && (v.below || falls_only_)) rose = false;
    if (!fell && !rose) return;
    out_.earlier.push_back({fell ? Way::fell : Way::rose, v.row, percent_of(v.log_value - usual), v.below});
  }
  // Where each takes a sum on a grid: the four lowest and the four highest are enough, by their own laboratory.
  void keep_outermost(std::vector<std::size_t>& candidates) const {
    std::stable_sort(candidates.begin(), candidates.end(),
                     [&](std::size_t a, std::size_t b) { return visits()[a].log_value < visits()[b].log_value; });
    if (candidates.size() > 8) candidates.erase(candidates.begin() + 4, candidates.end() - 4);
    std::sort(candidates.begin(), candidates.end());
  }

  void judge_steps() {
    std::vector<Visit> kept;
    std::copy_if(visits().begin(), visits().end(), std::back_inserter(kept),
                 [](const Visit& v) { return v.left == LeftOut::no; });
    const std::size_t n = kept.size();
    if (n < fewest_others + 1) return;
    const double tail = shares_.step * 4.0 / (sides_ * steps_alike * static_cast<double>(n - 3));
    const Usual all(out_.series, visits().size(), scatter_);
    if (all.hides()) {
      if (out_.series.laboratories == 1) hidden_steps(kept, tail);
      return;
    }
    // A step is a column of 0 before and 1 from visit k on, less its mean in each laboratory.
    std::vector<double> before(out_.series.laboratories, 0.0);
    double xx = 0.0;
    double xy = 0.0;
    double best = 0.0;
    const double freedom = scatter_.nu + all.spare() - 1.0;
    const double squares = all.squares();
    for (std::size_t k = 1; k + 2 <= n; ++k) {
      const Visit& v = kept[k - 1];
      const Group& lab = all.own(v.laboratory);
      double& a = before[v.laboratory];
      xx -= a * (lab.n - a) / lab.n;
      a += 1.0;
      xx += a * (lab.n - a) / lab.n;
      xy -= v.log_value - lab.mean;
      if (k < 2 || xx < 1e-9) continue;
      const double size = xy / xx;
      const double variance = (scatter_.nu * scatter_.variance + std::max(0.0, squares - size * size * xx)) / freedom;
      const double t = size / std::sqrt(variance / xx);
      if (std::abs(t) <= std::abs(best) || (falls_only_ && t > 0.0)) continue;
      best = t;
      out_.step = Apart{t < 0.0 ? Way::fell : Way::rose, kept[k].row, percent_of(size), false};
    }
    if (out_.step && std::abs(best) <= t_limit(freedom, tail)) out_.step.reset();
  }

  void hidden_steps(const std::vector<Visit>& kept, double tail) {
    // Each takes two sums on a grid: of very many only some places are tried.
    constexpr std::size_t most = 48;
    const std::size_t stride = 1 + kept.size() / most;
    double best = tail;
    for (std::size_t k = 2; k + 2 <= kept.size(); k += stride) {
      Group first;
      Group second;
      for (std::size_t i = 0; i < kept.size(); ++i) (i < k ? first : second).take(kept[i].log_value, kept[i].below);
      if (first.n < 1.0 && second.n < 1.0) continue;
      const TwoSides sides = second_mean(first, second, scatter_);
      const double p = falls_only_ ? sides.above : std::min(sides.below, sides.above);
      if (!(p < best)) continue;
      best = p;
      // Its size: of the measured means, or to the limit where one side has none.
      const auto level = [](const Group& g) { return g.n > 0.0 ? g.mean : g.limits.front().first; };
      out_.step = Apart{sides.above <= sides.below ? Way::fell : Way::rose, kept[k].row,
                        percent_of(level(second) - level(first)), first.hides() || second.hides()};
    }
  }

  LevelChange out_;
  Shares shares_;
  double sides_;
  bool falls_only_;
  Scatter scatter_;
};

}  // namespace

double prior_variance(const std::vector<Row>& rows, const Series& series, Protein p, const Noise& noise) {
  double mean = 0.0;
  for (const Visit& v : series.visits) mean += v.log_value / static_cast<double>(series.visits.size());
  // As coarse as the values are printed, g/L: all are whole steps of it.
  double step = 0.01;
  for (const Row& row : rows) {
    const auto& value = value_of(row, p);
    if (!value || value->below) continue;
    while (step > 1e-4 && std::abs(value->value / step - std::round(value->value / step)) > 1e-6) step *= 0.1;
  }
  const double sd = study::log_sd(noise.of(p));
  const double rounding = step / std::sqrt(12.0) / std::exp(mean);
  return variance_share * sd * sd + rounding * rounding;
}

LevelChange level_change(const std::vector<Row>& rows, Protein p, const Noise& noise, const Shares& shares) {
  return Judge(rows, p, noise, shares).judged();
}

}  // namespace drawdown::labs
