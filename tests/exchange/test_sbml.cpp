// Every story as SBML passes libsbml's consistency check, units included. (That the file also gives the same course in
// a foreign program is tests/exchange/read_back.py.)
#include <doctest/doctest.h>

#include <sbml/SBMLTransforms.h>
#include <sbml/SBMLTypes.h>

#include <cmath>
#include <map>
#include <memory>
#include <random>

#include "body/builder.hpp"
#include "exchange/sbml.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

// A formula worked out by libsbml, which knows nothing of how the program evaluates it.
double worked_out(const std::string& formula, const std::map<std::string, double>& values) {
  const std::unique_ptr<::ASTNode> math(::SBML_parseL3Formula(formula.c_str()));
  REQUIRE_MESSAGE(math != nullptr, formula);
  return SBMLTransforms::evaluateASTNode(math.get(), values);
}

}  // namespace

TEST_CASE("the rate law printed of every reaction, worked out by libsbml, is the rate the solver runs on") {
  // The standard reactions, and one in memory that has every kind of factor.
  body::Catalogue c = body::standard_catalogue();
  c.chapters.emplace_back([](body::Builder& b) {
    b.chapter("made up");
    b.reaction("odd", "a rate law of every kind", 0.3, "/h", "made up")
        .lose("iC3b")
        .by("iC3b")
        .saturating("C4", 700, "nmol/L", "made up")
        .repressed("C5a", 0.3, 2, "nmol/L", "made up")
        .repressed("C3a", 9, 1, "nmol/L", "made up")
        .rising("C3", 0.001, "per nmol/L", "made up")
        .rising("glucocorticoid", -0.5, "per full effect", "made up")
        .floored("C5", 0.2, 400, "made up")
        .divided_by("nephritic_factor");
  });
  const auto body = body::make_body({}, std::make_shared<const body::Model>(c));
  std::mt19937 random(29);
  std::uniform_real_distribution<double> factor(0.2, 3.0);
  std::vector<double> state = body->rest;
  std::vector<double> levers = body->model->resting_levers();
  for (double& x : state) x *= factor(random);
  for (double& l : levers) l = 0.1 + 0.4 * factor(random);
  std::map<std::string, double> values;
  const network::Network& network = body->network;
  for (std::size_t i = 0; i < state.size(); ++i) values[network.species[i].name] = state[i];
  for (std::size_t i = 0; i < levers.size(); ++i) values[network.inputs[i].name] = levers[i];
  const std::vector<double> rates = body::reaction_rates(*body, state, levers);
  std::size_t checked = 0;
  bool changed_is_found = false;
  for (std::size_t r = 0; r < rates.size(); ++r) {
    std::string text = network::rate_text(network, network.reactions[r]);
    const double scale = std::abs(rates[r]) + 1e-12;
    CHECK_MESSAGE(std::abs(worked_out(text, values) - rates[r]) < 1e-4 * scale, network.reactions[r].name, ": ", text);
    checked += 1;
    // Negative control: a sign of the formula changed is another rate.
    const std::size_t at = text.find(" / ");
    if (at == std::string::npos) continue;
    changed_is_found = changed_is_found || std::abs(worked_out(text.replace(at, 3, " * "), values) - rates[r]) > scale;
  }
  CHECK(checked > 177);
  CHECK(changed_is_found);
}

TEST_CASE("every shipped story exports as SBML without a single finding of the consistency check") {
  for (const std::string& path : support::shipped_stories()) {
    const std::string document = exchange::to_sbml(*simulate(scenario::read_file(path)));
    CHECK(document.find("level=\"3\" version=\"2\"") != std::string::npos);
    const auto findings = exchange::sbml_findings(document);
    for (const std::string& finding : findings) MESSAGE(path, ": ", finding);
    CHECK(findings.empty());
  }
}

TEST_CASE("a broken document is found out") {
  std::string document = exchange::to_sbml(*support::run_of(support::story_with({}, 10.0)));
  const std::size_t at = document.find("species=\"C3\"");
  REQUIRE(at != std::string::npos);
  document.replace(at, 12, "species=\"XX\"");
  CHECK_FALSE(exchange::sbml_findings(document).empty());
}
