// Results as people really give them: what may not be altered, dropped or told without being so. Invented data; units:
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

namespace {

labs::Reading converted(const std::string& text) {
  labs::ReadOptions options;
  options.slips = labs::SlipAnswer::convert;
  return labs::read(text, options);
}

}  // namespace

TEST_CASE("a value in the other unit is converted by what the units differ by, so that a fall stays a fall") {
  // mg/dL by the names, and one g/L among them: 5 mg/dL, not 50.
  const labs::Reading read = converted("date,C4 (mg/dL)\n2024-01-01,22\n2024-02-01,21\n2024-03-01,0.05\n");
  REQUIRE(read.rows.size() == 3);
  CHECK(read.rows[2].c4->value == doctest::Approx(0.05));
  REQUIRE(read.converted.size() == 1);
  CHECK(read.converted[0].line == 4);
  CHECK(labs::judge(read.rows, {}, {}).c4.changes.back().percent < 0.0);
  // mg/L among g/L: a thousand times.
  CHECK(converted("date,C3 (g/L)\n2024-01-01,1.1\n2024-02-01,1\n2024-03-01,1050\n").rows[2].c3->value ==
        doctest::Approx(1.05));
  // A low value that no unit explains is asked about, and no answer makes another value of it.
  const std::string low = "date,C4 (g/L)\n2024-01-01,0.35\n2024-02-01,0.34\n2024-03-01,0.01\n";
  const labs::Reading still = converted(low);
  REQUIRE(still.slips.size() == 1);
  CHECK_FALSE(still.slips[0].meant.has_value());
  CHECK(still.converted.empty());
  labs::ReadOptions keep;
  keep.slips = labs::SlipAnswer::keep;
  CHECK(labs::read(low, keep).rows[2].c4->value == doctest::Approx(0.01));
  // Both answers in one file: what a unit explains in the other unit, the rest as written.
  labs::ReadOptions both;
  both.slips = labs::SlipAnswer::convert_or_keep;
  const labs::Reading mixed = labs::read(low + "2024-04-01,35\n", both);
  CHECK(mixed.slips.empty());
  CHECK(mixed.rows.at(2).c4->value == doctest::Approx(0.01));
  CHECK(mixed.rows.at(3).c4->value == doctest::Approx(0.35));
}

TEST_CASE("what was converted stands on the screen's list, on the page and in the command's text, value by value") {
  const labs::Reading read = converted("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.1,0.2\n2024-02-01,1.0,21\n");
  const look::WordBook words = english();
  const auto said = stage::converted_sentences(read, words);
  REQUIRE(said.size() == 1);
  CHECK(said[0] == "Line 3: C4 21 g/L is read as 0.21 g/L, as you answered.");
  const auto all = stage::reading_sentences(read, words);
  CHECK(std::find(all.begin(), all.end(), said[0]) != all.end());
  CHECK(stage::converted_sentences(labs::read("date,C3 (g/L)\n2024-01-01,1.1\n"), words).empty());
  const support::Folder folder;
  const std::string path = support::file_with(folder.path + "/r.csv",
                                              "date,C3 (g/L),C4 (g/L)\n2024-01-01,1.1,0.2\n"
                                              "2024-02-01,1.0,21\n");
  const auto sheet = support::drawdown_with({"labs", path, "--slip", "convert", "--sheet", folder.path + "/s.html"});
  CHECK(has(sheet.out, said[0]));
  CHECK(has(support::content_of(folder.path + "/s.html"), said[0]));
}

