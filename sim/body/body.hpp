// The body: a model with one person's constants, and its healthy steady state.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "body/model.hpp"
#include "network/bound.hpp"
#include "network/network.hpp"
#include "solve/solve.hpp"

namespace drawdown::body {

// A person. `usual` are the own plasma levels in health, in mg/L, in the order of the model's proteins.
struct Patient {
  double weight = 70.0;         // kg
  double plasma_volume = 40.0;  // mL/kg (38-45, textbook)
  std::vector<double> usual = standard_model()->standard_levels();

  // Litres.
  [[nodiscard]] double plasma_litres() const { return weight * plasma_volume / 1000.0; }
};
[[nodiscard]] bool operator==(const Patient& a, const Patient& b);

struct Body {
  Patient patient;
  std::shared_ptr<const Model> model;
  network::Network network;                   // the model's, with this person's constants
  std::shared_ptr<const network::Plan> plan;  // of that
  std::vector<double> rest;                   // healthy steady state with every lever at rest

  // The network ready to be evaluated, all levers at rest.
  [[nodiscard]] network::Bound<double> bound() const { return network::Bound<double>(plan); }

  // The solver's options at a relative tolerance, with the body's absolute tolerances.
  [[nodiscard]] solve::Options options(double rtol = 1e-4) const;
};

// Writes all chapters, finds the resting state of the fast parts with the proteins held at the person's usual levels,
// and sets each protein's ordinary loss to what is left of its fractional catabolic rate once resting activation has
// taken its part. Throws std::logic_error if that rest is not a steady state (a mistake in a chapter) or the patient
// has not one level for each protein.
[[nodiscard]] std::shared_ptr<const Body> make_body(const Patient& patient,
                                                    const std::shared_ptr<const Model>& model = standard_model());

// The state the body comes to if the levers stay as given: a stable root found by Newton's method from `rest`, or where
// none is found in a few iterations, three years (`settling_hours`) of time.
inline constexpr double settling_hours = 3 * 8760.0;
struct Settled {
  std::vector<double> state;  // empty unless the outcome is ok: nothing stands in for a state that was not reached
  solve::Outcome outcome;
};
struct SettleOptions {
  std::size_t step_limit = solve::Options{}.step_limit;
  std::function<bool(double)> keep_going;  // hours reached; false cancels
  bool by_time = false;                    // not by Newton's method
};
[[nodiscard]] Settled settled(const Body& body, const std::vector<double>& levers, const SettleOptions& options = {});

// Every reaction's rate in this state under these levers, nmol/L or relative units an hour, in the network's order.
[[nodiscard]] std::vector<double> reaction_rates(const Body& body, const std::vector<double>& state,
                                                 const std::vector<double>& levers);

}  // namespace drawdown::body
