// Blocks, and what is read of their people.
#include "study/cohort.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <stdexcept>

#include "study/in_order.hpp"

namespace drawdown::study {

namespace {

bool asked_to_stop(const std::atomic<bool>* stop) {
  return stop != nullptr && stop->load(std::memory_order_relaxed);
}

solve::LanesPerson in_lanes(const scenario::Scenario& story, const scenario::Timeline& timeline) {
  return {story.levers, timeline.segments()};
}

std::vector<double> levels_of(const body::Model& model, const std::vector<double>& state, const CohortReads& reads) {
  std::vector<double> levels;
  for (const body::ProteinId protein : reads.levels) {
    levels.push_back(model.grams_per_litre(protein, state[model.in_plasma(protein)]));
  }
  return levels;
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

Cohort::Cohort(std::shared_ptr<const body::Body> body, People people, std::size_t size, const CohortOptions& options)
    : body_(std::move(body)), people_(std::move(people)), size_(size), options_(options) {
  if (!people_) throw std::logic_error("cohort: nobody to ask for its people");
  if (size_ > 0) days_ = people_(0).days;
  shared_ = std::make_shared<const solve::LanesShared>(solve::LanesShared{
      body_->plan, body_->model->lu(), body_->rest, body_->model->scales(), options_.rtol, options_.step_limit});
  const solve::LanesRunner can_be_made(shared_, options_.instructions);
}

scenario::Scenario Cohort::story_of(std::size_t number) const {
  scenario::Scenario story = people_(number);
  if (story.model != body_->model || !(story.patient == body_->patient)) {
    throw std::logic_error("cohort: a person of another body or model");
  }
  if (story.days != days_) throw std::logic_error("cohort: stories of different lengths");
  return story;
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

std::optional<std::vector<CohortCourse>> Cohort::run_block(solve::LanesRunner& lanes, std::size_t first,
                                                           const CohortReads& reads,
                                                           const std::atomic<bool>* stop) const {
  const body::Model& model = *body_->model;
  std::vector<scenario::Scenario> stories;
  std::vector<scenario::Timeline> timelines;
  solve::LanesTask task;
  for (std::size_t k = first; k < std::min(first + block_people, size_); ++k) {
    stories.push_back(story_of(k));
    const scenario::Scenario& story = stories.back();
    timelines.emplace_back(story);
    task.people.push_back(in_lanes(story, timelines.back()));
    if (reads.usual) task.resting.push_back(quiet_levers(story));
  }
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
  if (asked_to_stop(stop)) return std::nullopt;

  const std::size_t row = task.species.size();
  const auto add_levels = [&](const double* state, std::vector<double>& to) {
    for (std::size_t p = 0; p < reads.levels.size(); ++p) {
      const body::ProteinId protein = reads.levels[p];
      to.push_back(model.grams_per_litre(protein, state[all ? model.in_plasma(protein) : p]));
    }
  };
  std::vector<CohortCourse> courses(stories.size());
  for (std::size_t k = 0; k < courses.size(); ++k) {
    CohortCourse& course = courses[k];
    const solve::LanesOutcome& outcome = answer.people[k];
    if (outcome.status != solve::LanesStatus::ok) {
      SimulateOptions options = alone();
      if (stop != nullptr) options.keep_going = [stop](double) { return !asked_to_stop(stop); };
      const auto run = simulate(body_, stories[k], options);
      course.outcome = run->outcome();
      if (!run->complete()) continue;
      course.read = read_of(*run, reads);
      if (reads.usual) course.usual = levels_of(model, run->usual_state(), reads);
      continue;
    }
    if (reads.usual) {
      if (answer.resting[k].status == solve::LanesStatus::ok) {
        add_levels(answer.rest.data() + k * row, course.usual);
      } else {
        const body::Settled usual = body::settled(*body_, task.resting[k]);
        course.outcome = usual.outcome;
        if (usual.state.empty()) continue;
        course.usual = levels_of(model, usual.state, reads);
      }
    }
    course.in_lanes = true;
    course.outcome.time = days_ * 24.0;
    course.outcome.statistics.steps = outcome.steps;
    course.outcome.statistics.rejected = outcome.rejected;
    course.read.reserve(reads.days.size() * (reads.levels.size() + reads.samples.size()));
    const double* state = answer.read.data() + k * reads.days.size() * row;
    for (std::size_t d = 0; d < reads.days.size(); ++d, state += row) {
      add_levels(state, course.read);
      if (!all) continue;
      const std::vector<double> levers = timelines[k].levers_at(reads.days[d]);
      for (const body::ReadoutId readout : reads.samples) {
        course.read.push_back(model.from_sample(readout, state, levers.data()));
      }
    }
  }
  return courses;
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
      return run_block(*lanes, first + piece * block_people, reads, stop);
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
  const scenario::Scenario story = story_of(number);
  solve::LanesTask task;
  task.people.push_back(in_lanes(story, scenario::Timeline(story)));
  solve::Course course(body_->rest.size());
  task.course = &course;
  solve::LanesRunner lanes(shared_, options_.instructions);
  SimulateOptions options = alone();
  if (lanes.run(task).people[0].status == solve::LanesStatus::ok) options.known_course = &course;
  return simulate(body_, story, options);
}

}  // namespace drawdown::study
