// More of results as people really give them: collapses under limits, small steps, odd titles, ranges that cannot be
// read. Invented data; units:
// 1 g/L = 100 mg/dL = 1000 mg/L, by definition.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "labs/told.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/near.hpp"

using namespace drawdown;
using namespace drawdown::tests;

TEST_CASE(
    "a collapse that hides under limits is told from the last measured value, and a bound is never within noise") {
  const std::string hidden = "date,C3 (g/L)\n2023-01-10,1.10\n2023-04-10,<1.05\n2023-07-10,<0.20\n";
  const labs::Judgement of = judged(hidden);
  REQUIRE(of.c3.changes.size() == 2);
  CHECK(of.c3.changes.back().from == 0);
  CHECK(of.c3.changes.back().beyond);
  const std::string known = "date,C3 (g/L)\n2022-01-10,1.10\n2022-04-10,1.05\n2022-07-10,1.12\n2022-10-10,1.08\n";
  CHECK(judged(known + "2023-04-10,<1.05\n2023-07-10,<0.20\n").any_beyond);
  CHECK_FALSE(judged(known + "2023-04-10,<1.05\n").any_beyond);
  CHECK(has(said_of(known + "2023-04-10,<1.05\n", Protein::c3), "a fall may be hidden"));
  const labs::Reading reading = labs::read("date,C3 (g/L)\n2023-01-10,1.10\n2023-04-10,<0.98\n");
  const labs::Judgement open = labs::judge(reading.rows, {}, {});
  const std::string said =
      stage::change_sentence(open.c3.changes.at(0), Protein::c3, reading.rows, reading.unit, english());
  CHECK(has(said, "is not known"));
  CHECK_FALSE(has(said, ": within"));
}

TEST_CASE("steps within one pair's noise that add up to more are found, and end the command with exit code 1") {
  const support::Folder folder;
  const std::string fall =
      "date,C3 (g/L)\n2022-01-02,1.52\n2022-03-02,1.48\n2022-05-02,1.51\n2022-07-02,1.47\n2022-09-02,1.35\n"
      "2022-11-02,1.20\n2023-01-02,1.06\n2023-03-02,0.95\n";
  const labs::Judgement of = judged(fall);
  for (const labs::Change& step : of.c3.changes) CHECK_FALSE(step.beyond);
  CHECK(of.any_beyond);
  const auto told = support::drawdown_with({"labs", support::file_with(folder.path + "/r.csv", fall)});
  CHECK(told.code == 1);
  CHECK(has(told.out, "C3 fell more than noise, since about "));
  CHECK_FALSE(judged("date,C3 (g/L)\n2023-01-02,1.50\n2023-01-09,1.40\n2023-01-16,1.45\n2023-02-16,1.44\n").any_beyond);
}

