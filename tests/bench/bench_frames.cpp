// What a person sees move: whole frames in a real window at 1600 x 900 (panels laid out, drawn, rasterised, shown), the
// story playing, for Balance, Course and the Cascade with motion; and the share of a core the window takes while
// nothing happens. Run it on a display, or under xvfb-run for the software renderer.
#include <benchmark/benchmark.h>
#include <sys/resource.h>

#include <SFML/Graphics/RenderWindow.hpp>

#include <cstdio>
#include <map>

#include "support/screen.hpp"
#include "window/platform.hpp"
#include "window/window.hpp"

using namespace drawdown;

namespace {

constexpr unsigned wide = 1600;
constexpr unsigned high = 900;

stage::AppState playing(stage::View view) {
  stage::AppState state = support::opening_state(95);
  state.page.view = view;
  state.time.playing = true;
  return state;
}

void bench_window(benchmark::State& state, stage::View view) {
  sf::RenderWindow window(sf::VideoMode(wide, high), "Drawdown");
  (void)window.setActive(true);
  window::Platform platform;
  work::Executor executor;
  shell::Shell shell(playing(view), support::source_folder() + "/assets");
  const auto submit = [&](const stage::Effect&) {};
  double now = 0.0;
  const auto frame = [&] {
    sf::Event event{};
    while (window.pollEvent(event)) platform.event(event);
    shell.apply(stage::Tick{1.0 / 60.0}, submit);
    if (!shell.state().time.playing) shell.apply(stage::TogglePlay{}, submit);
    now += 1.0 / 60.0;
    if (shell.fit_fonts(wide, high)) platform.fonts_changed();
    platform.new_frame(wide, high, 1.0F / 60.0F);
    shell.frame(wide, high, now, submit);
    window.clear();
    platform.render(window);
    window.display();
  };
  for (int i = 0; i < 5; ++i) frame();
  for (auto _ : state) frame();
  state.counters["frames_a_second"] =
      benchmark::Counter(static_cast<double>(state.iterations()), benchmark::Counter::kIsRate);
}

double processor_seconds() {
  rusage used{};
  (void)getrusage(RUSAGE_SELF, &used);
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

// The program's own loop, left alone for a while; the start is counted apart and taken off.
void bench_idle(benchmark::State& state) {
  const auto spent = [](double seconds) {
    window::Start start;
    start.state = support::opening_state(95);
    start.assets = support::source_folder() + "/assets";
    start.quit_after = seconds;
    const double before = processor_seconds();
    (void)window::run(std::move(start));
    return processor_seconds() - before;
  };
  constexpr double first = 3.0;
  constexpr double then = 24.0;
  for (auto _ : state) {
    const double starting = spent(first);
    state.counters["percent_of_a_core"] = 100.0 * (spent(first + then) - starting) / then;
  }
}

}  // namespace

int main(int argc, char** argv) {
  benchmark::Initialize(&argc, argv);
  const auto add = [](const char* name, stage::View view) {
    benchmark::RegisterBenchmark(name, [view](benchmark::State& s) { bench_window(s, view); })
        ->Unit(benchmark::kMillisecond)
        ->UseRealTime()
        ->MinTime(3.0);
  };
  add("balance", stage::View::balance);
  add("course", stage::View::course);
  add("cascade_with_motion", stage::View::cascade);
  add("tissues", stage::View::tissues);
  add("lab_sheet", stage::View::lab);
  benchmark::RegisterBenchmark("idle", bench_idle)->Iterations(1)->Unit(benchmark::kMillisecond)->UseRealTime();
  benchmark::RunSpecifiedBenchmarks();
  return 0;
}
