// A cohort: any number of people who share one body and differ by their levers and events, run eight at a time
// (solve/lanes.hpp) by as many threads as one likes.
//
// The same cohort gives the same bytes whatever the instructions and the number of threads. A person's last bits depend
// on who is run beside them, so that is fixed by number alone: people stand in blocks of 64; inside a block they are
// sorted by a key the caller gives (people alike take steps alike: the nearer the eight, the fewer the steps), and each
// eight in a row are a group; a last group that is not full is filled up with copies of its last person.
#pragma once

#include <array>
#include <atomic>
#include <cstddef>
#include <functional>
#include <memory>
#include <vector>

#include "simulate.hpp"
#include "solve/lanes.hpp"

namespace drawdown::study {

inline constexpr std::size_t block_people = 64;

struct CohortPerson {
  scenario::Scenario story;
  // Smaller first, by the first number, then the second, then the person's own number. For instance the day of
  // treatment (groups are cut at the union of their people's events), then how fast things move.
  std::array<double, 2> key{};
};

// What is read of everyone.
struct CohortReads {
  std::vector<double> days;              // rising, from 0 to the stories' end
  std::vector<body::ProteinId> levels;   // in the blood, g/L: Run::level
  std::vector<body::ReadoutId> samples;  // as the laboratory reads the day's sample: Run::in_sample
};

struct CohortCourse {
  // In lanes: ok, the end's time and the steps of the group. Else simulate()'s own.
  solve::Outcome outcome;
  bool in_lanes = false;
  std::vector<double> read;  // days x (levels, then samples); empty unless the outcome is ok
};

struct CohortOptions {
  double rtol = SimulateOptions{}.rtol;
  std::size_t step_limit = solve::Options{}.step_limit;
  solve::Instructions instructions = solve::widest_instructions();
};

class Cohort {
 public:
  // The person of this number, 0 to size - 1: the same whenever asked. Called by several threads at once, and once, for
  // person 0, when the cohort is made.
  using People = std::function<CohortPerson(std::size_t number)>;
  // The people of a block, whose first has this number.
  using Deliver = std::function<void(std::size_t first, const std::vector<CohortCourse>& block)>;

  // Throws std::logic_error if `people` is empty, or there are instructions this machine does not have.
  Cohort(std::shared_ptr<const body::Body> body, People people, std::size_t size, const CohortOptions& options = {});

  [[nodiscard]] std::size_t size() const { return size_; }

  // Runs the people from `first` to before `last` and hands each block over, in order of number, on the calling thread;
  // a few blocks are kept, never all. Once *stop is true no more are begun. Returns the number after the last person
  // delivered: `last` when all were. Throws std::logic_error if `first` and `last` are not multiples of 64 (or the
  // size), the days do not rise or lie outside the stories, or a person has another body, another model, a story of
  // another length or a key that is not finite.
  std::size_t run(std::size_t first, std::size_t last, const CohortReads& reads, const Deliver& deliver,
                  std::size_t threads = 1, const std::atomic<bool>* stop = nullptr) const;

  // One person's whole run, worked out with the group they stand in: what it says of a day is what run() delivers, to
  // the last bit. If the lanes refuse the group it is simulate()'s, as there.
  [[nodiscard]] std::shared_ptr<const Run> open(std::size_t number) const;

 private:
  struct Block;
  struct Group;
  [[nodiscard]] Block block_of(std::size_t number) const;
  [[nodiscard]] SimulateOptions alone() const;
  void check(const CohortReads& reads) const;
  void run_group(solve::LanesRunner& lanes, const Block& block, std::size_t at, const CohortReads& reads,
                 const std::atomic<bool>* stop, std::vector<CohortCourse>& courses) const;

  std::shared_ptr<const body::Body> body_;
  People people_;
  std::size_t size_ = 0;
  double days_ = 0.0;
  CohortOptions options_;
  std::shared_ptr<const solve::LanesShared> shared_;
};

}  // namespace drawdown::study
