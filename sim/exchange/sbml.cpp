// Writing the network's list as SBML with libsbml. The rate laws are written from the list's own factors, not through
// the code that evaluates them.
#include "exchange/sbml.hpp"

#include <sbml/SBMLTypes.h>

#include <cmath>
#include <map>
#include <memory>
#include <sstream>
#include <stdexcept>

#include "scenario/visible.hpp"

namespace drawdown::exchange {

namespace {

using network::Factor;
using network::FactorKind;

std::string number(double value) {
  std::ostringstream out;
  out.precision(17);
  out << value;
  return out.str();
}

// libsbml leaves alone what looks like a reference (&#0; too), so every & is handed to it as one.
std::string name_of(const std::string& title) {
  std::string out;
  for (const char c : scenario::visible(title)) out += c == '&' ? std::string("&amp;") : std::string(1, c);
  return out;
}

class Writer {
 public:
  explicit Writer(const Run& run) : run_(run), network_(run.body().network), document_(3, 2) {
    model_ = document_.createModel("drawdown");
    model_->setName(name_of(run.story().title));  // all else in the document is ours
    model_->setSubstanceUnits("nmol");
    model_->setExtentUnits("nmol");
    model_->setTimeUnits("hour");
    model_->setVolumeUnits("litre");
  }

  std::string write() {
    base_units();
    // A litre of the usual plasma, which grows and shrinks with the plasma: a foreign program dilutes what is in it by
    // itself. What is no amount per litre sits in another that stays.
    compartment(plasma, network_.volume.empty());
    compartment(still, true);
    write_species();
    write_levers();
    write_volume();
    for (const network::Reaction& reaction : network_.reactions) write_reaction(reaction);
    const std::unique_ptr<char, decltype(&std::free)> text(::writeSBMLToString(&document_), &std::free);
    return text ? text.get() : std::string();
  }

 private:
  static constexpr const char* plasma = "plasma";
  static constexpr const char* still = "body";

  void compartment(const char* id, bool constant) {
    auto* c = model_->createCompartment();
    c->setId(id);
    c->setSize(1.0);
    c->setConstant(constant);
    c->setSpatialDimensions(3U);
    c->setUnits("litre");
  }
  [[nodiscard]] const char* compartment_of(const network::Species& species) const {
    return species.per_litre ? plasma : still;
  }
  void write_volume() {
    if (network_.volume.empty()) return;
    network::Reaction as_law;
    as_law.factors = network_.volume;
    const network::Spelling spelling{
        [&](const network::Symbol& symbol) { return network_.inputs[static_cast<std::size_t>(symbol.index)].name; },
        [](std::size_t, const network::Constant& constant, char) { return number(constant.value) + " dimensionless"; },
        "1 litre", "1 dimensionless"};
    auto* rule = model_->createAssignmentRule();
    rule->setVariable(plasma);
    set_math(*rule, network::rate_form(as_law, spelling));
  }

  void unit(::UnitDefinition* definition, ::UnitKind_t kind, int scale, double multiplier, int exponent) {
    auto* u = definition->createUnit();
    u->setKind(kind);
    u->setScale(scale);
    u->setMultiplier(multiplier);
    u->setExponent(exponent);
  }
  void base_units() {
    auto* nmol = model_->createUnitDefinition();
    nmol->setId("nmol");
    unit(nmol, ::UNIT_KIND_MOLE, -9, 1.0, 1);
    auto* hour = model_->createUnitDefinition();
    hour->setId("hour");
    unit(hour, ::UNIT_KIND_SECOND, 0, 3600.0, 1);
    auto* per_hour = model_->createUnitDefinition();
    per_hour->setId("per_hour");
    unit(per_hour, ::UNIT_KIND_SECOND, 0, 3600.0, -1);
  }
  // (nmol/L)^power, divided by hours if `rate`.
  std::string concentration_unit(int power, bool rate) {
    if (power == 0) return rate ? "per_hour" : "dimensionless";
    std::string id =
        std::string(power > 0 ? "nM" : "per_nM") + std::to_string(std::abs(power)) + (rate ? "_per_hour" : "");
    if (model_->getUnitDefinition(id) == nullptr) {
      auto* definition = model_->createUnitDefinition();
      definition->setId(id);
      unit(definition, ::UNIT_KIND_MOLE, -9, 1.0, power);
      unit(definition, ::UNIT_KIND_LITRE, 0, 1.0, -power);
      if (rate) unit(definition, ::UNIT_KIND_SECOND, 0, 3600.0, -1);
    }
    return id;
  }

  void write_species() {
    const std::vector<double> start = run_.state(0.0);
    for (std::size_t i = 0; i < network_.species.size(); ++i) {
      auto* s = model_->createSpecies();
      s->setId(network_.species[i].name);
      s->setName(network_.species[i].label);
      s->setCompartment(compartment_of(network_.species[i]));
      s->setInitialConcentration(start[i]);
      s->setSubstanceUnits("nmol");
      s->setHasOnlySubstanceUnits(false);
      s->setBoundaryCondition(false);
      s->setConstant(false);
    }
  }

