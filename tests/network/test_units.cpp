// Units by arithmetic: the unit written beside each constant, times the units of what the rate law multiplies, is the
// unit of every species the reaction changes, per hour; and a gain, a saturation and a floor come to a pure number.
// A unit text that is not in the table fails, so that a new one is looked at once.
#include <doctest/doctest.h>

#include <map>

#include "support/stories.hpp"

using namespace drawdown;

namespace {

// Powers of the hour, of nmol/L (in plasma, or per litre of plasma), of g/kg, of a plasma volume, and of the counts
// that have no published unit: complexes and deposits, signals, shares. Those are all relative, and count as pure
// numbers.
struct Dimension {
  int hour = 0, nanomolar = 0, dose = 0, plasma = 0;
  bool operator==(const Dimension& o) const {
    return hour == o.hour && nanomolar == o.nanomolar && dose == o.dose && plasma == o.plasma;
  }
  Dimension times(const Dimension& o) const {
    return {hour + o.hour, nanomolar + o.nanomolar, dose + o.dose, plasma + o.plasma};
  }
};

const std::map<std::string, Dimension>& table() {
  static const std::map<std::string, Dimension> all{
      {"", {}},
      {"relative", {}},
      {"fraction", {}},
      {"copies", {}},
      {"fraction of usual", {}},
      {"fraction blocked", {}},
      {"fraction of full effect", {}},
      {"fraction of the largest leak", {}},
      {"fraction of the replacement that is plasma", {}},
      {"relative weight", {}},
      {"relative, 0 = none", {}},
      {"relative, 1 = usual", {}},
      {"relative, 1 = strong", {}},
      {"relative, 1 = severe", {}},
      {"relative, 1 = a quiet antibody maker", {}},
      {"relative, 1 = IgG1-like, 0 = none", {}},
      {"times usual", {}},
      {"times longer life of the C3 convertase", {}},
      {"0 = none, 1 = third trimester", {}},
      {"0 = none, 1 = severe", {}},
      {"severe malnutrition", {}},
      {"per full block", {}},
      {"per copy", {}},
      {"fraction of usual (CR1)", {}},
      {"third trimester", {}},
      {"per unit", {}},
      {"g/kg per g/kg", {}},
      {"per full effect", {}},
      {"per full signal", {}},
      {"per fraction blocked", {}},
      {"nmol/L", {0, 1, 0, 0}},
      {"nmol/L plasma", {0, 1, 0, 0}},
      {"nmol per L of plasma", {0, 1, 0, 0}},
      {"g/kg", {0, 0, 1, 0}},
      {"g/kg an hour", {-1, 0, 1, 0}},
      {"plasma volumes an hour", {-1, 0, 0, 1}},
      {"per nmol/L", {0, -1, 0, 0}},
      {"per g/kg", {0, 0, -1, 0}},
      {"per plasma volume", {0, 0, 0, -1}},
      {"nmol/L per plasma volume", {0, 1, 0, -1}},
      {"/h", {-1, 0, 0, 0}},
      {"/h per complex", {-1, 0, 0, 0}},
      {"/h per deposit", {-1, 0, 0, 0}},
      {"/h per g/kg", {-1, 0, -1, 0}},
      {"/nM/h", {-1, -1, 0, 0}},
      {"nmol/L/h", {-1, 1, 0, 0}},
  };
  return all;
}

// What does not come out, in words; "as the species" is the unit of what the factor reads.
std::vector<std::string> unit_faults(const network::Network& n) {
  std::vector<std::string> faults;
  const auto dimension = [&](const std::string& unit, const std::string& where) {
    const auto found = table().find(unit);
    if (found == table().end()) faults.push_back(where + ": nobody has said what '" + unit + "' is");
    return found == table().end() ? Dimension{} : found->second;
  };
  for (const network::Reaction& r : n.reactions) {
    Dimension rate = dimension(r.constant.unit, r.name);
    for (const network::Factor& factor : r.factors) {
      const auto at = static_cast<std::size_t>(factor.symbol.index);
      const std::string& unit = factor.symbol.is_input ? n.inputs[at].unit : n.species[at].unit;
      const Dimension x = dimension(unit, r.name);
      const Dimension a = factor.a.unit == "as the species" ? x : dimension(factor.a.unit, r.name);
      switch (factor.kind) {
        case network::FactorKind::first_order:
          rate = rate.times(x);
          break;
        case network::FactorKind::saturating:
        case network::FactorKind::repressing:
          if (!(a == x)) faults.push_back(r.name + ": half of " + unit + " is given in " + factor.a.unit);
          break;
        case network::FactorKind::gain:
          if (!(a.times(x) == Dimension{})) faults.push_back(r.name + ": a gain on " + unit + " " + factor.a.unit);
          break;
        case network::FactorKind::floor:
        case network::FactorKind::reciprocal:
          break;
      }
    }
    for (const network::Change& change : r.changes) {
      const network::Species& species = n.species[static_cast<std::size_t>(change.species)];
      if (!(rate == dimension(species.unit, species.name).times({-1, 0, 0, 0}))) {
        faults.push_back(r.name + ": with its constant in '" + r.constant.unit + "' the rate is not " + species.unit +
                         " an hour, as " + species.name + " needs");
      }
    }
  }
  return faults;
}

}  // namespace

TEST_CASE("every reaction's rate comes to the unit of each species it changes, per hour") {
  const network::Network& n = support::standard_body()->network;
  REQUIRE(n.reactions.size() > 150);
  for (const std::string& fault : unit_faults(n)) FAIL_CHECK(fault);
}

TEST_CASE("a wrong unit in a chapter is found: of a constant, of a half, of a gain, and one nobody has heard of") {
  const network::Network right = support::standard_body()->network;
  std::size_t tried = 0;
  for (std::size_t i = 0; i < right.reactions.size(); ++i) {
    network::Network wrong = right;
    wrong.reactions[i].constant.unit = right.reactions[i].constant.unit == "/nM/h" ? "/h" : "/nM/h";
    CHECK_MESSAGE(!unit_faults(wrong).empty(), right.reactions[i].name);
    for (std::size_t k = 0; k < right.reactions[i].factors.size(); ++k) {
      const network::FactorKind kind = right.reactions[i].factors[k].kind;
      const bool has_one = kind == network::FactorKind::saturating || kind == network::FactorKind::repressing ||
                           kind == network::FactorKind::gain;
      if (!has_one) continue;
      network::Network half = right;
      half.reactions[i].factors[k].a.unit = "g/kg an hour";
      CHECK_MESSAGE(!unit_faults(half).empty(), right.reactions[i].name);
      tried += 1;
    }
  }
  CHECK(tried > 100);
  network::Network odd = right;
  odd.reactions.front().constant.unit = "furlongs";
  CHECK_FALSE(unit_faults(odd).empty());
}