TEST_CASE("ranges, units and brackets in odd titles are read or refused, never passed over") {
  for (const char* title : {"Range C3", "C3 normal", "C3 reference range", "Rango de C3", "C3 (limits)"}) {
    const labs::Reading read = labs::read(std::string("date,C3 (g/L),") + title + "\n2023-01-10,0.95,1.0-1.8\n");
    REQUIRE(read.rows.at(0).c3_range.has_value());
    CHECK(read.rows[0].c3_range->low == doctest::Approx(1.0));
  }
  CHECK(labs::read("date,C3 (g/L),C3 lower limit,C3 upper limit\n2023-01-10,0.95,1.0,1.8\n").rows.at(0).c3_range);
  CHECK(has(error_of("date,C3 (g/L),Reference range\n2023-01-10,0.95,1.0-1.8\n"), "'Reference range'"));
  CHECK(has(error_of("date,C3 %\n2023-01-10,100\n"), "C3 %"));
  CHECK(has(error_of("date;C3 (mg/dl; 90-180);C4 mg/dL\n2023-01-10;110;22\n"), "bracket"));
  for (const char* title : {"C3 (units: mg/dL)", "C3 unit mg/dL", "complement 3 (mg/dL)", "C3 unidad mg/dL"}) {
    const labs::Reading read = labs::read(std::string("date;") + title + "\n2023-01-10;110\n");
    CHECK(read.rows.at(0).c3->value == doctest::Approx(1.1));
    CHECK(read.unit_sure);
  }
  const labs::Reading units = labs::read("date,C3,C4,unit\n2023-01-10,1.10,0.22,g/L\n2023-04-10,35,4,mg/dL\n");
  CHECK(units.rows.at(1).c3->value == doctest::Approx(0.35));
  CHECK(units.slips.empty());
  CHECK(reasons(labs::read("date,C4,C4 unit\n2023-01-10,85,mg/L\n")) == std::vector<Reason>{Reason::bad_unit});
  CHECK(has(error_of("date,C3,C4\n2023-01-10,800,80\n2023-04-10,790,30\n"), "mg/L"));
  CHECK(has(error_of("date,C3,C4\n2023-01-10,1.1,0.2\ndate,C3 (mg/dL),C4 (mg/dL)\n2023-05-10,4,0.5\n"),
            "results:3: the columns are named again"));
  labs::ReadOptions grams;
  grams.unit = scenario::Unit::g_per_l;
  CHECK_THROWS_AS((void)labs::read("date,C3 (mg/dL)\n2023-01-10,2\n", grams), labs::ReadError);
}

TEST_CASE("where a range could not be read nobody knows where the value lies") {
  const labs::Reading read = labs::read("date,C3 (g/L),C3 range,C4 (g/L)\n2023-04-10,0.95,1.0 or 1.8,0.17\n");
  const labs::Judgement of = labs::judge(read.rows, {}, {});
  CHECK(of.c3.placed.at(0).position == labs::Position::unknown);
  CHECK(of.pattern == labs::Pattern::unclear);
  CHECK(of.pattern_c4 == labs::Position::inside);
  CHECK(of.c3.ranges.general == 0);  // nor is it counted as held against the common one
  CHECK(of.c4.ranges.general == 1);
}

TEST_CASE("at most a limit stays at most: equal to the range's lower limit it is not below it") {
  const labs::Reading at_most = labs::read("date,C3 (g/L)\n2023-01-10,\u22640.90\n");
  CHECK(stage::value_text(at_most.rows.at(0).c3, Protein::c3, at_most.unit) == "\u22640.90");
  CHECK(labs::judge(at_most.rows, {}, {}).c3.placed[0].position == labs::Position::unknown);
  const labs::Reading less = labs::read("date,C3 (g/L)\n2023-01-10,<0.90\n");
  CHECK(labs::judge(less.rows, {}, {}).c3.placed[0].position == labs::Position::below);
}

TEST_CASE("what was typed is quoted as it was typed, and a figure beside its limit is seen to differ") {
  const labs::Reading slip = labs::read("date,C4 (mg/dL)\n2023-01-10,21\n2023-02-10,22\n2023-03-10,0.09\n");
  CHECK(has(stage::slip_sentence(slip.slips.at(0), slip, english()), "C4 0.09 mg/dL"));
  const labs::Reading litre = labs::read("date,C3 (mg/dL)\n2023-01-10,110\n2023-02-10,105\n2023-03-10,1120\n");
  CHECK(litre.slips.at(0).meant.value() == doctest::Approx(1.12));  // mg/L
  const labs::Reading close = labs::read("date,C3 (g/L)\n2023-01-10,0.899\n");
  CHECK(stage::value_text(close.rows.at(0).c3, Protein::c3, close.unit) == "0.899");
  // All results of a day are named.
  CHECK(
      has(said_of("date,C3 (g/L)\n2023-01-10 07:00,1.10\n2023-01-10 09:00,0.60\n2023-01-10 11:00,0.62\n", Protein::c3),
          "stands on 2023-01-10: 1.10 (7:00), 0.60 (9:00), 0.62 (11:00). They differ by more than noise"));
}

