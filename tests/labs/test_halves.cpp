// Lines typed in the other unit: both halves of a line are asked about where one factor explains both, in one question,
// and many such lines as well as one. Invented data; 1 g/L = 100 mg/dL = 1000 mg/L, by definition.
#include <doctest/doctest.h>

#include "labs/told.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"

using namespace drawdown;
using namespace drawdown::tests;

namespace {

const std::string milligrams = "date,C3 (mg/dL),C4 (mg/dL)\n";
// A person whose C4 is always low, and one line in g/L.
const std::string low_c4 = milligrams + "2024-01-01,110,4.2\n2024-02-01,112,4.3\n2024-03-01,1.05,0.21\n";

labs::Reading answered(const std::string& text, labs::SlipAnswer answer) {
  labs::ReadOptions options;
  options.slips = answer;
  return labs::read(text, options);
}

}  // namespace

TEST_CASE("the other half of a line whose unit slipped is not believed: both are asked about in one question") {
  const labs::Reading asked = labs::read(low_c4);
  REQUIRE(asked.slips.size() == 2);
  CHECK(asked.slips[0].line == 4);
  CHECK_FALSE(asked.slips[0].c4);
  CHECK(asked.slips[1].line == 4);
  CHECK(asked.slips[1].c4);
  CHECK(asked.slips[1].meant.value() == doctest::Approx(0.21));
  CHECK(asked.rows.size() == 2);
  CHECK_FALSE(labs::judge(asked.rows, {}, {}).any_beyond);
  const auto said = stage::slip_sentences(asked, english());
  REQUIRE(said.size() == 1);
  CHECK(has(said[0],
            "Line 4: C3 1.05 mg/dL is about 110 times less than your other values. Beside it stands C4 0.21 mg/dL."));
  CHECK(has(said[0], "are they 105 and 21 mg/dL?"));
}

TEST_CASE("one answer settles both halves of a line: convert, keep, and convert or keep") {
  for (const auto answer : {labs::SlipAnswer::convert, labs::SlipAnswer::convert_or_keep}) {
    const labs::Reading converted = answered(low_c4, answer);
    CHECK(converted.slips.empty());
    CHECK(converted.converted.size() == 2);
    CHECK(converted.rows.at(2).c3->value == doctest::Approx(1.05));
    CHECK(converted.rows.at(2).c4->value == doctest::Approx(0.21));
  }
  const labs::Reading kept = answered(low_c4, labs::SlipAnswer::keep);
  CHECK(kept.slips.empty());
  CHECK(kept.rows.at(2).c3->value == doctest::Approx(0.0105));
  CHECK(kept.rows.at(2).c4->value == doctest::Approx(0.0021));
}

TEST_CASE("a half that is right as typed is not asked about beside one that is not") {
  const labs::Reading c4_right = labs::read(milligrams + "2024-01-01,110,22\n2024-02-01,112,23\n2024-03-01,1.05,21\n");
  REQUIRE(c4_right.slips.size() == 1);
  CHECK_FALSE(c4_right.slips[0].c4);
  CHECK_FALSE(c4_right.slips[0].other.has_value());
  CHECK(c4_right.rows.at(2).c4->value == doctest::Approx(0.21));
  // In g/L, and with the C4 of somebody who has little or much of it.
  for (const char* c4 : {"0.02", "0.21", "0.70"}) {
    const labs::Reading grams = labs::read("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.10," + std::string(c4) +
                                           "\n2024-02-01,1.12," + c4 + "\n2024-03-01,105," + c4 + "\n");
    REQUIRE_MESSAGE(grams.slips.size() == 1, c4);
    CHECK_FALSE(grams.slips[0].c4);
  }
  // A cell that states a unit of its own was not typed in the line's.
  const labs::Reading stated =
      labs::read(milligrams + "2024-01-01,110,4.2\n2024-02-01,112,4.3\n2024-03-01,1.05,0.041 g/L\n");
  REQUIRE(stated.slips.size() == 1);
  CHECK_FALSE(stated.slips[0].c4);
}

