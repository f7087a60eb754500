// Putting the chapters together and finding the healthy steady state.
#include "body/body.hpp"

#include <cmath>
#include <stdexcept>

#include "body/builder.hpp"

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

network::Network write_network() {
  network::Network network;
  for (const Pass pass : {Pass::names, Pass::reactions}) {
    Builder builder(network, pass);
    for (const Lever& lever : levers()) builder.input(lever.name, lever.unit, lever.rest);
    write_turnover(builder);
    write_classical(builder);
    write_alternative(builder);
    write_terminal(builder);
    write_complexes(builder);
    write_tissue(builder);
    write_liver(builder);
    if (pass == Pass::reactions) write_moieties(builder);
  }
  return network;
}

// What is the same for every person: worked out once.
struct Written {
  network::Network network;
  std::shared_ptr<const network::Plan> plan;
  std::shared_ptr<const solve::LuPlan> lu;
};
const Written& written() {
  static const Written once = [] {
    Written w;
    w.network = write_network();
    w.plan = std::make_shared<const network::Plan>(w.network);
    w.lu = std::make_shared<const solve::LuPlan>(w.plan->pattern);
    return w;
  }();
  return once;
}

std::vector<double> scales_of(const network::Network& network) {
  std::vector<double> scales;
  for (const network::Species& species : network.species) scales.push_back(species.scale);
  return scales;
}

}  // namespace

solve::Options Body::options(double rtol) const {
  solve::Options options;
  options.rtol = rtol;
  // A species counts as exact below a thousandth of its typical amount times the relative tolerance.
  for (const double scale : scales) options.atol.push_back(1e-2 * rtol * scale);
  options.first_step = 0.0;
  return options;
}

std::shared_ptr<const Body> make_body(const Patient& patient) {
  network::Network network = written().network;
  const auto& lu = written().lu;
  network::Bound<double> first(written().plan);
  const std::size_t n = network.species.size();
  std::vector<double> x(n, 0.0);
  std::vector<char> held(n, 0);
  const auto at = [&](const std::string& name) {
    const int index = network.species_index(name);
    if (index < 0) throw std::logic_error("body: no species named " + name);
    return static_cast<std::size_t>(index);
  };
  for (std::size_t p = 0; p < proteins.size(); ++p) {
    const double level = nanomolar(patient.usual[p], proteins[p].mass);
    x[at(proteins[p].name)] = level;
    held[at(proteins[p].name)] = 1;
    if (proteins[p].outside > 0.0) {
      const std::size_t outside = at(std::string(proteins[p].name) + "_tissue");
      x[outside] = level * proteins[p].outside;
      held[outside] = 1;
    }
  }
  const HeldSystem still(first, held);
  solve::Options options;
  options.rtol = 1e-8;
  for (const network::Species& species : network.species) options.atol.push_back(1e-9 * species.scale);
  solve::Course course(n);
  solve::Solver solver(first.pattern(), lu);
  const solve::Outcome outcome = solver.solve(still, x, 0.0, 20000.0, options, course);
  if (outcome.status != solve::Status::ok) throw std::logic_error("body: no resting state");
  course.last_state(x.data());

  // The same plan with this person's constants.
  const auto own = std::make_shared<network::Plan>(*written().plan);
  // What resting activation takes from each protein (net, positive = used).
  std::vector<double> slope(n);
  first.derivative(0.0, x.data(), slope.data());
  for (const Protein& protein : proteins) {
    const std::string name = protein.name;
    const double level = x[at(name)];
    const double used = -slope[at(name)];
    const double loss = protein.fcr - used / level;
    if (loss <= 0.0) throw std::logic_error("body: resting activation uses more " + name + " than its turnover");
    const auto set = [&](const std::string& reaction, double value) {
      const auto index = static_cast<std::size_t>(network.reaction_index(reaction));
      network.reactions.at(index).constant.value = value;
      own->constants[own->place_of[index]] = value;
    };
    set("make_" + name, protein.fcr * level);
    set("turn_over_" + name, loss);
    set("exchange_in_" + name, nanomolar(protein.level, protein.mass));
  }
  network::Bound<double>(own).derivative(0.0, x.data(), slope.data());
  for (std::size_t i = 0; i < n; ++i) {
    if (std::abs(slope[i]) > 1e-6 * std::max(network.species[i].scale, x[i])) {
      throw std::logic_error("body: " + network.species[i].name + " does not rest");
    }
  }
  std::vector<double> scales = scales_of(network);
  return std::make_shared<const Body>(Body{patient, std::move(network), own, std::move(x), std::move(scales), lu});
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

Settled settled(const Body& body, const std::vector<double>& levers, const SettleOptions& settle) {
  network::Bound<double> bound = body.bound();
  bound.bind(levers, {}, 0.0);
  const solve::NetworkSystem system(bound);
  solve::Course course(body.rest.size());
  solve::Solver solver(bound.pattern(), body.lu);
  // Loose on the way: where nothing changes any more the error of a step vanishes with the slope.
  solve::Options options = body.options(1e-3);
  options.step_limit = settle.step_limit;
  options.keep_going = settle.keep_going;
  Settled result;
  result.outcome = solver.solve(system, body.rest, 0.0, settling_hours, options, course);
  if (result.outcome.status != solve::Status::ok) return result;
  result.state.resize(body.rest.size());
  course.last_state(result.state.data());
  return result;
}

}  // namespace drawdown::body