TEST_CASE("the laboratory's own mark is kept: low is low where it names no range, and against one it names not known") {
  const labs::Reading read = labs::read(
      "date,C3 (mg/dL),C3 range\n2024-01-15,95 L,\n2024-02-15,112 L,90-180\n2024-03-15,93 (L),\n2024-04-15,190 H,\n");
  REQUIRE(read.rejected.empty());
  const labs::Judgement of = labs::judge(read.rows, {}, {});
  CHECK(of.c3.placed.at(0).position == labs::Position::below);
  CHECK(of.c3.placed.at(1).position == labs::Position::unknown);
  CHECK(of.c3.placed.at(2).position == labs::Position::below);
  CHECK(of.c3.placed.at(3).position == labs::Position::above);
  CHECK(of.c3.ranges.marked == 3);
  CHECK(of.c3.ranges.general == 0);
}

TEST_CASE("nothing is compared with a day whose results disagree, whichever line stands last") {
  for (const char* day : {"2024-02-01,1.11\n2024-02-01,0.84\n", "2024-02-01,0.84\n2024-02-01,1.11\n"}) {
    const labs::Judgement of = judged(std::string("date,C3 (g/L)\n2024-01-01,1.12\n") + day + "2024-03-01,1.10\n");
    REQUIRE(of.c3.changes.size() == 1);
    CHECK(of.c3.changes[0].from == 0);
    CHECK(of.c3.changes[0].to == 3);
    CHECK_FALSE(of.c3.changes[0].beyond);
  }
}

TEST_CASE("ranges in other words, and C3c, are read") {
  for (const char* title : {"Valores normales C3", "VN C3", "Normal values C3"}) {
    CHECK(labs::read(std::string("date,C3 (g/L),") + title + "\n2023-01-10,0.95,1.0-1.8\n").rows.at(0).c3_range);
  }
  CHECK(has(error_of("date,C3 (g/L),Normal\n2023-01-10,0.95,1.0-1.8\n"), "'Normal'"));
  CHECK(labs::read("date,C3c (g/L),C4 complement\n2023-01-10,0.95,0.2\n").rows.at(0).c3.has_value());
}

TEST_CASE("a day of which only the outer results differ by more than noise is told so too") {
  const labs::Judgement of = judged("date,C3 (g/L)\n2024-02-01,1.00\n2024-02-01,0.90\n2024-02-01,0.81\n");
  REQUIRE(of.c3.twice.size() == 2);
  CHECK(of.c3.twice[0].beyond);
  CHECK(of.any_beyond);
  CHECK_FALSE(judged("date,C3 (g/L)\n2024-02-01,1.00\n2024-02-01,0.95\n2024-02-01,0.90\n").any_beyond);
}

TEST_CASE("a last limit near the usual level is not told as within noise") {
  std::string text = "date,C4 (g/L),flare\n";
  for (int i = 1; i <= 5; ++i) text += "2024-0" + std::to_string(i) + "-01,0.20,no\n";
  CHECK(has(said_of(text + "2024-06-01,<0.19,yes\n", Protein::c4), "Whether it fell is not known."));
  CHECK(has(said_of(text + "2024-06-01,0.19,yes\n", Protein::c4), "C4: no more than noise."));
}

TEST_CASE("lines that differ in a mark, in less than and at most, or in their range are not the same sample") {
  const auto rows = [](const std::string& first, const std::string& second) {
    return labs::read("date,C3 (g/L),C3 range\n2024-01-01," + first + "\n2024-01-01," + second + "\n").rows.size();
  };
  CHECK(rows("0.95,", "0.95,") == 1);
  CHECK(rows("0.95 L,", "0.95,") == 2);
  CHECK(rows("<0.95,", "\u22640.95,") == 2);
  CHECK(rows("0.95,0.9-1.8", "0.95,1.0-1.8") == 2);
}
