// Reading the state as a laboratory would.
#include "readout/serum.hpp"

#include <cmath>
#include <stdexcept>

namespace drawdown::readout {

namespace {

double level(const body::Body& body, const std::vector<double>& state, const char* name) {
  const int index = body.network.species_index(name);
  if (index < 0) throw std::logic_error(std::string("readout: no species named ") + name);
  return state[static_cast<std::size_t>(index)];
}

double protein_mg(const body::Body& body, const std::vector<double>& state, const char* name) {
  const auto& protein = body::proteins[static_cast<std::size_t>(body::protein_index(name))];
  return body::milligrams(level(body, state, name), protein.mass);
}

// How much one component lets through when it is the scarce one: 1 at the standard level, saturating above.
// Form and constant assumed; the steep sum over components stands for von Krogh's y = x^n / (x^n + k).
double component(double relative) {
  constexpr double half = 0.2;
  const double x = std::max(relative, 0.0);
  return x * (1.0 + half) / (x + half);
}

}  // namespace

Serum in_blood(const body::Body& body, const std::vector<double>& state, const std::vector<double>& levers) {
  static const std::size_t block_c1s = body::lever_at("block_c1s");
  static const std::size_t block_c3 = body::lever_at("block_c3");
  static const std::size_t block_b = body::lever_at("block_factor_b");
  static const std::size_t block_c5 = body::lever_at("block_c5");
  Serum s;
  s.c3 = protein_mg(body, state, "C3") / 1000.0;
  s.c4 = protein_mg(body, state, "C4") / 1000.0;
  s.c1q = protein_mg(body, state, "C1");
  s.c2 = protein_mg(body, state, "C2");
  s.factor_b = protein_mg(body, state, "FB");
  s.factor_h = protein_mg(body, state, "FH");
  s.factor_i = protein_mg(body, state, "FI");
  s.c1_inhibitor = protein_mg(body, state, "C1INH");
  s.c5 = protein_mg(body, state, "C5");
  s.c9 = protein_mg(body, state, "C9");
  s.c4d = body::milligrams(level(body, state, "C4d"), 44.0);
  s.c3d = level(body, state, "C3d");
  s.c3a = level(body, state, "C3a");
  s.bb = level(body, state, "Bb");
  s.c5a = level(body, state, "C5a");
  s.sc5b9 = level(body, state, "sC5b9");
  const auto relative = [](double mg, const char* name) {
    return mg / body::proteins[static_cast<std::size_t>(body::protein_index(name))].level;
  };
  const double c3 = component(relative(1000.0 * s.c3, "C3") * (1.0 - levers[block_c3]));
  const double late = component(relative(s.c5, "C5") * (1.0 - levers[block_c5])) * component(relative(s.c9, "C9"));
  s.ch50 = 100.0 * component(relative(s.c1q, "C1") * (1.0 - levers[block_c1s])) *
           component(relative(1000.0 * s.c4, "C4")) * component(relative(s.c2, "C2")) * c3 * late;
  s.ah50 = 100.0 * component(relative(s.factor_b, "FB") * (1.0 - levers[block_b])) * c3 * late;
  s.antibody = level(body, state, "antibody");
  s.crp = 1.0 + 120.0 * level(body, state, "acute_phase");
  s.urine_protein = level(body, state, "urine_protein");
  return s;
}

Serum as_measured(const Serum& in_blood, const std::vector<double>& levers) {
  static const std::size_t fridge = body::lever_at("fridge_days");
  static const std::size_t cold = body::lever_at("cold_activation");
  Serum s = in_blood;
  const double days = levers[fridge];
  if (days > 0.0) {
    s.c3 *= 1.0 + (4.14 * days + 1.07) / 100.0;
    s.c4 *= 1.0 + (3.57 * days + 2.48) / 100.0;
    s.ch50 *= std::pow(0.88, days);
    s.ah50 *= std::pow(0.88, days);
  }
  s.ch50 *= 1.0 - levers[cold];
  return s;
}

std::array<Tissue, 4> tissue_state(const body::Body& body, const std::vector<double>& state) {
  std::array<Tissue, 4> all{};
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string at = body::tissues[i];
    all[i].deposit = level(body, state, ("deposit_" + at).c_str());
    all[i].inflammation = level(body, state, ("inflammation_" + at).c_str());
    all[i].injury = level(body, state, ("injury_" + at).c_str());
  }
  return all;
}

}  // namespace drawdown::readout
