// A cohort: any number of people who share one body and differ by their levers and events, run in the lanes of vector
// registers (solve/lanes.hpp) by as many threads as one likes.
//
// A person's numbers are the same bytes whatever the instructions, the number of threads and who else is in the cohort.
// People are worked on and handed over in blocks of 64.
#pragma once

#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "simulate.hpp"
#include "solve/lanes.hpp"

namespace drawdown::study {

inline constexpr std::size_t block_people = 64;

// What is read of everyone.
struct CohortReads {
  std::vector<double> days;              // rising, from 0 to the stories' end
  std::vector<body::ProteinId> levels;   // in the blood, g/L: Run::level
  std::vector<body::ReadoutId> samples;  // as the laboratory reads the day's sample: Run::in_sample
  bool usual = false;                    // the levels too as they settle without the illness (quiet_levers)
};

struct CohortCourse {
  // In lanes: ok, the end's time and the steps. Else simulate()'s own.
  solve::Outcome outcome;
  bool in_lanes = false;
  std::vector<double> read;   // days x (levels, then samples); empty unless the outcome is ok
  std::vector<double> usual;  // levels; if asked for, and unless the outcome is not ok
};

struct CohortOptions {
  double rtol = SimulateOptions{}.rtol;
  std::size_t step_limit = solve::Options{}.step_limit;
  solve::Instructions instructions = solve::widest_instructions();
};

class Cohort {
 public:
  // The story of the person of this number, 0 to size - 1: the same whenever asked. Called by several threads at once,
  // and once, for person 0, when the cohort is made.
  using People = std::function<scenario::Scenario(std::size_t number)>;
  // The people of a block, whose first has this number.
  using Deliver = std::function<void(std::size_t first, const std::vector<CohortCourse>& block)>;

  // Throws std::logic_error if `people` is empty, or there are instructions this machine does not have.
  Cohort(std::shared_ptr<const body::Body> body, People people, std::size_t size, const CohortOptions& options = {});

  [[nodiscard]] std::size_t size() const { return size_; }

  // Runs the people from `first` to before `last` and hands each block over, in order of number, on the calling thread;
  // a few blocks are kept, never all. Once *stop is true no more are begun. Returns the number after the last person
  // delivered: `last` when all were. Throws std::logic_error if `first` and `last` are not multiples of 64 (or the
  // size), the days do not rise or lie outside the stories, or a person has another body, another model or a story of
  // another length.
  std::size_t run(std::size_t first, std::size_t last, const CohortReads& reads, const Deliver& deliver,
                  std::size_t threads = 1, const std::atomic<bool>* stop = nullptr) const;

  // One person's whole run: what it says of a day is what run() delivers, to the last bit. If the lanes refuse the
  // person it is simulate()'s, as there.
  [[nodiscard]] std::shared_ptr<const Run> open(std::size_t number) const;

 private:
  [[nodiscard]] scenario::Scenario story_of(std::size_t number) const;
  [[nodiscard]] SimulateOptions alone() const;
  void check(const CohortReads& reads) const;
  [[nodiscard]] std::optional<std::vector<CohortCourse>> run_block(solve::LanesRunner& lanes, std::size_t first,
                                                                   const CohortReads& reads,
                                                                   const std::atomic<bool>* stop) const;

  std::shared_ptr<const body::Body> body_;
  People people_;
  std::size_t size_ = 0;
  double days_ = 0.0;
  CohortOptions options_;
  std::shared_ptr<const solve::LanesShared> shared_;
};

}  // namespace drawdown::study