  void write_levers() {
    const std::vector<solve::Segment> segments = scenario::Timeline(run_.story()).segments();
    for (std::size_t i = 0; i < network_.inputs.size(); ++i) {
      auto* p = model_->createParameter();
      p->setId(network_.inputs[i].name);
      p->setUnits("dimensionless");
      p->setValue(segments.front().values[i]);
      bool moves = false;
      for (const solve::Segment& s : segments) {
        moves = moves || s.slopes[i] != 0.0 || s.values[i] != segments.front().values[i];
      }
      p->setConstant(!moves);
      if (!moves) continue;
      // Straight pieces: piecewise(value, time < end, value, time < end, ..., last value)
      std::string rule = "piecewise(";
      for (std::size_t k = 0; k < segments.size(); ++k) {
        const solve::Segment& s = segments[k];
        rule += number(s.values[i]) + " dimensionless";
        if (s.slopes[i] != 0.0) {
          rule += " + " + number(s.slopes[i]) + " per_hour * (time - " + number(s.start) + " hour)";
        }
        if (k + 1 < segments.size()) rule += ", time < " + number(s.end) + " hour, ";
      }
      auto* assignment = model_->createAssignmentRule();
      assignment->setVariable(network_.inputs[i].name);
      set_math(*assignment, rule + ")");
    }
  }

  template <class Element>
  void set_math(Element& element, const std::string& formula) {
    const std::unique_ptr<::ASTNode> math(::SBML_parseL3Formula(formula.c_str()));
    if (!math) throw std::logic_error("SBML: cannot parse " + formula);
    element.setMath(math.get());
  }

  void write_reaction(const network::Reaction& reaction) {
    auto* r = model_->createReaction();
    r->setId(reaction.name);
    r->setName(reaction.label);
    r->setReversible(false);
    std::map<std::string, bool> named;  // species that take part by number
    for (const network::Change& change : reaction.changes) {
      const std::string& name = network_.species[static_cast<std::size_t>(change.species)].name;
      auto* part = change.count < 0 ? r->createReactant() : r->createProduct();
      part->setSpecies(name);
      part->setStoichiometry(std::abs(change.count));
      part->setConstant(true);
      named[name] = named[name] || change.count < 0;
    }
    auto* law = r->createKineticLaw();
    const auto local = [&](const std::string& id, double value, const std::string& units) {
      auto* p = law->createLocalParameter();
      p->setId(id);
      p->setValue(value);
      p->setUnits(units);
    };
    int power = 1;  // of nmol/L that k must carry so that k times the factors is nmol/L an hour
    std::size_t index = 0;
    for (const Factor& factor : reaction.factors) {
      const bool input = factor.symbol.is_input;
      const auto at = static_cast<std::size_t>(factor.symbol.index);
      const std::string x = input ? network_.inputs[at].name : network_.species[at].name;
      if (!input && !named[x]) {
        auto* modifier = r->createModifier();
        modifier->setSpecies(x);
        named[x] = true;
      }
      const std::string a = "a" + std::to_string(index);
      const std::string b = "b" + std::to_string(index);
      index += 1;
      const int dimension = input ? 0 : 1;
      switch (factor.kind) {
        case FactorKind::first_order:
          power -= dimension;
          break;
        case FactorKind::reciprocal:
          break;
        case FactorKind::saturating:
        case FactorKind::repressing:
          local(a, factor.a.value, concentration_unit(dimension, false));
          break;
        case FactorKind::gain:
          local(a, factor.a.value, concentration_unit(-dimension, false));
          break;
        case FactorKind::floor:
          local(a, factor.a.value, "dimensionless");
          local(b, factor.b.value, concentration_unit(dimension, false));
          break;
      }
    }
    local("k", reaction.constant.value, concentration_unit(power, true));
    const network::Spelling spelling{
        [&](const network::Symbol& symbol) {
          const auto at = static_cast<std::size_t>(symbol.index);
          return symbol.is_input ? network_.inputs[at].name : network_.species[at].name;
        },
        [](std::size_t factor, const network::Constant&, char which) { return which + std::to_string(factor); },
        compartment_of(network_.species[static_cast<std::size_t>(reaction.changes.front().species)]) +
            std::string(" * k"),
        "1 dimensionless"};
    set_math(*law, network::rate_form(reaction, spelling));
  }

  const Run& run_;
  const network::Network& network_;
  ::SBMLDocument document_;
  ::Model* model_;
};

}  // namespace

std::string to_sbml(const Run& run) {
  return Writer(run).write();
}

std::vector<std::string> sbml_findings(const std::string& document) {
  const std::unique_ptr<::SBMLDocument> read(::readSBMLFromString(document.c_str()));
  (void)read->checkConsistency();
  std::vector<std::string> findings;
  for (unsigned i = 0; i < read->getNumErrors(); ++i) {
    const ::SBMLError* error = read->getError(i);
    findings.push_back("line " + std::to_string(error->getLine()) + ": " + error->getMessage());
  }
  return findings;
}

}  // namespace drawdown::exchange