TEST_CASE("more than can be is asked about, whatever the others are, and so is a limit no laboratory has") {
  const auto asked = [](const std::string& text) { return labs::read(text).slips.size(); };
  CHECK(asked("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.1,1.5\n") == 1);
  CHECK(asked("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.1,0.22\n2024-02-01,1.1,5\n") == 1);
  CHECK(asked("date,C3 (g/L),C4 (g/L)\n2024-01-01,1.1,0.7\n") == 0);
  CHECK(asked("date,C4 (mg/dL)\n2024-01-01,21\n2024-02-01,<0.08\n") == 1);
  CHECK(asked("date,C4 (mg/dL)\n2024-01-01,21\n2024-02-01,<2\n") == 0);
  CHECK(asked("date,C4 (g/L)\n2024-01-01,0.21\n2024-02-01,<8\n") == 1);
  const labs::Reading limit = converted("date,C4 (mg/dL)\n2024-01-01,21\n2024-02-01,<0.08\n");
  REQUIRE(limit.rows.size() == 2);
  CHECK(limit.rows[1].c4->below);
  CHECK(limit.rows[1].c4->value == doctest::Approx(0.08));
}

TEST_CASE("a level of zero is not taken for a figure: it is refused with its reason, and the command says so") {
  for (const char* cell : {"0", "0.00", "<0", "0,0"}) {
    const labs::Reading read = labs::read(std::string("date;C3;C4\n2024-01-01;1.1;0.2\n2024-02-01;1.0;") + cell + "\n");
    CHECK(reasons(read) == std::vector<Reason>{Reason::zero});
    CHECK(read.unread() == 1);
    CHECK(read.rows[1].c3.has_value());
    CHECK_FALSE(read.rows[1].c4.has_value());
  }
  // Of other tests zero is a result.
  CHECK(labs::read("date,C3,CRP\n2024-01-01,1.1,0\n").rejected.empty());
}

TEST_CASE("a range stands in its own unit, in its column's, or in its value's, and one that cannot be is refused") {
  const auto range = [](const std::string& text) { return labs::read(text).rows.at(0).c3_range; };
  const auto is_common = [](const std::optional<scenario::Interval>& r) {
    return r && std::abs(r->low - 0.9) < 1e-9 && std::abs(r->high - 1.8) < 1e-9;
  };
  CHECK(is_common(range("date,C3 (g/L),C3 range\n2024-01-01,1.05,90-180 mg/dL\n")));
  CHECK(is_common(range("date,C3 (g/L),C3 range (mg/dL)\n2024-01-01,1.05,90-180\n")));
  CHECK(is_common(range("date,C3 (g/L),C3 low (mg/dL),C3 high (g/L)\n2024-01-01,1.05,90,1.8\n")));
  CHECK(is_common(range("date,C3 (mg/dL),C3 range\n2024-01-01,105,90-180\n")));
  CHECK(is_common(range("date,C3 (mg/dL),C3 low,C3 high\n2024-01-01,105,0.9 g/L,1.8 g/L\n")));
  const auto refused = [](const std::string& text) { return reasons(labs::read(text)); };
  using Reasons = std::vector<Reason>;
  CHECK(refused("date,C3 (g/L),C3 range\n2024-01-01,1.05,90-180\n") == Reasons{Reason::odd_range});
  CHECK(refused("date,C3 (g/L),C3 range\n2024-01-01,1.05,0.9-1.8 mol\n") == Reasons{Reason::bad_range});
  CHECK(refused("date,C3 (g/L),C3 low,C3 high\n2024-01-01,1.05,0.9,\n") == Reasons{Reason::half_range});
  CHECK(refused("date,C3 (g/L),C3 low,C3 high\n2024-01-01,1.05,,1.8\n") == Reasons{Reason::half_range});
  CHECK(refused("date,C3 (g/L),C3 low,C3 high\n2024-01-01,1.05,1.8,0.9\n") == Reasons{Reason::bad_range});
  CHECK(refused("date,C3 (g/L),C3 low,C3 high\n2024-01-01,1.05,,\n").empty());
  CHECK(has(error_of("date,C3 (g/L),C3 range (mg/L)\n2024-01-01,1.05,900-1800\n"), "C3 range (mg/L)"));
  // A line all in the other unit is converted with its range.
  const labs::Reading whole =
      converted("date,C3 (g/L),C3 range\n2024-01-01,1.05,0.9-1.8\n2024-02-01,1.1,0.9-1.8\n2024-03-01,104,90-180\n");
  CHECK(whole.rejected.empty());
  CHECK(is_common(whole.rows[2].c3_range));
}

