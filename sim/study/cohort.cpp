// Blocks, groups, and what is read of them.
#include "study/cohort.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <stdexcept>

#include "study/in_order.hpp"

namespace drawdown::study {

namespace {

using solve::lane_count;

bool asked_to_stop(const std::atomic<bool>* stop) {
  return stop != nullptr && stop->load(std::memory_order_relaxed);
}

std::vector<double> read_of(const Run& run, const CohortReads& reads) {
  std::vector<double> values;
  values.reserve(reads.days.size() * (reads.levels.size() + reads.samples.size()));
  for (const double day : reads.days) {
    for (const body::ProteinId protein : reads.levels) values.push_back(run.level(protein, day));
    for (const body::ReadoutId readout : reads.samples) values.push_back(run.in_sample(readout, day));
  }
  return values;
}

}  // namespace

// In the order of their keys.
struct Cohort::Block {
  std::vector<std::size_t> numbers;
  std::vector<CohortPerson> people;
};

// Eight of a block, the last repeated if there are fewer.
struct Cohort::Group {
  std::size_t people = 0;
  std::array<const scenario::Scenario*, lane_count> stories{};
  std::vector<scenario::Timeline> timelines;

  Group(const Block& block, std::size_t at) : people(std::min(lane_count, block.people.size() - at)) {
    for (std::size_t lane = 0; lane < lane_count; ++lane) {
      stories[lane] = &block.people[at + std::min(lane, people - 1)].story;
      timelines.emplace_back(*stories[lane]);
    }
  }

  // Cut wherever one of them is; nothing to read yet.
  [[nodiscard]] solve::LanesTask task() const {
    solve::LanesTask task;
    std::vector<std::vector<solve::Segment>> segments;
    for (const scenario::Timeline& timeline : timelines) {
      segments.push_back(timeline.segments());
      for (const solve::Segment& segment : segments.back()) task.cuts.push_back(segment.start);
    }
    task.cuts.push_back(segments.front().back().end);
    std::sort(task.cuts.begin(), task.cuts.end());
    task.cuts.erase(std::unique(task.cuts.begin(), task.cuts.end()), task.cuts.end());

    const std::size_t inputs = stories.front()->levers.size();
    task.before.resize(inputs * lane_count);
    task.values.resize((task.cuts.size() - 1) * inputs * lane_count);
    task.slopes.resize(task.values.size());
    for (std::size_t lane = 0; lane < lane_count; ++lane) {
      for (std::size_t i = 0; i < inputs; ++i) task.before[i * lane_count + lane] = stories[lane]->levers[i];
      std::size_t own = 0;
      std::size_t to = lane;
      for (std::size_t s = 0; s + 1 < task.cuts.size(); ++s) {
        while (segments[lane][own].end <= task.cuts[s]) own += 1;
        const solve::Segment& segment = segments[lane][own];
        const double since = task.cuts[s] - segment.start;
        for (std::size_t i = 0; i < inputs; ++i, to += lane_count) {
          // A lever that is held stays the number it is.
          task.values[to] =
              segment.slopes[i] == 0.0 ? segment.values[i] : segment.values[i] + segment.slopes[i] * since;
          task.slopes[to] = segment.slopes[i];
        }
      }
    }
    return task;
  }
};

Cohort::Cohort(std::shared_ptr<const body::Body> body, People people, std::size_t size, const CohortOptions& options)
    : body_(std::move(body)), people_(std::move(people)), size_(size), options_(options) {
  if (!people_) throw std::logic_error("cohort: nobody to ask for its people");
  if (size_ > 0) days_ = people_(0).story.days;
  shared_ = std::make_shared<const solve::LanesShared>(solve::LanesShared{
      body_->plan, body_->model->lu(), body_->rest, body_->model->scales(), options_.rtol, options_.step_limit});
  const solve::LanesRunner can_be_made(shared_, options_.instructions);
}

Cohort::Block Cohort::block_of(std::size_t number) const {
  const std::size_t first = number / block_people * block_people;
  std::vector<CohortPerson> people;
  for (std::size_t k = first; k < std::min(first + block_people, size_); ++k) {
    people.push_back(people_(k));
    const CohortPerson& person = people.back();
    if (person.story.model != body_->model || !(person.story.patient == body_->patient)) {
      throw std::logic_error("cohort: a person of another body or model");
    }
    if (person.story.days != days_) throw std::logic_error("cohort: stories of different lengths");
    if (!std::isfinite(person.key[0]) || !std::isfinite(person.key[1])) {
      throw std::logic_error("cohort: a key that is not finite");
    }
  }
  std::vector<std::size_t> order(people.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return people[a].key < people[b].key; });
  Block block;
  for (const std::size_t k : order) {
    block.numbers.push_back(first + k);
    block.people.push_back(std::move(people[k]));
  }
  return block;
}

SimulateOptions Cohort::alone() const {
  SimulateOptions options;
  options.rtol = options_.rtol;
  options.step_limit = options_.step_limit;
  return options;
}

