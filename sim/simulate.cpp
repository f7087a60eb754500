// Body, story and solver brought together.
#include "simulate.hpp"

namespace drawdown {

std::vector<double> quiet_levers(const scenario::Scenario& story) {
  std::vector<double> values = story.levers;
  const auto& all = story.lever_rows();
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool own = all[i].group == body::LeverGroup::inherited || all[i].group == body::LeverGroup::person ||
                     all[i].group == body::LeverGroup::production;
    if (!own) values[i] = all[i].rest;
  }
  return values;
}

Run::Run(std::shared_ptr<const body::Body> body, scenario::Scenario story)
    : body_(std::move(body)), story_(std::move(story)), timeline_(story_), course_(body_->network.species.size()) {}

double Run::c3(double day) const {
  return level(body_->model->known().c3, day);
}

double Run::c4(double day) const {
  return level(body_->model->known().c4, day);
}

double Run::level(body::ProteinId protein, double day) const {
  const body::Model& model = *body_->model;
  return model.grams_per_litre(protein, course_.value(model.in_plasma(protein), day * 24.0));
}

double Run::in_sample(body::ReadoutId readout, double day) const {
  const std::vector<double> x = state(day);
  const std::vector<double> now = levers(day);
  return body_->model->from_sample(readout, x.data(), now.data());
}

readout::Serum Run::serum(double day) const {
  return readout::in_blood(*body_, state(day), levers(day));
}

readout::Serum Run::measured(double day) const {
  return readout::as_measured(*body_, serum(day), levers(day));
}

readout::FlowPair Run::flows_of(const std::vector<double>& state, const std::vector<double>& levers) const {
  return readout::read_flows(*body_->model, state, body::reaction_rates(*body_, state, levers), litres_of(levers));
}

double Run::litres_of(const std::vector<double>& levers) const {
  return body_->patient.plasma_litres() * network::volume_share(body_->network, levers);
}

double Run::plasma_litres(double day) const {
  return litres_of(levers(day));
}

readout::FlowPair Run::flows(double day) const {
  return flows_of(state(day), levers(day));
}

std::vector<readout::Tissue> Run::tissues(double day) const {
  return readout::tissue_state(*body_, state(day));
}

std::shared_ptr<const Run> simulate(std::shared_ptr<const body::Body> body, const scenario::Scenario& story,
                                    const SimulateOptions& options) {
  auto run = std::make_shared<Run>(std::move(body), story);
  const body::Body& b = *run->body_;
  const std::vector<double> quiet = options.usual_levers.empty() ? quiet_levers(story) : options.usual_levers;
  body::SettleOptions settling;
  settling.step_limit = options.step_limit;
  settling.by_time = options.settle_by_time;
  if (options.keep_going) {
    settling.keep_going = [&](double hours) { return options.keep_going(hours - body::settling_hours); };
  }
  // Settles, or leaves the reason in the run's outcome.
  const auto settle = [&](const std::vector<double>& levers) {
    body::Settled settled = body::settled(b, levers, settling);
    run->outcome_ = settled.outcome;
    run->outcome_.time -= body::settling_hours;
    return std::move(settled.state);
  };
  const std::vector<double> usual = settle(quiet);
  if (usual.empty()) return run;
  const body::Model& model = *b.model;
  const auto usual_level = [&](body::ProteinId p) { return model.grams_per_litre(p, usual[model.in_plasma(p)]); };
  run->usual_c3_ = usual_level(model.known().c3);
  run->usual_c4_ = usual_level(model.known().c4);
  run->usual_flows_ = run->flows_of(usual, quiet);
  run->usual_state_ = usual;
  run->usual_levers_ = quiet;
  if (options.known_course != nullptr) {
    run->course_ = *options.known_course;
    run->outcome_ = {};
    run->outcome_.time = run->course_.end_time();
    run->outcome_.statistics.steps = run->course_.step_count();
    return run;
  }
  const std::vector<double> start = quiet == story.levers ? usual : settle(story.levers);
  if (start.empty()) return run;

  network::Bound<double> bound = b.bound();
  bound.bind(story.levers, {}, 0.0);
  solve::Solver solver(bound.pattern(), model.lu());
  solve::Options solver_options = b.options(options.rtol);
  solver_options.method = options.method;
  solver_options.step_limit = options.step_limit;
  solver_options.keep_going = options.keep_going;
  run->outcome_ = solve::run_segments(bound, solver, run->timeline_.segments(), start, solver_options, run->course_);
  return run;
}

std::shared_ptr<const Run> simulate(const scenario::Scenario& story, const SimulateOptions& options) {
  return simulate(body::make_body(story.patient, story.model), story, options);
}

}  // namespace drawdown
