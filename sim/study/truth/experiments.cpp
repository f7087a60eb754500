#include "study/truth/experiments.hpp"

#include <cmath>

namespace drawdown::study::truth {

scenario::Scenario from_day_zero(const Levers& levers, double days) {
  scenario::Scenario s;
  s.days = days;
  for (const auto& [name, value] : levers) s.events.push_back({0.0, body::lever_at(name), value, 0.0, 0.0, ""});
  return s;
}

scenario::Scenario settled(const Levers& levers, double days) {
  scenario::Scenario s;
  s.days = days;
  for (const auto& [name, value] : levers) s.levers[body::lever_at(name)] = value;
  return s;
}

double fractional_catabolic_rate(const Run& run, double day, const std::string& protein) {
  const network::Network& network = run.body().network;
  const std::vector<double> x = run.state(day);
  const std::vector<double> rates = body::reaction_rates(run.body(), x, run.levers(day));
  const int species = network.species_index(protein);
  const int outside = network.species_index(protein + "_tissue");
  double lost = 0.0;
  for (std::size_t r = 0; r < rates.size(); ++r) {
    double change = 0.0;
    bool exchanged = network.reactions[r].name.rfind("exchange_", 0) == 0;
    for (const network::Change& c : network.reactions[r].changes) {
      if (c.species == species) change += c.count;
      if (outside >= 0 && c.species == outside) exchanged = true;
    }
    if (!exchanged && change < 0.0) lost -= change * rates[r];
  }
  return lost / x[static_cast<std::size_t>(species)];
}

double find(double low, double high, double goal, const std::function<double(double)>& figure) {
  const bool rising = figure(high) > figure(low);
  for (int i = 0; i < 40; ++i) {
    const double middle = 0.5 * (low + high);
    ((figure(middle) < goal) == rising ? low : high) = middle;
  }
  return 0.5 * (low + high);
}

Levers renal_flare() {
  return {{"antibody_drive", 6},  {"antigen_release", 3},   {"share_kidney", 0.6},        {"share_skin", 0.15},
          {"share_joints", 0.15}, {"hepatic_output", 0.85}, {"acute_phase_response", 0.3}};
}

}  // namespace drawdown::study::truth
