// The list itself: wrong lists are refused by name, and everything in it can be printed with unit and source.
#include <doctest/doctest.h>

#include "support/stories.hpp"

using namespace drawdown;
using namespace drawdown::network;

namespace {

Network tiny() {
  Network n;
  n.species = {{"A", "a", "nmol/L", "test", 1.0}, {"B", "b", "nmol/L", "test", 1.0}};
  n.inputs = {{"u", "1", 1.0}};
  n.reactions = {{"r",
                  "a to b",
                  "test",
                  {2.0, "/h", "assumed"},
                  {{FactorKind::first_order, {false, 0}, {}, {}}},
                  {{0, -1.0}, {1, 1.0}}}};
  return n;
}

}  // namespace

TEST_CASE("a network with a repeated name, a constant without source or an unknown symbol is refused") {
  CHECK_NOTHROW(validate(tiny()));
  Network twice = tiny();
  twice.species[1].name = "A";
  CHECK_THROWS_WITH_AS(validate(twice), "network: species named twice: A", std::logic_error);
  Network bare = tiny();
  bare.reactions[0].constant.source.clear();
  CHECK_THROWS_AS(validate(bare), std::logic_error);
  Network lost = tiny();
  lost.reactions[0].factors[0].symbol.index = 7;
  CHECK_THROWS_AS(validate(lost), std::logic_error);
  Network idle = tiny();
  idle.reactions[0].changes.clear();
  CHECK_THROWS_AS(validate(idle), std::logic_error);
  Network flat = tiny();
  flat.reactions[0].factors[0] = {FactorKind::saturating, {false, 0}, {0.0, "nmol/L", "assumed"}, {}};
  CHECK_THROWS_AS(validate(flat), std::logic_error);
}

TEST_CASE("the printed equations name every species, reaction and lever, and the source of every rate constant") {
  const auto body = support::standard_body();
  const std::string text = equations_markdown(body->network);
  for (const Species& s : body->network.species) CHECK(text.find("| " + s.name + " |") != std::string::npos);
  for (const Reaction& r : body->network.reactions) {
    CHECK(text.find("| " + r.name + " |") != std::string::npos);
    REQUIRE_FALSE(r.constant.source.empty());
    CHECK_MESSAGE(text.find(r.constant.source) != std::string::npos, r.name);
    CHECK_FALSE(r.constant.unit.empty());
  }
  for (const Input& i : body->network.inputs) CHECK(text.find("| " + i.name + " |") != std::string::npos);
}

TEST_CASE("the network has the size of the model: about 80 species and at least 250 reactions in seven chapters") {
  const auto body = support::standard_body();
  CHECK(body->network.species.size() >= 75);
  CHECK(body->network.species.size() <= 90);
  CHECK(body->network.reactions.size() >= 250);
  std::vector<std::string> chapters;
  for (const Reaction& r : body->network.reactions) {
    if (chapters.empty() || chapters.back() != r.chapter) chapters.push_back(r.chapter);
  }
  CHECK(chapters.size() == 7);
}
