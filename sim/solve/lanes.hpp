// Eight people at once, one in each lane of the processor's vector registers: the method, the network and the
// factorisation are those of one person, on a number type of eight lanes. All eight take the same steps, as long as the
// one with the largest error allows, so each is at least as near as the relative tolerance asks; a person's last bits
// (below the tolerance) depend on the other seven.
//
// The same task gives the same bits whatever the instructions. What the lanes cannot do is refused with a reason, never
// guessed: the caller then runs the eight one by one (solve.hpp), which names the fault.
//
// Numbers of eight people stand interleaved: that of person p in row i is at [i * lane_count + p].
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "network/plan.hpp"
#include "solve/course.hpp"
#include "solve/sparse_lu.hpp"

namespace drawdown::solve {

inline constexpr std::size_t lane_count = 8;

// How wide a register is: two people, four or eight. `portable` is what every processor has (on x86-64, SSE2).
enum class Instructions { portable, avx2, avx512 };
[[nodiscard]] const char* instructions_name(Instructions instructions);
// Those that this program was built with and this machine has, narrowest first.
[[nodiscard]] std::vector<Instructions> instructions_here();
// The widest of them.
[[nodiscard]] Instructions widest_instructions();

// What is the same for everyone; shared, never changed.
struct LanesShared {
  std::shared_ptr<const network::Plan> plan;  // with the constants of the one body they have
  std::shared_ptr<const LuPlan> lu;           // of the plan's pattern
  std::vector<double> rest;                   // where settling starts, by species, in their units
  std::vector<double> scales;                 // typical amounts of the species, in their units
  // As in solve.hpp. The absolute tolerance of a species is a hundredth of it times the species' scale.
  double rtol = 1e-5;
  std::size_t step_limit = 20000;  // steps tried, for each stretch between two cuts
};

// Eight people: settled under `before`, then run from cuts.front() to cuts.back(), hours. Between cuts[s] and
// cuts[s + 1] input i of person p is values[k] + slopes[k] * (t - cuts[s]), k = (s * inputs + i) * lane_count + p.
struct LanesTask {
  std::vector<double> before;        // inputs x 8
  std::vector<double> cuts;          // rising, at least two
  std::vector<double> values;        // stretches x inputs x 8
  std::vector<double> slopes;        // the same, per hour
  std::vector<std::size_t> species;  // those to read
  std::vector<double> times;         // and when: hours, rising, from cuts.front() to cuts.back()
  // Where every accepted step of one person is put, if anywhere: its values at `times` are those read, to the last bit.
  Course* course = nullptr;
  std::size_t kept = 0;  // whose, 0 to 7
};

enum class LanesStatus {
  ok,
  not_settled,  // no stable root in 60 iterations
  bad_pivot,    // of at least one, at some step
  non_finite,
  step_too_small,
  step_limit
};

struct LanesAnswer {
  LanesStatus status = LanesStatus::ok;
  std::size_t iterations = 0;  // of settling
  std::size_t steps = 0;       // accepted
  std::size_t rejected = 0;
  std::vector<double> read;  // times x species x 8, in the species' units; of no use unless the status is ok
};

// Keeps its workspace from task to task. Not for two threads at once.
class LanesRunner {
 public:
  // Throws std::logic_error on sizes that do not fit, or instructions that are not here.
  LanesRunner(std::shared_ptr<const LanesShared> shared, Instructions instructions);
  LanesRunner(const LanesRunner&) = delete;
  LanesRunner(LanesRunner&&) = delete;
  LanesRunner& operator=(const LanesRunner&) = delete;
  LanesRunner& operator=(LanesRunner&&) = delete;
  ~LanesRunner();

  // Throws std::logic_error on sizes that do not fit, cuts or times that do not rise, or times outside the cuts.
  [[nodiscard]] LanesAnswer run(const LanesTask& task);

 private:
  struct Workspace;
  std::shared_ptr<const LanesShared> shared_;
  Instructions instructions_;
  std::unique_ptr<Workspace> workspace_;
};

}  // namespace drawdown::solve