TEST_CASE("C4 alone whose size could be either unit's is asked about, and not judged") {
  const support::Folder folder;
  const std::string text = "date,C4\n2024-01-01,1.8\n2024-03-01,1.6\n";
  CHECK(labs::read(text).unit_open);
  const std::string path = support::file_with(folder.path + "/c4.csv", text);
  const auto asked = support::drawdown_with({"labs", path});
  CHECK(asked.code == 2);
  CHECK(has(asked.err, "--unit mg/dL"));
  const auto answered = support::drawdown_with({"labs", path, "--unit", "mg/dL"});
  CHECK(answered.code == 1);  // judged now, and low
  CHECK(answered.err.empty());
  CHECK_FALSE(labs::read("date,C4\n2024-01-01,0.2\n").unit_open);
  CHECK_FALSE(labs::read("date,C4\n2024-01-01,18\n").unit_open);
  CHECK_FALSE(labs::read("date,C4 (mg/dL)\n2024-01-01,1.8\n").unit_open);
}

TEST_CASE("samples of one day stand in the order of their times, and pair C3 with C4 over two lines") {
  const labs::Reading read = labs::read(
      "date,C3,C4\n2024-03-09 16:30,0.8,\n2024-03-09T08:05:00,0.82,\n2024-03-09 11:00 p. m.,0.7,\n2024-03-09,,0.05\n");
  REQUIRE(read.rejected.empty());
  REQUIRE(read.rows.size() == 4);
  CHECK_FALSE(read.rows[0].minute.has_value());
  CHECK(read.rows[1].minute == 8 * 60 + 5);
  CHECK(read.rows[2].minute == 16 * 60 + 30);
  CHECK(read.rows[3].minute == 23 * 60);
  CHECK(reasons(labs::read("date,C3\n2024-03-09 25:30,0.9\n")) == std::vector<Reason>{Reason::bad_date});
  const labs::Judgement of = labs::judge(read.rows, {}, {});
  CHECK(of.pattern == labs::Pattern::both);
  REQUIRE(of.pattern_of.has_value());
  // Results of one day that lie differently say nothing of the pair, whichever stands last.
  CHECK(judged("date,C3,C4\n2024-03-09,0.6,0.2\n2024-03-09,1.1,0.2\n").pattern == labs::Pattern::disagree);
  CHECK(judged("date,C3,C4\n2024-03-09,1.1,0.2\n2024-03-09,0.6,0.2\n").pattern == labs::Pattern::disagree);
  // A column of times orders them too.
  const labs::Reading column = labs::read("date,time,C3\n2024-03-09,20:00,0.6\n2024-03-09,8:00,1.1\n");
  CHECK(column.rows.at(1).c3->value == doctest::Approx(0.6));
  // On different days they are no pair.
  CHECK(judged("date,C3,C4\n2024-03-09,0.8,\n2024-03-10,,0.05\n").pattern == labs::Pattern::unknown);
}

TEST_CASE("two results of one day that differ beyond noise end the command with exit code 1, near ones do not") {
  const support::Folder folder;
  const auto code = [&](const std::string& second) {
    const std::string text = "date,C3,C4\n2024-03-09,1.1,0.2\n2024-03-09," + second + ",0.2\n";
    return support::drawdown_with({"labs", support::file_with(folder.path + "/r.csv", text)}).code;
  };
  CHECK(code("0.7") == 1);
  CHECK(code("1.6") == 1);
  CHECK(code("1.05") == 0);
}

