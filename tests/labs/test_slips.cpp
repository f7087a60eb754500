// Values 100 or 1000 times off, and values below detection: what is asked, and what is concluded only when it must be
// so. Conversion of units: 1 g/L = 100 mg/dL = 1000 mg/L, by definition.
#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/near.hpp"

using namespace drawdown;
using labs::Protein;

namespace {

std::string table(const std::vector<std::pair<std::string, std::string>>& values) {
  std::string text = "date,C3 (g/L),C4 (g/L)\n";
  int month = 1;
  int year = 2020;
  for (const auto& [c3, c4] : values) {
    text += std::to_string(year) + (month < 10 ? "-0" : "-") + std::to_string(month) + "-15," + c3 + "," + c4 + "\n";
    if (++month > 12) {
      month = 1;
      year += 1;
    }
  }
  return text;
}

labs::Judgement judged(const labs::Reading& reading) {
  return labs::judge(reading.rows, {}, {});
}

const std::vector<std::pair<std::string, std::string>> with_slips{
    {"1.10", "0.21"}, {"1.05", "0.22"}, {"0.0108", "0.20"}, {"1.12", "21.5"}, {"1080", "0.19"}, {"1.02", "0.23"}};

}  // namespace

TEST_CASE(
    "values 100 and 1000 times off the others are asked about, and until then make no change and no usual level") {
  const labs::Reading reading = labs::read(table(with_slips));
  REQUIRE(reading.slips.size() == 3);
  CHECK(reading.slips[0].line == 4);
  CHECK(reading.slips[0].times == support::near(0.01, 0.05));
  CHECK_FALSE(reading.slips[0].meant.has_value());
  CHECK(reading.slips[1].line == 6);
  CHECK(reading.slips[1].times == support::near(1000, 0.05));
  CHECK(reading.slips[1].meant.value() == doctest::Approx(1.08));
  CHECK(reading.slips[2].c4);
  CHECK(reading.slips[2].times == support::near(100, 0.1));
  CHECK(reading.slips[2].meant.value() == doctest::Approx(0.215));
  const labs::Judgement of = judged(reading);
  CHECK_FALSE(of.any_beyond);
  CHECK(of.c3.level.visits == 4);
  REQUIRE(of.c3.level.usual.has_value());
  CHECK(of.c3.level.usual->level == support::near(1.07, 0.03));

  labs::ReadOptions convert;
  convert.slips = labs::SlipAnswer::convert;
  const labs::Reading converted = labs::read(table(with_slips), convert);
  // No unit in use makes 1.08 g/L a 0.0108: that one stays asked about, and what was converted is listed.
  REQUIRE(converted.slips.size() == 1);
  CHECK(converted.slips[0].line == 4);
  CHECK_FALSE(converted.rows[2].c3.has_value());
  CHECK(converted.converted.size() == 2);
  CHECK(converted.rows[4].c3->value == doctest::Approx(1.08));
  CHECK(converted.rows[3].c4->value == doctest::Approx(0.215));
  CHECK_FALSE(judged(converted).any_beyond);

  // As written: the small one counts as it stands, the impossible ones are refused with their reason.
  labs::ReadOptions keep;
  keep.slips = labs::SlipAnswer::keep;
  const labs::Reading kept = labs::read(table(with_slips), keep);
  CHECK(kept.slips.empty());
  CHECK(kept.rejected.size() == 2);
  CHECK(judged(kept).any_beyond);
}

TEST_CASE("neither healthy noise nor a true fall by four fifths is taken for a slip of unit") {
  std::mt19937 random(11);
  std::normal_distribution<double> normal;
  for (int person = 0; person < 300; ++person) {
    std::vector<std::pair<std::string, std::string>> values;
    for (int i = 0; i < 12; ++i) {
      const double fallen = person % 2 == 1 && i > 5 ? 0.2 : 1.0;
      values.emplace_back(std::to_string(1.2 * fallen * std::exp(0.1 * normal(random))),
                          std::to_string(0.25 * fallen * std::exp(0.15 * normal(random))));
    }
    REQUIRE(labs::read(table(values)).slips.empty());
  }
}

TEST_CASE("of two values the one farther from what is common is asked about, and not the other") {
  const labs::Reading reading = labs::read(table({{"0.011", "0.2"}, {"1.1", "0.2"}}));
  REQUIRE(reading.slips.size() == 1);
  CHECK(reading.slips[0].line == 2);
}

