// What many tests need: the standard body, the shipped stories, a person under held levers, random states.
#pragma once

#include <memory>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "scenario/read.hpp"
#include "simulate.hpp"

namespace drawdown::support {

// Made once.
std::shared_ptr<const body::Body> standard_body();
// Paths of all shipped stories.
std::vector<std::string> shipped_stories();
std::string source_folder();

using Levers = std::vector<std::pair<const char*, double>>;

// The standard person, quiet before day 0, these levers from day `from` on.
scenario::Scenario story_with(const Levers& levers, double days = 365.0, double from = 0.0);
// The same with the levers set before day 0 (born so, or long settled).
scenario::Scenario settled_with(const Levers& levers, double days = 30.0);
std::shared_ptr<const Run> run_of(const scenario::Scenario& story, double rtol = 1e-5);

// A random state: each species between 0 and three times its scale, some exactly zero. Fixed seed by the caller.
std::vector<double> random_state(const network::Network& network, std::mt19937& random);
// Random levers within their ranges (counted ones whole; the dated and the person's own at rest).
std::vector<double> random_levers(std::mt19937& random);
// 120 days: from day 5 to 60 with random levers, before and after at rest.
scenario::Scenario story_of_random_levers(std::mt19937& random);

}  // namespace drawdown::support
