// The run of eight, compiled for each width of registers. One ordinary source file: which instructions may be used is
// said of one function each, into which everything it calls is inlined (flatten). What is not inlined - making the
// workspace, the standard library's own - is code for every machine. So no two versions of a function have one name,
// and the linker cannot pick the wrong one (tests/gates/lanes.sh looks).
#include "solve/lanes.hpp"

#include <stdexcept>
#include <variant>

#include "solve/lanes_run.hpp"

// Clang does not inline all the way down under `flatten`, and with GCC's sanitizers that takes minutes to compile: they
// get the width every machine has, which gives the same bits. So does whatever is not x86-64.
#ifdef __SANITIZE_ADDRESS__
#define DRAWDOWN_ALL_INLINED
#else
#define DRAWDOWN_ALL_INLINED [[gnu::flatten]]
#endif
#if defined(__x86_64__) && defined(__GNUC__) && !defined(__clang__) && !defined(__SANITIZE_ADDRESS__)
#define DRAWDOWN_WIDE_LANES 1
#else
#define DRAWDOWN_WIDE_LANES 0
#endif

namespace drawdown::solve {

namespace {

using By2 = Eight<network::Pack<2, 4>>;

DRAWDOWN_ALL_INLINED void run_portable(By2& eight, const LanesTask& task, LanesAnswer& answer) {
  eight.run(task, answer);
}

#if DRAWDOWN_WIDE_LANES
using By4 = Eight<network::Pack<4, 2>>;
using By8 = Eight<network::Pack<8, 1>>;

DRAWDOWN_ALL_INLINED [[gnu::target("avx2")]] void run_avx2(By4& eight, const LanesTask& task, LanesAnswer& answer) {
  eight.run(task, answer);
}
DRAWDOWN_ALL_INLINED [[gnu::target("avx512f,avx512dq,avx512vl,prefer-vector-width=512")]] void run_avx512(
    By8& eight, const LanesTask& task, LanesAnswer& answer) {
  eight.run(task, answer);
}
using Any = std::variant<std::monostate, By2, By4, By8>;
#else
using Any = std::variant<std::monostate, By2>;
#endif

}  // namespace

const char* instructions_name(Instructions instructions) {
  switch (instructions) {
    case Instructions::portable:
      return "portable";
    case Instructions::avx2:
      return "AVX2";
    case Instructions::avx512:
      return "AVX-512";
  }
  return "unknown";
}

std::vector<Instructions> instructions_here() {
  std::vector<Instructions> here{Instructions::portable};
#if DRAWDOWN_WIDE_LANES
  if (__builtin_cpu_supports("avx2") != 0) here.push_back(Instructions::avx2);
  if (__builtin_cpu_supports("avx512f") != 0 && __builtin_cpu_supports("avx512dq") != 0 &&
      __builtin_cpu_supports("avx512vl") != 0) {
    here.push_back(Instructions::avx512);
  }
#endif
  return here;
}

Instructions widest_instructions() {
  return instructions_here().back();
}

struct LanesRunner::Workspace {
  Any eight;
};

LanesRunner::LanesRunner(std::shared_ptr<const LanesShared> shared, Instructions instructions)
    : shared_(std::move(shared)), instructions_(instructions), workspace_(std::make_unique<Workspace>()) {
  const std::size_t n = shared_->plan->species;
  if (shared_->rest.size() != n || shared_->scales.size() != n || shared_->lu->size != n) {
    throw std::logic_error("lanes: one resting amount and one scale a species are wanted, and the plan's own LU");
  }
  const std::vector<Instructions> here = instructions_here();
  if (std::find(here.begin(), here.end(), instructions) == here.end()) {
    throw std::logic_error(std::string("lanes: not on this machine: ") + instructions_name(instructions));
  }
  switch (instructions) {
#if DRAWDOWN_WIDE_LANES
    case Instructions::avx2:
      workspace_->eight.emplace<By4>(shared_);
      return;
    case Instructions::avx512:
      workspace_->eight.emplace<By8>(shared_);
      return;
#endif
    default:
      workspace_->eight.emplace<By2>(shared_);
  }
}
LanesRunner::~LanesRunner() = default;

void LanesRunner::check(const LanesTask& task) const {
  const std::size_t inputs = shared_->plan->inputs;
  const auto& times = task.times;
  const auto falls = [](double a, double b) { return !(a < b); };
  if (std::adjacent_find(times.begin(), times.end(), falls) != times.end()) {
    throw std::logic_error("lanes: times must rise");
  }
  for (const LanesPerson& person : task.people) {
    if (person.segments.empty()) throw std::logic_error("lanes: a person has a segment at least");
    double from = person.segments.front().start;
    if (person.before.size() != inputs) throw std::logic_error("lanes: one value for each input is wanted");
    for (const Segment& segment : person.segments) {
      if (segment.start != from || !(segment.end > from)) throw std::logic_error("lanes: segments must rise, gapless");
      if (segment.values.size() != inputs || segment.slopes.size() != inputs) {
        throw std::logic_error("lanes: one value and one slope for each input and segment are wanted");
      }
      from = segment.end;
    }
    if (!times.empty() && !(times.front() >= person.segments.front().start && times.back() <= from)) {
      throw std::logic_error("lanes: a time to read lies outside the run");
    }
  }
  const auto short_of_inputs = [&](const auto& levers) { return levers.size() != inputs; };
  if (std::any_of(task.resting.begin(), task.resting.end(), short_of_inputs)) {
    throw std::logic_error("lanes: one value for each input is wanted");
  }
  if (std::any_of(task.species.begin(), task.species.end(), [&](auto s) { return s >= shared_->plan->species; })) {
    throw std::logic_error("lanes: no such species");
  }
  if (task.course != nullptr &&
      (task.kept >= task.people.size() || task.course->species_count() != shared_->plan->species)) {
    throw std::logic_error("lanes: the course to keep is of other species, or of nobody here");
  }
}

LanesAnswer LanesRunner::run(const LanesTask& task) {
  check(task);
  LanesAnswer answer;
  answer.people.resize(task.people.size());
  answer.read.assign(task.people.size() * task.times.size() * task.species.size(), 0.0);
  answer.resting.resize(task.resting.size());
  answer.rest.assign(task.resting.size() * task.species.size(), 0.0);
  const auto with = [&](auto& eight, auto run_it) {
    eight.prepare(task);
    run_it(eight, task, answer);
  };
  switch (instructions_) {
#if DRAWDOWN_WIDE_LANES
    case Instructions::avx2:
      with(std::get<By4>(workspace_->eight), run_avx2);
      break;
    case Instructions::avx512:
      with(std::get<By8>(workspace_->eight), run_avx512);
      break;
#endif
    default:
      with(std::get<By2>(workspace_->eight), run_portable);
  }
  return answer;
}

}  // namespace drawdown::solve