TEST_CASE("a stray quotation mark costs its line and never swallows the results after it") {
  const labs::Reading read = labs::read(
      "date,C3,C4,note\n2024-01-01,1.1,0.2,\"seen\n2024-02-01,0.6,0.1,\n2024-03-01,0.5,0.1,was "
      "\"worse\n2024-04-01,1.0,0.2,\n");
  CHECK(read.rows.size() == 2);
  CHECK(reasons(read) == std::vector<Reason>{Reason::open_quote, Reason::open_quote});
  // A note over lines is still one.
  const labs::Reading note = labs::read("date,C3,C4,note\n2024-01-01,1.1,0.2,\"seen,\nstable\"\n2024-02-01,0.6,0.1,\n");
  CHECK(note.rows.size() == 2);
  CHECK(note.rejected.empty());
}

TEST_CASE("decimal commas without quotes do not become other figures in silence") {
  for (const char* line : {"2024-01-01,1,10,0,22", "2024-01-01,1,05,0,2", "2024-01-01,0,90,0,15"}) {
    const labs::Reading read = labs::read(std::string("date,C3 (g/L),C4 (g/L),note,CRP\n") + line + "\n");
    CHECK(read.unread() + read.slips.size() > 0);
  }
  // What a split comma leaves behind is no figure.
  CHECK(reasons(labs::read("date,C3 (g/L),C4 (g/L)\n2024-01-01,1,05\n")) == std::vector<Reason>{Reason::bad_number});
  const labs::Reading short_one = labs::read("date,C3 (g/L),C4 (g/L),note\n2024-01-01,1.05,0,22\n");
  CHECK(reasons(short_one) == std::vector<Reason>{Reason::zero});
}

TEST_CASE("a column that speaks of C3 or C4 is read or named, never passed over") {
  for (const char* title : {"C4 (g/L) serum", "Serum C4 (g/L)", "S-C4", "C4 level", "Complemento C4 en suero"}) {
    const labs::Reading read = labs::read(std::string("date,C3 (g/L),") + title + "\n2024-01-01,1.1,0.2\n");
    CHECK(read.rows[0].c4.has_value());
    CHECK(read.ignored_columns.empty());
  }
  CHECK(has(error_of("date,C3 (g/L),C4 by turbidimetry\n2024-01-01,1.1,0.2\n"), "'C4 by turbidimetry'"));
  // Other tests, and words about it, are left aside by name.
  for (const char* title : {"C3d", "C3a", "C4 comment"}) {
    const labs::Reading read = labs::read(std::string("date,C3 (g/L),") + title + "\n2024-01-01,1.1,0.2\n");
    CHECK(read.ignored_columns == std::vector<std::string>{title});
  }
  // C4d is a test of its own, never taken for C4.
  const labs::Reading pieces = labs::read("date,C3 (g/L),C4d\n2024-01-01,1.1,0.2\n");
  REQUIRE(pieces.rows.size() == 1);
  CHECK(pieces.rows[0].c4d.has_value());
  CHECK_FALSE(pieces.rows[0].c4.has_value());
}

TEST_CASE("limits of detection that change are no change of the level, and where they hide it that is what is said") {
  const auto c4 = [](const std::vector<std::string>& values) {
    std::string text = "date,C4 (g/L)\n";
    for (std::size_t i = 0; i < values.size(); ++i)
      text += "2024-0" + std::to_string(i + 1) + "-01," + values[i] + "\n";
    return text;
  };
  for (const auto& limits : {std::vector<std::string>{"<0.02", "<0.05", "<0.10", "<0.20"},
                             {"<0.20", "<0.10", "<0.05", "<0.02"},
                             {"0.03", "<0.05", "<0.10", "<0.20"},
                             {"<0.30", "<0.30", "0.05", "0.05"}}) {
    CHECK_FALSE(judged(c4(limits)).c4.level.found());
  }
  CHECK(has(said_of(c4({"<0.02", "<0.05", "<0.10", "<0.10"}), Protein::c4), "below what the laboratory can measure"));
  CHECK(has(said_of(c4({"0.2", "0.1"}), Protein::c4), "too few results"));
}

