// Milliseconds a frame takes with the worst that can be opened: panels laid out and drawn into the draw list at 1600 x
// 900, nothing sent to a screen. The goal is under 50; the tests hold the counts behind it.
#include <benchmark/benchmark.h>

#include "support/hostile_screens.hpp"
#include "support/screen.hpp"

using namespace drawdown;

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  static const auto screens = support::hostile_screens();
  for (const auto& shown : screens) {
    const auto draw = [&shown](benchmark::State& state) {
      support::Screen screen(shown.state);
      for (auto _ : state) screen.frame();
      state.counters["measured"] = static_cast<double>(screen.work().measured);
      state.counters["drawn"] = static_cast<double>(screen.work().drawn);
      state.counters["vertices"] = screen.vertices();
    };
    benchmark::RegisterBenchmark(shown.name.c_str(), draw)->Unit(benchmark::kMillisecond);
  }
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
