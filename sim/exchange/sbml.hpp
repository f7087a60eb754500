// A story as SBML Level 3 Version 2 core (https://sbml.org/documents/specifications/), for any simulator that reads the
// standard: every species and reaction with its rate law, constants with units, the levers over time as rules, the
// state of day 0 as the start. Time in hours, amounts in nanomoles per litre of plasma; amounts that are relative in
// the network are written as if they were nanomoles per litre, levers as dimensionless.
#pragma once

#include <string>
#include <vector>

#include "simulate.hpp"

namespace drawdown::exchange {

[[nodiscard]] std::string to_sbml(const Run& run);

// What libsbml's consistency check says of a document, units and mathematics included, one line a finding; empty =
// none.
[[nodiscard]] std::vector<std::string> sbml_findings(const std::string& document);

}  // namespace drawdown::exchange
