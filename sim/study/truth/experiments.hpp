// The experiments behind the ledger: people under levers, tracers, dose searches.
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "simulate.hpp"
#include "study/tracer.hpp"
#include "study/truth.hpp"
#include "study/truth/world.hpp"

namespace drawdown::study::truth {

using Levers = std::vector<std::pair<const char*, double>>;

// The standard person, healthy before day 0, these levers from day 0 on.
[[nodiscard]] scenario::Scenario from_day_zero(const Levers& levers, double days);
// These levers since long before day 0.
[[nodiscard]] scenario::Scenario settled(const Levers& levers, double days = 30.0);

// Fraction of the plasma pool of a protein that leaves for good in an hour, read from the reaction rates.
[[nodiscard]] double fractional_catabolic_rate(const Run& run, double day, const std::string& protein);

// The lever value between low and high at which `figure` (rising or falling in it) comes to `goal`.
[[nodiscard]] double find(double low, double high, double goal, const std::function<double(double)>& figure);

// The nephritis that several entries share: strong renal flare, weak acute-phase response, liver a little below par.
[[nodiscard]] Levers renal_flare();

void kinetics(std::vector<TruthEntry>& ledger, const World& w);
void serum_patterns(std::vector<TruthEntry>& ledger, const World& w);
void treatments(std::vector<TruthEntry>& ledger, const World& w);
void wider_evidence(std::vector<TruthEntry>& ledger, const World& w);
void mechanisms(std::vector<TruthEntry>& ledger, const World& w);
// Sampled people: another seed, other people.
void groups(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed);
void group_findings(std::vector<TruthEntry>& ledger, const World& w, std::uint64_t seed);
void calculators(std::vector<TruthEntry>& ledger);

}  // namespace drawdown::study::truth
