// Many people: a year each with C3 and C4 every day, alone and in lanes on each set of instructions of the machine,
// then on one and two threads. People are sampled and treated on a day of their own. Ends with people a second and the
// ratios. Last whole clinics of 10 000, 100 000 and a million on two threads, with the most memory so far
// (--benchmark_filter=-clinic leaves these minutes out).
#include <benchmark/benchmark.h>

#include <sys/resource.h>

#include <cstdio>
#include <map>

#include "study/clinic.hpp"
#include "support/people.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

constexpr std::size_t people = 256;

const std::vector<scenario::Scenario>& sampled(bool own_days) {
  static const auto make = [](bool own) {
    std::vector<scenario::Scenario> all;
    for (std::size_t k = 0; k < people; ++k) all.push_back(support::sampled_person(k, own));
    return all;
  };
  static const auto same_day = make(false);
  static const auto own_day = make(true);
  return own_days ? own_day : same_day;
}

// One after the other, as every story is run.
void alone(benchmark::State& state, bool own_days) {
  const auto body = support::standard_body();
  const auto reads = support::daily_reads();
  std::size_t steps = 0;
  for (auto _ : state) {
    double sum = 0.0;
    steps = 0;
    for (const auto& story : sampled(own_days)) {
      const auto run = simulate(body, story);
      if (!run->complete()) throw std::runtime_error("a person's year did not finish");
      for (const double day : reads.days) sum += run->c3(day) + run->c4(day);
      steps += run->outcome().statistics.steps + run->outcome().statistics.rejected;
    }
    benchmark::DoNotOptimize(sum);
  }
  state.counters["people"] = people;
  state.counters["steps"] = static_cast<double>(steps) / people;
}

void in_lanes(benchmark::State& state, bool own_days, solve::Instructions instructions, std::size_t threads) {
  study::CohortOptions options;
  options.instructions = instructions;
  const study::Cohort cohort(
      support::standard_body(), [own_days](std::size_t k) { return sampled(own_days)[k]; }, people, options);
  const auto reads = support::daily_reads();
  std::size_t refused = 0;
  std::size_t steps = 0;
  for (auto _ : state) {
    double sum = 0.0;
    refused = 0;
    steps = 0;
    cohort.run(
        0, people, reads,
        [&](std::size_t, const std::vector<study::CohortCourse>& block) {
          for (const auto& course : block) {
            refused += course.in_lanes ? 0U : 1U;
            steps += course.outcome.statistics.steps + course.outcome.statistics.rejected;
            for (const double level : course.read) sum += level;
          }
        },
        threads);
    benchmark::DoNotOptimize(sum);
  }
  state.counters["people"] = people;
  state.counters["refused"] = static_cast<double>(refused);
  state.counters["steps"] = static_cast<double>(steps) / people;
}

// The most memory this process has had so far, MB. So the smaller clinics must come first.
double peak_memory() {
  rusage usage{};
  (void)::getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

// As `drawdown clinic` runs them, counted day by day.
void whole_clinic(benchmark::State& state, std::uint64_t count) {
  const study::ClinicAsked asked{"flare-with-kidney", 7, count, 365, true};
  for (auto _ : state) {
    study::Tally tally;
    (void)study::run_clinic(
        asked, 0, count, [&](const study::ClinicPerson& p) { tally.add(p); }, 2);
    if (tally.people != count || tally.failed > 0) throw std::runtime_error("a person's year did not finish");
  }
  state.counters["people"] = static_cast<double>(count);
  state.counters["MB"] = peak_memory();
}

struct Times {
  double wall = 1e300;       // ms
  double processor = 1e300;  // ms, of all threads
};
std::map<std::string, Times> best;  // by benchmark name: the shortest of the repetitions

class Collector : public benchmark::ConsoleReporter {
 public:
  void ReportRuns(const std::vector<Run>& runs) override {
    ConsoleReporter::ReportRuns(runs);
    for (const Run& run : runs) {
      if (run.run_type != Run::RT_Iteration) continue;
      Times& times = best[run.run_name.function_name];
      times.wall = std::min(times.wall, run.GetAdjustedRealTime());
      times.processor = std::min(times.processor, run.GetAdjustedCPUTime());
    }
  }
};

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  std::vector<std::string> names;
  const auto add = [&](const std::string& name, auto function) {
    names.push_back(name);
    benchmark::RegisterBenchmark(name.c_str(), function)
        ->Unit(benchmark::kMillisecond)
        ->Repetitions(7)
        ->MeasureProcessCPUTime()
        ->UseRealTime();
  };
  for (const bool own : {false, true}) {
    const std::string days = own ? "own_days" : "same_day";
    add(days + "_simulate", [own](benchmark::State& s) { alone(s, own); });
    for (const solve::Instructions instructions : solve::instructions_here()) {
      add(days + "_" + solve::instructions_name(instructions),
          [own, instructions](benchmark::State& s) { in_lanes(s, own, instructions, 1); });
    }
    add(days + "_two_threads", [own](benchmark::State& s) { in_lanes(s, own, solve::widest_instructions(), 2); });
  }
  for (const std::uint64_t count : {10'000U, 100'000U, 1'000'000U}) {
    benchmark::RegisterBenchmark(("clinic_" + std::to_string(count)).c_str(),
                                 [count](benchmark::State& s) { whole_clinic(s, count); })
        ->Unit(benchmark::kMillisecond)
        ->Iterations(1)
        ->UseRealTime();
  }
  Collector collector;
  benchmark::RunSpecifiedBenchmarks(&collector);
  std::printf(
      "\nPerson-years, shortest of the repetitions: a second of one core, a second of the wall, and their ratios to\n");
  std::printf("simulate() in this run\n");
  for (const std::string& name : names) {
    const auto time = best.find(name);
    const auto scalar = best.find(name.substr(0, 8) + "_simulate");
    if (time == best.end() || scalar == best.end()) continue;
    const auto [wall, processor] = time->second;
    std::printf("%-24s %7.0f %7.0f %6.2f %6.2f\n", name.c_str(), 1e3 * people / processor, 1e3 * people / wall,
                scalar->second.processor / processor, scalar->second.wall / wall);
  }
  return 0;
}
