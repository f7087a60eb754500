// The account on the command line: course --words.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "support/command_line.hpp"
#include "support/near.hpp"

using namespace drawdown;

namespace {

support::Answer drawdown_with(std::vector<std::string> words) {
  return support::drawdown_with(std::move(words), command::Screen{});
}

}  // namespace

TEST_CASE("course --words tells why each level is where it is, with a row on either side of each event") {
  const support::Answer a =
      drawdown_with({"course", "plasma-exchange", "--words", "--every", "48", "--depth", "clinic"});
  REQUIRE(a.code == 0);
  std::istringstream in(a.out);
  std::string line;
  std::vector<std::string> head;
  std::vector<std::vector<std::string>> rows;
  const auto cells = [](const std::string& text) {
    std::vector<std::string> out(1);
    bool quoted = false;
    for (const char c : text) {
      if (c == '"') quoted = !quoted;
      if (c == ',' && !quoted) {
        out.emplace_back();
      } else if (c != '"') {
        out.back() += c;
      }
    }
    return out;
  };
  while (std::getline(in, line)) {
    if (line.rfind("#", 0) == 0) continue;
    if (head.empty()) {
      head = cells(line);
    } else {
      rows.push_back(cells(line));
    }
  }
  const auto column = [&](const std::string& name) {
    const auto at = std::find(head.begin(), head.end(), name);
    REQUIRE_MESSAGE(at != head.end(), name);
    return static_cast<std::size_t>(at - head.begin());
  };
  const std::size_t first_debt = column("C3 debt made [g/L]");
  const std::size_t last_debt = column("C3 debt before [g/L]");
  std::size_t befores = 0;
  bool exchange_is_a_cause = false;
  bool dropped_is_found = false;
  for (const auto& row : rows) {
    REQUIRE(row.size() == head.size());
    const auto value = [&](const std::string& name) { return std::stod(row[column(name)]); };
    const double owed = value("C3 usual [g/L]") * (value("C3 against usual") - 1.0);
    double debts = 0.0;
    for (std::size_t i = first_debt; i <= last_debt; ++i) debts += std::stod(row[i]);
    CHECK(std::abs(debts - owed) < 5e-5);
    dropped_is_found = dropped_is_found || std::abs(debts - value("C3 debt taken_out [g/L]") - owed) > 0.1;
    CHECK(std::abs(value("C4 out") - value("C4 drain") * value("C4 against usual")) < 1e-6);
    CHECK(value("plasma volume [L]") == support::near(2.8, 1e-9));
    exchange_is_a_cause = exchange_is_a_cause || row[column("C3 cause")].rfind("taken_out", 0) == 0;
    CHECK(!row[column("sentence")].empty());
    const std::string& moment = row[column("moment")];
    befores += moment == "before" ? 1U : 0U;
    CHECK((moment.empty() || moment == "before" || moment == "after"));
  }
  CHECK(befores > 4);
  CHECK(rows.size() > 2 * befores + 20);
  CHECK(exchange_is_a_cause);
  CHECK(dropped_is_found);
  // Other words, the same figures; and what belongs to --words is refused without it.
  const support::Answer spanish =
      drawdown_with({"course", "plasma-exchange", "--words", "--every", "48", "--language", "es"});
  CHECK(spanish.code == 0);
  CHECK(spanish.out != a.out);
  CHECK(drawdown_with({"course", "plasma-exchange", "--every", "48"}).code == 2);
  CHECK(drawdown_with({"course", "plasma-exchange", "--words", "--every", "0"}).code == 2);
}
