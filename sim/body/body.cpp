// Finding the healthy steady state.
#include "body/body.hpp"

#include <cmath>
#include <stdexcept>

namespace drawdown::body {

namespace {

// The network with the circulating proteins (and their pools in tissue) held still.
class HeldSystem final : public solve::System {
 public:
  HeldSystem(network::Bound<double>& bound, std::vector<char> held) : bound_(&bound), held_(std::move(held)) {}
  [[nodiscard]] const network::Pattern& pattern() const override { return bound_->pattern(); }
  void derivative(double t, const double* x, double* dxdt) const override {
    bound_->derivative(t, x, dxdt);
    for (std::size_t i = 0; i < held_.size(); ++i) {
      if (held_[i] != 0) dxdt[i] = 0.0;
    }
  }
  void jacobian(double t, const double* x, double* values, double* dfdt) const override {
    bound_->jacobian(t, x, values, dfdt);
    const auto& entries = bound_->pattern().entries;
    for (std::size_t e = 0; e < entries.size(); ++e) {
      if (held_[static_cast<std::size_t>(entries[e].first)] != 0) values[e] = 0.0;
    }
  }

 private:
  network::Bound<double>* bound_;
  std::vector<char> held_;
};

}  // namespace

solve::Options Body::options(double rtol) const {
  solve::Options options;
  options.rtol = rtol;
  // A species counts as exact below a thousandth of its typical amount times the relative tolerance.
  for (const double scale : model->scales()) options.atol.push_back(1e-2 * rtol * scale);
  options.first_step = 0.0;
  return options;
}

std::shared_ptr<const Body> make_body(const Patient& patient, const std::shared_ptr<const Model>& model) {
  const std::vector<Protein>& proteins = model->proteins();
  if (patient.usual.size() != proteins.size()) throw std::logic_error("body: one usual level a protein is wanted");
  network::Network network = model->network();
  network::Bound<double> first(model->plan());
  const std::size_t n = network.species.size();
  std::vector<double> x(n, 0.0);
  std::vector<char> held(n, 0);
  for (std::size_t p = 0; p < proteins.size(); ++p) {
    const double level = nanomolar(patient.usual[p], proteins[p].mass);
    const SpeciesId in_plasma = model->in_plasma(ProteinId(p));
    x[in_plasma] = level;
    held[in_plasma] = 1;
    if (proteins[p].outside > 0.0) {
      const SpeciesId outside = model->in_tissue(ProteinId(p));
      x[outside] = level * proteins[p].outside;
      held[outside] = 1;
    }
  }
  const HeldSystem still(first, held);
  solve::Options options;
  options.rtol = 1e-8;
  for (const double scale : model->scales()) options.atol.push_back(1e-9 * scale);
  solve::Course course(n);
  solve::Solver solver(first.pattern(), model->lu());
  const solve::Outcome outcome = solver.solve(still, x, 0.0, 20000.0, options, course);
  if (outcome.status != solve::Status::ok) throw std::logic_error("body: no resting state");
  course.last_state(x.data());

  // The same plan with this person's constants.
  const auto own = std::make_shared<network::Plan>(*model->plan());
  // What resting activation takes from each protein (net, positive = used).
  std::vector<double> slope(n);
  first.derivative(0.0, x.data(), slope.data());
  for (std::size_t p = 0; p < proteins.size(); ++p) {
    const Protein& protein = proteins[p];
    const double level = x[model->in_plasma(ProteinId(p))];
    const double used = -slope[model->in_plasma(ProteinId(p))];
    const double loss = protein.fcr - used / level;
    if (loss <= 0.0) {
      throw std::logic_error("body: resting activation uses more " + protein.name + " than its turnover");
    }
    const auto set = [&](ReactionId reaction, double value) {
      network.reactions[reaction].constant.value = value;
      own->constants[own->place_of[reaction]] = value;
    };
    const Model::Made& of = model->reactions_of(ProteinId(p));
    set(of.made, protein.fcr * level);
    set(of.worn, loss);
    set(of.refilled, nanomolar(protein.level, protein.mass));
  }
  network::Bound<double>(own).derivative(0.0, x.data(), slope.data());
  for (std::size_t i = 0; i < n; ++i) {
    if (std::abs(slope[i]) > 1e-6 * std::max(network.species[i].scale, x[i])) {
      throw std::logic_error("body: " + network.species[i].name + " does not rest");
    }
  }
  return std::make_shared<const Body>(Body{patient, model, std::move(network), own, std::move(x)});
}

bool operator==(const Patient& a, const Patient& b) {
  return a.weight == b.weight && a.plasma_volume == b.plasma_volume && a.usual == b.usual;
}

std::vector<double> reaction_rates(const Body& body, const std::vector<double>& state,
                                   const std::vector<double>& levers) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  std::vector<double> rates(bound.plan().reactions());
  bound.rates(0.0, state.data(), rates.data());
  return rates;
}

}  // namespace drawdown::body
