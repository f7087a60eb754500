// Body, story and solver brought together.
#include "simulate.hpp"

namespace drawdown {

std::vector<double> quiet_levers(const scenario::Scenario& story) {
  std::vector<double> values = story.levers;
  const auto& all = body::levers();
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
  static const auto index = static_cast<std::size_t>(body_->network.species_index("C3"));
  return body::grams_per_litre("C3", course_.value(index, day * 24.0));
}

double Run::c4(double day) const {
  static const auto index = static_cast<std::size_t>(body_->network.species_index("C4"));
  return body::grams_per_litre("C4", course_.value(index, day * 24.0));
}

readout::Serum Run::serum(double day) const {
  return readout::in_blood(*body_, state(day), levers(day));
}

readout::Serum Run::measured(double day) const {
  return readout::as_measured(serum(day), levers(day));
}

readout::FlowPair Run::flows_of(const std::vector<double>& state, const std::vector<double>& levers) const {
  static const std::size_t pregnancy = body::lever_at("pregnancy");
  // Plasma volume about 40 % larger in the third trimester (from memory).
  const double litres = body_->patient.plasma_litres() * (1.0 + 0.4 * levers[pregnancy]);
  return readout::FlowReader(*body_).read(state, body::reaction_rates(*body_, state, levers), litres);
}

readout::FlowPair Run::flows(double day) const {
  return flows_of(state(day), levers(day));
}

std::array<readout::Tissue, 4> Run::tissues(double day) const {
  return readout::tissue_state(*body_, state(day));
}

std::shared_ptr<const Run> simulate(std::shared_ptr<const body::Body> body, const scenario::Scenario& story,
                                    const SimulateOptions& options) {
  auto run = std::make_shared<Run>(std::move(body), story);
  const body::Body& b = *run->body_;
  const std::vector<double> quiet = options.usual_levers.empty() ? quiet_levers(story) : options.usual_levers;
  body::SettleOptions settling;
  settling.step_limit = options.step_limit;
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
  run->usual_c3_ = body::grams_per_litre("C3", usual[static_cast<std::size_t>(b.network.species_index("C3"))]);
  run->usual_c4_ = body::grams_per_litre("C4", usual[static_cast<std::size_t>(b.network.species_index("C4"))]);
  run->usual_flows_ = run->flows_of(usual, quiet);
  run->usual_state_ = usual;
  run->usual_levers_ = quiet;
  const std::vector<double> start = quiet == story.levers ? usual : settle(story.levers);
  if (start.empty()) return run;

  network::Bound<double> bound = b.bound();
  solve::Solver solver(bound.pattern(), b.lu);
  solve::Options solver_options = b.options(options.rtol);
  solver_options.method = options.method;
  solver_options.step_limit = options.step_limit;
  solver_options.keep_going = options.keep_going;
  run->outcome_ = solve::run_segments(bound, solver, run->timeline_.segments(), start, solver_options, run->course_);
  return run;
}

std::shared_ptr<const Run> simulate(const scenario::Scenario& story, const SimulateOptions& options) {
  return simulate(body::make_body(story.patient), story, options);
}

}  // namespace drawdown
