// The table of how far each constant can be moved (tests/published/constants.txt, written by ledger_constants) is of
// the model as it is: the same constants with the same values, and a few rows worked out again.
#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "study/truth/reach.hpp"

using namespace drawdown::study::truth;

namespace {

struct Row {
  std::vector<std::string> cells;
  std::string line;
};

std::vector<Row> table() {
  std::ifstream file(std::string(DRAWDOWN_SOURCE_DIR) + "/tests/published/constants.txt");
  std::vector<Row> rows;
  std::string line;
  REQUIRE(std::getline(file, line));
  CHECK(line == reach_head());
  while (std::getline(file, line)) {
    Row row{{}, line};
    std::istringstream cells(line);
    for (std::string cell; std::getline(cells, cell, '\t');) row.cells.push_back(cell);
    REQUIRE(row.cells.size() >= 7);
    rows.push_back(row);
  }
  return rows;
}

const WrittenConstant& constant_named(const std::vector<WrittenConstant>& all, const std::string& name) {
  const auto found = std::find_if(all.begin(), all.end(), [&](const WrittenConstant& c) { return c.name == name; });
  REQUIRE_MESSAGE(found != all.end(), name);
  return *found;
}

}  // namespace

TEST_CASE("the table of how far constants can be moved has the model's constants, with their values") {
  const auto rows = table();
  const auto all = written_constants();
  REQUIRE(rows.size() == all.size());
  for (std::size_t i = 0; i < all.size(); ++i) {
    const std::string head = reach_line(all[i], Reach{});
    const std::string begins = all[i].name + "\t" + rows[i].cells[1] + "\t";
    CHECK_MESSAGE(rows[i].cells[0] == all[i].name, rows[i].cells[0], " or ", all[i].name);
    CHECK_MESSAGE(head.rfind(begins, 0) == 0, all[i].name, ": another value than ", rows[i].cells[1]);
  }
}

TEST_CASE("rows of the table of how far constants can be moved come out again, and another constant has another row") {
  const auto rows = table();
  const auto all = written_constants();
  for (const char* name : {"C3.fcr", "wake_cryoglobulin", "germs_work", "c5_rest", "clear_C3a"}) {
    const auto row = std::find_if(rows.begin(), rows.end(), [&](const Row& r) { return r.cells[0] == name; });
    REQUIRE(row != rows.end());
    const WrittenConstant& constant = constant_named(all, name);
    CHECK(reach_line(constant, reach_of(constant)) == row->line);
  }
  // One that moves together with another breaks elsewhere.
  WrittenConstant two = constant_named(all, "clear_C3a");
  two.members.emplace_back("clear_C4d");
  CHECK(reach_of(two).up > 0.0);
  CHECK(reach_of(constant_named(all, "clear_C3a")).up == 0.0);
}

TEST_CASE("README tells how many constants of the table nothing breaks") {
  std::size_t free = 0;
  const auto rows = table();
  for (const Row& row : rows) free += row.cells[2] == "none to 4" && row.cells[4] == "none to 4" ? 1U : 0U;
  std::ifstream file(std::string(DRAWDOWN_SOURCE_DIR) + "/README.md");
  std::ostringstream text;
  text << file.rdbuf();
  const std::string said = std::to_string(free) + " of " + std::to_string(rows.size()) + " constants can be moved";
  CHECK_MESSAGE(text.str().find(said) != std::string::npos, said);
}

TEST_CASE(
    "the constants named as least supported are the assumed ones of the table that nothing breaks and that move "
    "least") {
  struct Moved {
    double by;
    std::string name;
  };
  std::vector<Moved> free;
  for (const Row& row : table()) {
    const bool assumed = row.cells.back().find("assumed") != std::string::npos;
    if (assumed && row.cells[2] == "none to 4" && row.cells[4] == "none to 4") {
      free.push_back({std::stod(row.cells[6]), row.cells[0]});
    }
  }
  std::stable_sort(free.begin(), free.end(), [](const Moved& a, const Moved& b) { return a.by < b.by; });
  const auto named = least_supported();
  REQUIRE(named.size() == 10);
  REQUIRE(free.size() >= 10);
  for (std::size_t i = 0; i < named.size(); ++i) CHECK(named[i].rfind(free[i].name + ":", 0) == 0);
}
