// A year of strong flare with daily output: our solver beside CVODE dense and CVODE with KLU, in one run, each at the
// loosest tolerance whose error on C3 and C4 is at most the goal (1e-4, then 1e-6 of the course's maximum). Then what a
// person feels: the redraw of a year, a frame's own work, a group of 2 000 people. Ends with the ratios.
#include <benchmark/benchmark.h>

#include <cmath>
#include <cstdio>
#include <map>
#include <thread>

#include "bench/cvode_year.hpp"
#include "labs/fit.hpp"
#include "labs/read.hpp"
#include "support/screen.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

struct Flare {
  std::shared_ptr<const body::Body> body = support::standard_body();
  network::Bound<double> bound = body->bound();
  std::vector<double> hours;
  std::vector<std::vector<double>> reference;
  std::size_t c3 = static_cast<std::size_t>(body->network.species_index("C3"));
  std::size_t c4 = static_cast<std::size_t>(body->network.species_index("C4"));

  Flare() {
    std::vector<double> levers = body::resting_levers();
    for (const auto& [name, value] : support::Levers{
             {"antibody_drive", 6}, {"antigen_release", 3}, {"hepatic_output", 0.85}, {"acute_phase_response", 0.3}}) {
      levers[body::lever_at(name)] = value;
    }
    bound.bind(levers, {}, 0.0);
    for (int day = 1; day <= 365; ++day) hours.push_back(24.0 * day);
    bench::CvodeYear cvode(bound, bench::Linear::dense);
    reference = cvode.run(body->rest, 0.0, hours, 1e-12, tolerances(1e-12));
  }
  [[nodiscard]] std::vector<double> tolerances(double rtol) const { return body->options(rtol).atol; }
  [[nodiscard]] double error(const std::vector<std::vector<double>>& states) const {
    double worst = 0.0;
    for (const std::size_t i : {c3, c4}) {
      double most = 0.0;
      double off = 0.0;
      for (std::size_t d = 0; d < states.size(); ++d) {
        most = std::max(most, reference[d][i]);
        off = std::max(off, std::abs(states[d][i] - reference[d][i]));
      }
      worst = std::max(worst, off / most);
    }
    return worst;
  }
};

Flare& flare() {
  static Flare f;
  return f;
}

std::vector<std::vector<double>> ours(solve::Solver& solver, const solve::NetworkSystem& system, double rtol,
                                      std::size_t* steps) {
  Flare& f = flare();
  solve::Course course(f.body->rest.size());
  const auto outcome = solver.solve(system, f.body->rest, 0.0, 8760.0, f.body->options(rtol), course);
  if (outcome.status != solve::Status::ok) throw std::runtime_error("the flare did not finish");
  if (steps != nullptr) *steps = outcome.statistics.steps;
  std::vector<std::vector<double>> states;
  states.reserve(f.hours.size());
  for (const double hour : f.hours) states.push_back(course.state(hour));
  return states;
}

// The loosest of the tolerances 10^-2, 10^-2.1, ... from which on the error stays within the goal.
template <class RunAt>
double loosest(double goal, RunAt run_at) {
  double found = 0.0;
  for (double exponent = -2.0; exponent >= -10.0; exponent -= 0.1) {
    const double rtol = std::pow(10.0, exponent);
    if (flare().error(run_at(rtol)) <= goal) {
      if (found == 0.0) found = rtol;
    } else {
      found = 0.0;
    }
    if (found > 0.0 && rtol < found / 8.0) break;
  }
  return found;
}

std::map<std::string, double> medians;  // ms, by benchmark name

void bench_ours(benchmark::State& state, double goal) {
  Flare& f = flare();
  const solve::NetworkSystem system(f.bound);
  solve::Solver solver(f.bound.pattern(), f.body->model->lu());
  const double rtol = loosest(goal, [&](double r) { return ours(solver, system, r, nullptr); });
  std::size_t steps = 0;
  for (auto _ : state) benchmark::DoNotOptimize(ours(solver, system, rtol, &steps));
  state.counters["rtol"] = rtol;
  state.counters["error"] = f.error(ours(solver, system, rtol, nullptr));
  state.counters["steps"] = static_cast<double>(steps);
}

void bench_cvode(benchmark::State& state, double goal, bench::Linear linear) {
  Flare& f = flare();
  bench::CvodeYear cvode(f.bound, linear);
  const auto at = [&](double r) { return cvode.run(f.body->rest, 0.0, f.hours, r, f.tolerances(r)); };
  const double rtol = loosest(goal, at);
  const std::vector<double> atol = f.tolerances(rtol);
  for (auto _ : state) benchmark::DoNotOptimize(cvode.run(f.body->rest, 0.0, f.hours, rtol, atol));
  state.counters["rtol"] = rtol;
  state.counters["error"] = f.error(at(rtol));
  state.counters["steps"] = static_cast<double>(cvode.steps());
}

// What a dragged lever costs: settle before day 0, run the opening story's year, at the shipped tolerance.
void bench_redraw(benchmark::State& state) {
  const auto story = scenario::read_file(support::source_folder() + "/scenarios/02-kidney-flare.toml");
  const auto body = body::make_body(story.patient);
  for (auto _ : state) benchmark::DoNotOptimize(simulate(body, story));
}

