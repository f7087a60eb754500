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

LanesAnswer LanesRunner::run(const LanesTask& task) {
  const std::size_t row = shared_->plan->inputs * lane_count;
  const auto rises = [](const std::vector<double>& v) {
    return std::adjacent_find(v.begin(), v.end(), [](double a, double b) { return !(a < b); }) == v.end();
  };
  if (task.cuts.size() < 2 || !rises(task.cuts) || !rises(task.times)) {
    throw std::logic_error("lanes: cuts (two at least) and times must rise");
  }
  if (!task.times.empty() && (task.times.front() < task.cuts.front() || task.times.back() > task.cuts.back())) {
    throw std::logic_error("lanes: a time to read lies outside the run");
  }
  const std::size_t numbers = (task.cuts.size() - 1) * row;
  if (task.before.size() != row || task.values.size() != numbers || task.slopes.size() != numbers) {
    throw std::logic_error("lanes: one value and one slope for each input, person and stretch are wanted");
  }
  if (std::any_of(task.species.begin(), task.species.end(), [&](auto s) { return s >= shared_->plan->species; })) {
    throw std::logic_error("lanes: no such species");
  }
  if (task.course != nullptr && (task.kept >= lane_count || task.course->species_count() != shared_->plan->species)) {
    throw std::logic_error("lanes: the course to keep is of other species, or of nobody here");
  }
  LanesAnswer answer;
  answer.read.assign(task.times.size() * task.species.size() * lane_count, 0.0);
  switch (instructions_) {
#if DRAWDOWN_WIDE_LANES
    case Instructions::avx2:
      run_avx2(std::get<By4>(workspace_->eight), task, answer);
      break;
    case Instructions::avx512:
      run_avx512(std::get<By8>(workspace_->eight), task, answer);
      break;
#endif
    default:
      run_portable(std::get<By2>(workspace_->eight), task, answer);
  }
  return answer;
}

}  // namespace drawdown::solve
