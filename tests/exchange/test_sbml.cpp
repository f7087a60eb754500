// Every story as SBML passes libsbml's consistency check, units included. (That the file also gives the same course in
// a foreign program is tests/exchange/read_back.py.)
#include <doctest/doctest.h>

#include "exchange/sbml.hpp"
#include "support/stories.hpp"

using namespace drawdown;

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
