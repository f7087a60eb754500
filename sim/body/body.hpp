// The body: the network of all chapters for one person, its levers and its healthy steady state.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "body/levers.hpp"
#include "body/proteins.hpp"
#include "network/bound.hpp"
#include "network/network.hpp"
#include "solve/solve.hpp"

namespace drawdown::body {

inline constexpr std::array<const char*, 4> tissues{"kidney", "skin", "joints", "serosa"};

// A person. `usual` are the own plasma levels in health, in mg/L, in the order of `proteins`.
struct Patient {
  double weight = 70.0;         // kg
  double plasma_volume = 40.0;  // mL/kg (38-45, textbook)
  std::array<double, proteins.size()> usual = standard_levels();

  static constexpr std::array<double, proteins.size()> standard_levels() {
    std::array<double, proteins.size()> levels{};
    for (std::size_t i = 0; i < levels.size(); ++i) levels[i] = proteins[i].level;
    return levels;
  }
  // Litres.
  [[nodiscard]] double plasma_litres() const { return weight * plasma_volume / 1000.0; }
};
[[nodiscard]] bool operator==(const Patient& a, const Patient& b);

struct Body {
  Patient patient;
  network::Network network;
  std::shared_ptr<const network::Plan> plan;  // of the network, with this person's constants
  std::vector<double> rest;                   // healthy steady state with every lever at rest
  std::vector<double> scales;
  std::shared_ptr<const solve::LuPlan> lu;  // for the network's Jacobian

  // The network ready to be evaluated, all levers at rest.
  [[nodiscard]] network::Bound<double> bound() const { return network::Bound<double>(plan); }

  // The solver's options at a relative tolerance, with the body's absolute tolerances.
  [[nodiscard]] solve::Options options(double rtol = 1e-4) const;
};

// Writes all chapters, finds the resting state of the fast parts with the proteins held at the person's usual levels,
// and sets each protein's ordinary loss to what is left of its fractional catabolic rate once resting activation has
// taken its part. Throws std::logic_error if that rest is not a steady state (a mistake in a chapter).
[[nodiscard]] std::shared_ptr<const Body> make_body(const Patient& patient);

// The state the body comes to if the levers stay as given: three years (`settling_hours`) from `rest`.
inline constexpr double settling_hours = 3 * 8760.0;
struct Settled {
  std::vector<double> state;  // empty unless the outcome is ok: nothing stands in for a state that was not reached
  solve::Outcome outcome;
};
struct SettleOptions {
  std::size_t step_limit = solve::Options{}.step_limit;
  std::function<bool(double)> keep_going;  // hours reached; false cancels
};
[[nodiscard]] Settled settled(const Body& body, const std::vector<double>& levers, const SettleOptions& options = {});

// Every reaction's rate in this state under these levers, nmol/L or relative units an hour, in the network's order.
[[nodiscard]] std::vector<double> reaction_rates(const Body& body, const std::vector<double>& state,
                                                 const std::vector<double>& levers);

// The chapters, each in its own file; they only write to the builder.
class Builder;
void write_turnover(Builder& builder);
void write_classical(Builder& builder);
void write_alternative(Builder& builder);
void write_terminal(Builder& builder);
void write_complexes(Builder& builder);
void write_tissue(Builder& builder);
void write_liver(Builder& builder);
void write_moieties(Builder& builder);

}  // namespace drawdown::body