TEST_CASE("C4 may give the ground as well as C3, and lines in mg/dL among g/L as well as the other way round") {
  // 900 mg/dL of C3 cannot be: it stays as typed. 390 and 170 can.
  const labs::Reading by_c4 = labs::read(milligrams + "2024-01-01,25,22\n2024-02-01,26,23\n2024-03-01,9,0.12\n");
  REQUIRE(by_c4.slips.size() == 1);
  CHECK(by_c4.slips[0].c4);
  const labs::Reading both =
      labs::read(milligrams + "2024-01-01,50,22\n2024-02-01,51,23\n2024-03-01,3.9,0.12\n" + "2024-04-01,1.7,0.2\n");
  CHECK(both.slips.size() == 4);
  const labs::Reading grams =
      labs::read("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.10,0.04\n2024-02-01,1.12,0.043\n2024-03-01,105,0.8\n");
  REQUIRE(grams.slips.size() == 2);
  CHECK(grams.slips[1].c4);
  CHECK(grams.slips[1].meant.value() == doctest::Approx(0.008));
}

TEST_CASE("many lines in the other unit are asked about as one is, down to half of them and beyond, in any order") {
  for (const int slipped : {1, 3, 5, 8}) {
    for (const bool first : {true, false}) {
      std::string text = milligrams;
      std::string bad;
      std::string good;
      for (int i = 0; i < 5; ++i) {
        good += "2024-0" + std::to_string(i + 1) + "-01," + std::to_string(108 + i) + ",4." + std::to_string(i) + "\n";
      }
      for (int i = 0; i < slipped; ++i) {
        bad += "2023-0" + std::to_string(i + 1) + "-01,1.0" + std::to_string(i) + ",0.2" + std::to_string(i) + "\n";
      }
      text += first ? bad + good : good + bad;
      const labs::Reading asked = labs::read(text);
      CHECK_MESSAGE(asked.slips.size() == static_cast<std::size_t>(2 * slipped), text);
      CHECK_FALSE(labs::judge(asked.rows, {}, {}).any_beyond);
      const labs::Reading converted = answered(text, labs::SlipAnswer::convert);
      CHECK(converted.slips.empty());
      CHECK(converted.rejected.empty());
    }
  }
  // One protein alone: half the values of a low C4 in each unit.
  const labs::Reading alone =
      labs::read("date,C4 (mg/dL)\n2024-01-01,4.2\n2024-02-01,4.1\n2024-03-01,0.21\n2024-04-01,0.20\n2024-05-01,3.9\n");
  CHECK(alone.slips.size() == 2);
  // A fall that can be, however deep, is none.
  CHECK(labs::read("date,C4 (mg/dL)\n2024-01-01,20\n2024-02-01,19\n2024-03-01,1.0\n").slips.empty());
  CHECK(labs::read("date,C4 (mg/dL)\n2024-01-01,4\n2024-02-01,4.1\n2024-03-01,0.6\n").slips.empty());
}

TEST_CASE("limits and ranges of a line in the other unit go with it") {
  const std::string text =
      "date,C3 (mg/dL),C3 range,C4 (mg/dL),C4 range\n2024-01-01,110,90-180,4.2,10-40\n2024-02-01,112,90-180,4.3,10-40\n"
      "2024-03-01,1.05,0.9-1.8,<0.21,0.1-0.4\n";
  CHECK(labs::read(text).slips.size() == 2);
  const labs::Reading converted = answered(text, labs::SlipAnswer::convert);
  REQUIRE(converted.rejected.empty());
  CHECK(converted.rows.at(2).c4->below);
  CHECK(converted.rows.at(2).c4->value == doctest::Approx(0.21));
  REQUIRE(converted.rows.at(2).c4_range.has_value());
  CHECK(converted.rows.at(2).c4_range->high == doctest::Approx(0.4));
}

TEST_CASE("the command asks about both halves of a line once, and --slip convert reads both in the other unit") {
  const support::Folder folder;
  const std::string path = support::file_with(folder.path + "/r.csv", low_c4);
  const auto asked = support::drawdown_with({"labs", path});
  CHECK(asked.code == 1);
  CHECK(has(asked.out, "values asked about: 2"));
  CHECK_FALSE(has(asked.out, "-95 %"));
  const std::size_t question = asked.out.find("Did the unit");
  REQUIRE(question != std::string::npos);
  CHECK(asked.out.find("Did the unit", question + 1) == std::string::npos);
  const auto converted = support::drawdown_with({"labs", path, "--slip", "convert"});
  CHECK(has(converted.out, "C3 1.05 mg/dL is read as 105 mg/dL, as you answered"));
  CHECK(has(converted.out, "C4 0.21 mg/dL is read as 21 mg/dL, as you answered"));
  const auto spanish = support::drawdown_with({"labs", path, "--language", "es"});
  CHECK(has(spanish.out, "C4 0.21 mg/dL"));
}