TEST_CASE("falls only: a rise is never beyond noise") {
  labs::Noise falls;
  falls.one_sided = true;
  const std::string usual = "date,C3\n2023-01-01,1.10\n2023-03-01,1.13\n2023-05-01,1.07\n2023-07-01,1.11\n";
  const std::string up = usual + "2024-03-01,1.9\n";
  CHECK_FALSE(judged(up, falls).any_beyond);
  CHECK(judged(up).any_beyond);
  const std::string down = usual + "2024-03-01,0.7\n";
  CHECK(judged(down, falls).any_beyond);
  CHECK_FALSE(judged(up, falls).c3.changes.back().asked);
  CHECK(judged(down, falls).c3.changes.back().asked);
}

TEST_CASE("the range told is the one each sample was held against") {
  const look::WordBook words = english();
  const auto told = [&](const std::string& text) {
    const labs::Reading reading = labs::read(text);
    std::string all;
    for (const std::string& s :
         stage::range_sentences(labs::judge(reading.rows, {}, {}).c3.ranges, {}, Protein::c3, reading.unit, words)) {
      all += s + "\n";
    }
    return all;
  };
  const std::string mixed =
      told("date,C3 (g/L),C3 range\n2024-01-01,1.0,0.75-1.65\n2024-02-01,0.85,\n2024-03-01,0.85,0.75-1.65\n");
  CHECK(has(mixed, "0.75 to 1.65 g/L, as the results name it (samples: 2)"));
  CHECK(has(mixed, "0.90 to 1.80 g/L, a common one, for samples that name none (1)"));
  const std::string own = told("date,C3 (g/L),C3 range\n2024-01-01,1.0,0.75-1.65\n");
  CHECK_FALSE(has(own, "common"));
  CHECK(has(told("date,C3 (g/L)\n2024-01-01,1.0\n"), "the results name none"));
  CHECK(has(told("date,C3 (g/L),C3 range\n2024-01-01,1.0,0.755-1.65\n"), "0.755 to 1.65"));
  const scenario::Interval common{0.9, 1.8};
  const auto band = [&](const std::string& text) {
    return labs::judge(labs::read(text).rows, {}, {}).c3.ranges.band(common);
  };
  CHECK(band("date,C3 (g/L),C3 range\n2024-01-01,1.0,0.75-1.65\n")->low == doctest::Approx(0.75));
  CHECK_FALSE(band("date,C3 (g/L),C3 range\n2024-01-01,1.0,0.75-1.65\n2024-02-01,1.0,0.8-1.7\n").has_value());
}

TEST_CASE("a usual level below a tenth keeps two digits that tell, and no figure is a power of ten") {
  std::string text = "date,C4 (g/L)\n";
  for (int i = 1; i <= 5; ++i) text += "2024-0" + std::to_string(i) + "-01,0.008" + std::to_string(i) + "\n";
  CHECK(has(said_of(text, Protein::c4), "from 4 results before the last: 0.0082."));
  const labs::Reading reading = labs::read("date,C3 (g/L)\n2024-01-01,1.1\n2024-02-01,1.0\n2024-03-01,1100\n");
  const std::string said = stage::slip_sentence(reading.slips.at(0), reading, english());
  CHECK(has(said, "C3 1100 g/L is about 1000 times more"));
  CHECK(has(said, "is it 1.1 g/L?"));
}

TEST_CASE("dates of which as many can only be one way as the other are asked about in words of their own") {
  const labs::Reading mixed = labs::read("date,C3\n13/4/2024,1.1\n4/25/2024,1.2\n5/6/2024,1.1\n");
  CHECK(mixed.order_open);
  CHECK(mixed.order_mixed);
  CHECK(has(stage::order_question(mixed, english()), "contradict"));
  const labs::Reading open = labs::read("date,C3\n3/4/2024,1.1\n5/6/2024,1.1\n");
  CHECK(open.order_open);
  CHECK_FALSE(open.order_mixed);
}
