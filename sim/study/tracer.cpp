// Following the label, then forgetting where it came from and reading the curve.
#include "study/tracer.hpp"

#include <cmath>
#include <random>
#include <stdexcept>

namespace drawdown::study {

namespace {

// Fractional rates of the labelled protein at one moment, per hour, and what is made of it.
struct Rates {
  double loss = 0.0;    // plasma -> gone
  double escape = 0.0;  // plasma -> tissue fluid
  double back = 0.0;    // tissue fluid -> plasma
  double made = 0.0;    // the protein's synthesis, g/day
};

Rates rates_at(const Run& run, Traced protein, double day) {
  const readout::FlowPair pair = run.flows(day);
  const readout::Flows& f = protein == Traced::c3 ? pair.c3 : pair.c4;
  const body::Model& model = *run.body().model;
  const body::Protein& p = model.proteins()[protein == Traced::c3 ? model.known().c3 : model.known().c4];
  // All in fractions of the plasma pool; the return is a fixed fraction of the pool in tissue fluid.
  return {(f.used() + std::max(f.exchanged, 0.0)) / f.pool / 24.0, f.out_to_tissue / f.pool / 24.0,
          body::transcapillary_escape(p.mass) / p.outside, f.made};
}

// Label in plasma, in tissue fluid and gone. The rates are straight lines between hourly readings of the run, so that
// the time derivative the solver wants is exact.
class Label final : public solve::System {
 public:
  Label(Rates from, Rates to, double start, double span) : from_(from), to_(to), start_(start), span_(span) {
    pattern_.size = 3;
    pattern_.entries = {{0, 0}, {0, 1}, {1, 0}, {1, 1}, {2, 0}, {2, 2}};
  }
  [[nodiscard]] const network::Pattern& pattern() const override { return pattern_; }
  void derivative(double t, const double* x, double* dxdt) const override {
    const Rates r = at(t);
    dxdt[0] = -(r.loss + r.escape) * x[0] + r.back * x[1];
    dxdt[1] = r.escape * x[0] - r.back * x[1];
    dxdt[2] = r.loss * x[0];
  }
  void jacobian(double t, const double* x, double* values, double* dfdt) const override {
    const Rates r = at(t);
    values[0] = -(r.loss + r.escape);
    values[1] = r.back;
    values[2] = r.escape;
    values[3] = -r.back;
    values[4] = r.loss;
    values[5] = 0.0;
    const double loss = (to_.loss - from_.loss) / span_;
    const double escape = (to_.escape - from_.escape) / span_;
    dfdt[0] = -(loss + escape) * x[0];
    dfdt[1] = escape * x[0];
    dfdt[2] = loss * x[0];
  }