TEST_CASE("good values are never asked about because bad ones are many: converting gives back the truth") {
  // Two in g/L, three a hundred times more: the three are asked about, in either order.
  for (const bool first : {true, false}) {
    std::vector<std::pair<std::string, std::string>> values{{"1.10", "0.21"}, {"1.05", "0.22"}};
    const std::vector<std::pair<std::string, std::string>> bad{{"110", "21"}, {"108", "22"}, {"112", "20"}};
    values.insert(first ? values.begin() : values.end(), bad.begin(), bad.end());
    const labs::Reading asked = labs::read(table(values));
    CHECK(asked.slips.size() == 6);
    for (const labs::Slip& slip : asked.slips) {
      CHECK(slip.times == support::near(100, 0.2));
      CHECK(slip.written / slip.meant.value() == doctest::Approx(100));
    }
    labs::ReadOptions convert;
    convert.slips = labs::SlipAnswer::convert;
    const labs::Reading converted = labs::read(table(values), convert);
    CHECK(converted.rejected.empty());
    REQUIRE(converted.rows.size() == 5);
    for (const labs::Row& row : converted.rows) {
      CHECK(row.c3->value == support::near(1.09, 0.05));
      CHECK(row.c4->value == support::near(0.21, 0.06));
    }
  }
  // Over random files with any share of slips below the whole, converting gives the values that were meant.
  std::mt19937 random(3);
  std::normal_distribution<double> normal;
  std::bernoulli_distribution slipped(0.6);
  for (int person = 0; person < 300; ++person) {
    std::vector<std::pair<std::string, std::string>> values;
    std::vector<double> meant;
    for (int i = 0; i < 8; ++i) {
      meant.push_back(1.1 * std::exp(0.12 * normal(random)));
      const bool slip = i > 0 && slipped(random);
      values.emplace_back(std::to_string(slip ? 100 * meant.back() : meant.back()), "0.2");
    }
    labs::ReadOptions convert;
    convert.slips = labs::SlipAnswer::convert;
    const labs::Reading read = labs::read(table(values), convert);
    REQUIRE(read.rows.size() == 8);
    for (std::size_t i = 0; i < 8; ++i) REQUIRE(read.rows[i].c3->value == support::near(meant[i], 1e-4));
  }
}

TEST_CASE("a whole file a hundred times off is asked about too, against what is common") {
  const labs::Reading low = labs::read("date,C3 (mg/dL),C4 (mg/dL)\n2024-01-01,1.1,0.2\n2024-03-01,0.8,0.2\n");
  CHECK(low.slips.size() == 4);
  CHECK(low.slips[0].from_common);
  labs::ReadOptions grams;
  grams.unit = scenario::Unit::g_per_l;
  const labs::Reading high = labs::read("date,C3,C4\n2024-01-01,110,21\n2024-03-01,112,22\n", grams);
  CHECK(high.slips.size() == 4);
  CHECK(high.rejected.empty());
  // Truly low, and truly high, are not.
  CHECK(labs::read(table({{"0.15", "0.012"}, {"0.20", "0.015"}})).slips.empty());
  CHECK(labs::read(table({{"2.4", "0.7"}, {"2.2", "0.6"}})).slips.empty());
}

TEST_CASE("a possible slip of unit ends the command with exit code 1 and the question, and the answer is taken") {
  const support::Folder folder;
  const std::string path =
      support::file_with(folder.path + "/r.csv", table({{"1.1", "0.2"}, {"1.0", "0.2"}, {"105", "0.2"}}));
  const auto asked = support::drawdown_with({"labs", path});
  CHECK(asked.code == 1);
  CHECK(asked.out.find("Did the unit slip") != std::string::npos);
  CHECK(asked.out.find("--slip convert") != std::string::npos);
  const auto converted = support::drawdown_with({"labs", path, "--slip", "convert"});
  CHECK(converted.code == 0);
  CHECK(converted.out.find("Did the unit slip") == std::string::npos);
  CHECK(converted.out.find("C3 105 g/L is read as 1.05 g/L, as you answered") != std::string::npos);
}

TEST_CASE("a last value below detection is at least so far under the usual level, and a fall to it is told") {
  std::string text = "date,C4 (g/L),flare\n";
  for (int i = 1; i <= 6; ++i) text += "2021-0" + std::to_string(i) + "-10,0.2" + std::to_string(i) + ",no\n";
  const labs::Reading quiet = labs::read(text);
  const labs::Reading fallen = labs::read(text + "2021-07-10,<0.05,yes\n");
  const labs::Judgement before = judged(quiet);
  const labs::Judgement after = judged(fallen);
  CHECK(before.c4.level.standing == labs::Standing::within);
  CHECK(after.c4.level.standing == labs::Standing::fell);
  CHECK(after.c4.level.last == 6U);
  CHECK(after.c4.level.last_at_least);
  CHECK(after.any_beyond);
  CHECK(after.c4.placed.back().position == labs::Position::below);
  // A limit above the usual level tells nothing of the last value, and nothing is said of it.
  const labs::Judgement vague = judged(labs::read(text + "2021-07-10,<0.50,yes\n"));
  CHECK(vague.c4.level.standing == labs::Standing::open);
  CHECK(vague.c4.level.last_at_least);
  CHECK_FALSE(vague.any_beyond);
  CHECK(vague.c4.placed.back().position == labs::Position::unknown);
}