// A frame's own work: panels laid out and drawn into the draw list, at 1600 x 900, nothing sent to the screen.
void bench_frame(benchmark::State& state, stage::View view) {
  stage::AppState opening = support::opening_state(95);
  opening.page.view = view;
  opening.time.playing = true;
  support::Screen screen(opening);
  screen.do_action(stage::KeepRun{});
  for (auto _ : state) screen.frame();
  state.counters["vertices"] = screen.vertices();
}

// Two thousand people, a year each, on all cores: levers drawn at random around a flare.
void bench_group(benchmark::State& state) {
  const auto body = support::standard_body();
  const auto part = [&](unsigned seed, int people) {
    std::mt19937 random(seed);
    std::uniform_real_distribution<double> drive(0.0, 8.0);
    std::uniform_real_distribution<double> liver(0.5, 1.2);
    for (int i = 0; i < people; ++i) {
      const auto story = support::story_with(
          {{"antibody_drive", drive(random)}, {"antigen_release", 2}, {"hepatic_output", liver(random)}});
      const auto run = simulate(body, story);
      if (!run->complete()) throw std::runtime_error("a person's year did not finish");
    }
  };
  for (auto _ : state) {
    std::thread other(part, 1, 1000);
    part(2, 1000);
    other.join();
  }
}

// A person's own numbers: twelve visits fitted, with profiles and outlooks; a hundred thousand rows read and judged.
void bench_fit(benchmark::State& state) {
  std::string text = "date,C3,C4\n";
  const double c3[] = {1.12, 1.06, 1.15, 1.10, 1.04, 0.93, 0.74, 0.78, 0.95, 1.05, 1.09, 1.11};
  const double c4[] = {0.21, 0.19, 0.22, 0.20, 0.16, 0.12, 0.07, 0.08, 0.14, 0.18, 0.19, 0.20};
  for (int i = 0; i < 12; ++i) {
    text += labs::iso_date(19000 + 60 * i) + "," + std::to_string(c3[i]) + "," + std::to_string(c4[i]) + "\n";
  }
  const labs::Reading reading = labs::read(text);
  for (auto _ : state) benchmark::DoNotOptimize(labs::fit(reading.rows, {}));
}

void bench_rows(benchmark::State& state) {
  std::string text = "date,C3,C4,flare\n";
  for (int i = 0; i < 100000; ++i) {
    text += labs::iso_date(i / 4) + ",1." + std::to_string(100 + i % 400) + ",0.2" + std::to_string(i % 10) + ",no\n";
  }
  for (auto _ : state) {
    const labs::Reading reading = labs::read(text);
    benchmark::DoNotOptimize(labs::judge(reading.rows, {}, {}));
  }
}

class Collector : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      if (run.aggregate_name == "median") medians[run.run_name.function_name] = run.GetAdjustedRealTime();
    }
  }
};

void ratio(const char* what, const char* slow, const char* fast) {
  if (medians.count(slow) == 0 || medians.count(fast) == 0) return;
  std::printf("%-66s %6.2f\n", what, medians[slow] / medians[fast]);
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  const auto add = [](const char* name, auto function) {
    benchmark::RegisterBenchmark(name, function)
        ->Unit(benchmark::kMillisecond)
        ->Repetitions(9)
        ->ReportAggregatesOnly(true);
  };
  add("drawdown_1e-4", [](benchmark::State& s) { bench_ours(s, 1e-4); });
  add("cvode_klu_1e-4", [](benchmark::State& s) { bench_cvode(s, 1e-4, bench::Linear::klu); });
  add("cvode_dense_1e-4", [](benchmark::State& s) { bench_cvode(s, 1e-4, bench::Linear::dense); });
  add("drawdown_1e-6", [](benchmark::State& s) { bench_ours(s, 1e-6); });
  add("cvode_klu_1e-6", [](benchmark::State& s) { bench_cvode(s, 1e-6, bench::Linear::klu); });
  add("cvode_dense_1e-6", [](benchmark::State& s) { bench_cvode(s, 1e-6, bench::Linear::dense); });
  add("redraw_a_year", bench_redraw);
  add("frame_balance", [](benchmark::State& s) { bench_frame(s, stage::View::balance); });
  add("frame_course", [](benchmark::State& s) { bench_frame(s, stage::View::course); });
  add("people_2000", bench_group);
  add("fit_12_visits", bench_fit);
  add("results_100000_rows", bench_rows);
  Collector collector;
  benchmark::RunSpecifiedBenchmarks(&collector);
  std::printf("\nTimes as ratios (medians of this run)\n");
  ratio("CVODE dense / Drawdown at an achieved error of 1e-4", "cvode_dense_1e-4", "drawdown_1e-4");
  ratio("CVODE with KLU / Drawdown at an achieved error of 1e-4", "cvode_klu_1e-4", "drawdown_1e-4");
  ratio("CVODE dense / Drawdown at an achieved error of 1e-6", "cvode_dense_1e-6", "drawdown_1e-6");
  ratio("CVODE with KLU / Drawdown at an achieved error of 1e-6", "cvode_klu_1e-6", "drawdown_1e-6");
  return 0;
}
