// Many people run in the lanes of the processor's vector registers, eight at a time: the method, the network and the
// factorisation are those of one person, on a number type of eight lanes. Each lane goes its own way - its own time,
// its own steps, its own events - and takes the next person as soon as its own is through. So a person's numbers are
// the same bits whoever is run beside them, in whichever lane and order, and whatever the instructions.
//
// What the lanes cannot do for a person is refused with a reason, never guessed: the caller then runs that person alone
// (solve.hpp), which names the fault.
#pragma once

#include <cstddef>
#include <memory>
#include <vector>

#include "network/plan.hpp"
#include "solve/course.hpp"
#include "solve/segments.hpp"
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
  std::size_t step_limit = 20000;  // steps tried, for each segment
};

struct LanesPerson {
  std::vector<double> before;     // inputs under which they settle
  std::vector<Segment> segments;  // then run through, each beginning where the last one ends
};

struct LanesTask {
  std::vector<LanesPerson> people;
  std::vector<std::vector<double>> resting;  // inputs of people who settle and no more
  std::vector<std::size_t> species;          // those to read
  std::vector<double> times;                 // and when: hours, rising, within everyone's segments
  // Where every accepted step of one person is put, if anywhere: its values at `times` are those read, to the last bit.
  Course* course = nullptr;
  std::size_t kept = 0;  // whose
};

enum class LanesStatus {
  ok,
  not_settled,  // no stable root in 60 iterations
  bad_pivot,    // at some step
  non_finite,
  step_too_small,
  step_limit
};

struct LanesOutcome {
  LanesStatus status = LanesStatus::ok;
  std::size_t iterations = 0;  // of settling
  std::size_t steps = 0;       // accepted
  std::size_t rejected = 0;
};

// Numbers are in the species' units, and of no use unless the status is ok.
struct LanesAnswer {
  std::vector<LanesOutcome> people;
  std::vector<double> read;  // people x times x species
  std::vector<LanesOutcome> resting;
  std::vector<double> rest;  // resting people x species
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

  // Throws std::logic_error on sizes that do not fit, segments or times that do not rise, or times outside them.
  [[nodiscard]] LanesAnswer run(const LanesTask& task);

 private:
  struct Workspace;
  void check(const LanesTask& task) const;
  std::shared_ptr<const LanesShared> shared_;
  Instructions instructions_;
  std::unique_ptr<Workspace> workspace_;
};

}  // namespace drawdown::solve
