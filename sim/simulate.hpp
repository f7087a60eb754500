// The one public door: a story in, a run out. Everything a screen, a table or a test asks of a run is asked here.
#pragma once

#include <functional>
#include <memory>
#include <vector>

#include "body/body.hpp"
#include "readout/flows.hpp"
#include "readout/serum.hpp"
#include "scenario/scenario.hpp"
#include "scenario/timeline.hpp"
#include "solve/segments.hpp"

namespace drawdown {

class Run {
 public:
  Run(std::shared_ptr<const body::Body> body, scenario::Scenario story);

  [[nodiscard]] const body::Body& body() const { return *body_; }
  [[nodiscard]] const scenario::Scenario& story() const { return story_; }
  [[nodiscard]] const solve::Course& course() const { return course_; }
  [[nodiscard]] const solve::Outcome& outcome() const { return outcome_; }
  [[nodiscard]] bool complete() const { return outcome_.status == solve::Status::ok; }
  // The body came to rest before day 0. Only then is there a usual level, and a course to ask for levels and flows.
  [[nodiscard]] bool started() const { return !course_.empty(); }
  // The last day reached (the story's end when complete).
  [[nodiscard]] double last_day() const { return course_.empty() ? 0.0 : course_.end_time() / 24.0; }

  [[nodiscard]] std::vector<double> state(double day) const { return course_.state(day * 24.0); }
  [[nodiscard]] std::vector<double> levers(double day) const { return timeline_.levers_at(day); }
  [[nodiscard]] double lever(std::size_t index, double day) const { return timeline_.value(index, day); }

  // Serum C3 and C4 in the blood, g/L (fast: for charts).
  [[nodiscard]] double c3(double day) const;
  [[nodiscard]] double c4(double day) const;
  // Of any protein in the plasma, g/L, and any readout as the laboratory reads the day's sample.
  [[nodiscard]] double level(body::ProteinId protein, double day) const;
  [[nodiscard]] double in_sample(body::ReadoutId readout, double day) const;
  // This person's own level when quiet: the levers as the story starts, the illness's levers at rest; g/L.
  [[nodiscard]] double usual_c3() const { return usual_c3_; }
  [[nodiscard]] double usual_c4() const { return usual_c4_; }

  [[nodiscard]] readout::Serum serum(double day) const;     // in the blood
  [[nodiscard]] readout::Serum measured(double day) const;  // as the laboratory reads the sample
  [[nodiscard]] readout::FlowPair flows(double day) const;
  [[nodiscard]] double plasma_litres(double day) const;
  // This person when quiet, whole: every species, and the levers it is so under. What "usual" means everywhere.
  [[nodiscard]] const std::vector<double>& usual_state() const { return usual_state_; }
  [[nodiscard]] const std::vector<double>& usual_levers() const { return usual_levers_; }
  // The same for this person when quiet: what widths and shares are compared with.
  [[nodiscard]] const readout::FlowPair& usual_flows() const { return usual_flows_; }
  [[nodiscard]] std::vector<readout::Tissue> tissues(double day) const;

 private:
  friend std::shared_ptr<const Run> simulate(std::shared_ptr<const body::Body>, const scenario::Scenario&,
                                             const struct SimulateOptions&);
  [[nodiscard]] double litres_of(const std::vector<double>& levers) const;
  [[nodiscard]] readout::FlowPair flows_of(const std::vector<double>& state, const std::vector<double>& levers) const;

  std::shared_ptr<const body::Body> body_;
  scenario::Scenario story_;
  scenario::Timeline timeline_;
  solve::Course course_;
  solve::Outcome outcome_;
  double usual_c3_ = 0.0;
  double usual_c4_ = 0.0;
  readout::FlowPair usual_flows_;
  std::vector<double> usual_state_;
  std::vector<double> usual_levers_;
};

struct SimulateOptions {
  double rtol = 1e-5;  // every readout then within 1e-4 of its course maximum (tests/reference)
  solve::Method method = solve::Method::sparse;
  std::vector<double> usual_levers;  // of the quiet state compared with; empty = quiet_levers(story)
  std::size_t step_limit = solve::Options{}.step_limit;
  std::function<bool(double)> keep_going;  // hours reached, at most 0 while settling; false cancels
  bool settle_by_time = false;             // not by Newton's method (body.hpp)
  // The story's course where it is known already (study/cohort.hpp): taken over, not run again. May be null.
  const solve::Course* known_course = nullptr;
};

// The person when quiet: the illness's, the treatment's and the laboratory's levers at rest; what the person is born
// with, how the liver works and the person's own factors as the story starts.
[[nodiscard]] std::vector<double> quiet_levers(const scenario::Scenario& story);

// Settles the body under the levers before day 0, then runs the story. `body` must have been made for the story's
// patient and of its model. Numerical trouble is in run->outcome(); what was reached is kept. If it did not settle, the
// outcome's time is below 0 and the course is empty.
[[nodiscard]] std::shared_ptr<const Run> simulate(std::shared_ptr<const body::Body> body,
                                                  const scenario::Scenario& story, const SimulateOptions& options = {});
// The same, making the body.
[[nodiscard]] std::shared_ptr<const Run> simulate(const scenario::Scenario& story, const SimulateOptions& options = {});

}  // namespace drawdown