 private:
  [[nodiscard]] Rates at(double t) const {
    const double s = (t - start_) / span_;
    return {from_.loss + s * (to_.loss - from_.loss), from_.escape + s * (to_.escape - from_.escape), from_.back, 0.0};
  }
  Rates from_;
  Rates to_;
  double start_;
  double span_;
  network::Pattern pattern_;
};

struct Line {
  double intercept = 0.0;
  double slope = 0.0;
};

// Least squares of log(y) against time.
Line log_line(const std::vector<double>& t, const std::vector<double>& y) {
  double n = 0;
  double st = 0;
  double sl = 0;
  double stt = 0;
  double stl = 0;
  for (std::size_t i = 0; i < t.size(); ++i) {
    if (y[i] <= 0.0) continue;
    const double l = std::log(y[i]);
    n += 1;
    st += t[i];
    sl += l;
    stt += t[i] * t[i];
    stl += t[i] * l;
  }
  const double slope = (n * stl - st * sl) / (n * stt - st * st);
  return {(sl - slope * st) / n, slope};
}

}  // namespace

TracerResult tracer_study(const Run& run, Traced protein, double day, const TracerOptions& study) {
  const double days = study.days;
  if (day < 0.0 || days < 4.0 || day + days > run.last_day() + 1e-9) {
    throw std::invalid_argument("a tracer study needs at least 4 days inside the story; this one ends on day " +
                                std::to_string(static_cast<int>(run.last_day())));
  }
  TracerResult result;
  std::vector<double> x{1.0, 0.0, 0.0};
  Rates from = rates_at(run, protein, day);
  double loss_sum = 0.0;
  double synthesis_sum = 0.0;
  solve::Options options;
  options.rtol = 1e-7;
  result.points.push_back({0.0, 1.0, 1.0});
  const int hours = static_cast<int>(days * 24.0);
  for (int hour = 0; hour < hours; hour += 2) {
    const Rates to = rates_at(run, protein, day + (hour + 2) / 24.0);
    const Label label(from, to, hour, 2.0);
    solve::Course course(3);
    const auto outcome = solve::solve(label, x, hour, hour + 2.0, options, course);
    if (outcome.status != solve::Status::ok) throw std::runtime_error("tracer study: the label could not be followed");
    course.last_state(x.data());
    result.points.push_back({hour + 2.0, x[0], x[0] + x[1]});
    loss_sum += from.loss;
    synthesis_sum += from.made * 1000.0 / 24.0 / run.body().patient.weight;
    from = to;
  }
  const double readings = hours / 2.0;
  result.true_fcr = loss_sum / readings;
  result.true_synthesis = synthesis_sum / readings;
  result.level = protein == Traced::c3 ? run.c3(day) : run.c4(day);

  if (study.counting_noise > 0.0) {
    // Poisson-like: the relative error goes with one over the square root of what is left to count.
    std::mt19937 random(study.seed);
    std::normal_distribution<double> normal;
    for (TracerPoint& p : result.points) {
      if (p.hour == 0.0) continue;
      p.plasma *= std::max(0.01, 1.0 + study.counting_noise / std::sqrt(p.plasma) * normal(random));
      p.body *= std::max(0.01, 1.0 + study.counting_noise / std::sqrt(p.body) * normal(random));
    }
  }

  // Peeling: a straight line through the logarithm of the last six days (4 on), taken away from the first day.
  std::vector<double> late_t;
  std::vector<double> late_y;
  for (const TracerPoint& p : result.points) {
    if (p.hour < days * 24.0 * 0.4) continue;
    late_t.push_back(p.hour);
    late_y.push_back(p.plasma);
  }
  const Line late = log_line(late_t, late_y);
  std::vector<double> early_t;
  std::vector<double> early_y;
  for (const TracerPoint& p : result.points) {
    if (p.hour > 24.0) continue;
    early_t.push_back(p.hour);
    early_y.push_back(p.plasma - std::exp(late.intercept + late.slope * p.hour));
  }
  const Line early = log_line(early_t, early_y);
  const double c2 = std::exp(late.intercept);
  const double c1 = 1.0 - c2;
  const double b1 = -early.slope;
  const double b2 = -late.slope;
  // Matthews: FCR = 1 / sum(C/b); the plasma's share of the pool = (sum C/b)^2 / sum(C/b^2).
  const double area = c1 / b1 + c2 / b2;
  result.fcr = 1.0 / area;
  result.half_life = std::log(2.0) / b2;
  result.intravascular = area * area / (c1 / (b1 * b1) + c2 / (b2 * b2));
  result.synthesis = result.fcr * result.level * run.body().patient.plasma_volume;

  double ratios = 0.0;
  int counted = 0;
  for (std::size_t i = 12; i < result.points.size(); i += 12) {
    const double lost = result.points[i - 12].body - result.points[i].body;
    double mean = 0.0;
    for (std::size_t j = i - 12; j < i; ++j) mean += 0.5 * (result.points[j].plasma + result.points[j + 1].plasma) / 12;
    if (mean <= 0.0) continue;
    ratios += lost / mean / 24.0;
    counted += 1;
  }
  result.fcr_by_ratio = counted > 0 ? ratios / counted : 0.0;
  return result;
}

}  // namespace drawdown::study