void Cohort::check(const CohortReads& reads) const {
  const auto& days = reads.days;
  const bool rise =
      std::adjacent_find(days.begin(), days.end(), [](double a, double b) { return !(a < b); }) == days.end();
  if (!rise || (!days.empty() && !(days.front() >= 0.0 && days.back() <= days_))) {
    throw std::logic_error("cohort: days to read must rise, from 0 to the stories' end");
  }
}

void Cohort::run_group(solve::LanesRunner& lanes, const Block& block, std::size_t at, const CohortReads& reads,
                       const std::atomic<bool>* stop, std::vector<CohortCourse>& courses) const {
  const body::Model& model = *body_->model;
  const Group group(block, at);
  solve::LanesTask task = group.task();
  for (const double day : reads.days) task.times.push_back(day * 24.0);
  // A readout may read any species.
  const bool all = !reads.samples.empty();
  if (all) {
    task.species.resize(body_->rest.size());
    std::iota(task.species.begin(), task.species.end(), std::size_t{0});
  } else {
    for (const body::ProteinId protein : reads.levels) task.species.push_back(model.in_plasma(protein));
  }
  const solve::LanesAnswer answer = lanes.run(task);
  const std::size_t row = task.species.size();
  std::vector<double> state(row);
  for (std::size_t lane = 0; lane < group.people; ++lane) {
    CohortCourse& course = courses[block.numbers[at + lane] % block_people];
    if (answer.status != solve::LanesStatus::ok) {
      SimulateOptions options = alone();
      if (stop != nullptr) options.keep_going = [stop](double) { return !asked_to_stop(stop); };
      const auto run = simulate(body_, *group.stories[lane], options);
      course.outcome = run->outcome();
      if (run->complete()) course.read = read_of(*run, reads);
      continue;
    }
    course.in_lanes = true;
    course.outcome.time = task.cuts.back();
    course.outcome.statistics.steps = answer.steps;
    course.outcome.statistics.rejected = answer.rejected;
    course.read.reserve(reads.days.size() * (reads.levels.size() + reads.samples.size()));
    for (std::size_t d = 0; d < reads.days.size(); ++d) {
      for (std::size_t i = 0; i < row; ++i) state[i] = answer.read[(d * row + i) * lane_count + lane];
      for (std::size_t p = 0; p < reads.levels.size(); ++p) {
        const body::ProteinId protein = reads.levels[p];
        course.read.push_back(model.grams_per_litre(protein, state[all ? model.in_plasma(protein) : p]));
      }
      if (!all) continue;
      const std::vector<double> levers = group.timelines[lane].levers_at(reads.days[d]);
      for (const body::ReadoutId readout : reads.samples) {
        course.read.push_back(model.from_sample(readout, state.data(), levers.data()));
      }
    }
  }
}

std::size_t Cohort::run(std::size_t first, std::size_t last, const CohortReads& reads, const Deliver& deliver,
                        std::size_t threads, const std::atomic<bool>* stop) const {
  const auto on_a_border = [&](std::size_t number) { return number % block_people == 0 || number == size_; };
  if (first > last || last > size_ || !on_a_border(first) || !on_a_border(last)) {
    throw std::logic_error("cohort: parts are cut at multiples of 64");
  }
  check(reads);
  using Courses = std::vector<CohortCourse>;
  const auto make_worker = [&] {
    const auto lanes = std::make_shared<solve::LanesRunner>(shared_, options_.instructions);
    return [&, lanes](std::size_t piece) -> std::optional<Courses> {
      if (asked_to_stop(stop)) return std::nullopt;
      const Block block = block_of(first + piece * block_people);
      Courses courses(block.people.size());
      for (std::size_t at = 0; at < courses.size(); at += lane_count) {
        run_group(*lanes, block, at, reads, stop, courses);
        if (asked_to_stop(stop)) return std::nullopt;
      }
      return courses;
    };
  };
  const std::size_t blocks = (last - first + block_people - 1) / block_people;
  const std::size_t delivered = in_order<Courses>(
      blocks, threads, make_worker,
      [&](std::size_t piece, const Courses& courses) { deliver(first + piece * block_people, courses); });
  return std::min(first + delivered * block_people, last);
}

std::shared_ptr<const Run> Cohort::open(std::size_t number) const {
  if (number >= size_) throw std::logic_error("cohort: nobody of that number");
  const Block block = block_of(number);
  const auto at =
      static_cast<std::size_t>(std::find(block.numbers.begin(), block.numbers.end(), number) - block.numbers.begin());
  const std::size_t lane = at % lane_count;
  const Group group(block, at - lane);
  solve::LanesTask task = group.task();
  solve::Course course(body_->rest.size());
  task.kept = lane;
  task.course = &course;
  solve::LanesRunner lanes(shared_, options_.instructions);
  SimulateOptions options = alone();
  if (lanes.run(task).status == solve::LanesStatus::ok) options.known_course = &course;
  return simulate(body_, *group.stories[lane], options);
}

}  // namespace drawdown::study
