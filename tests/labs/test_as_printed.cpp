// Dates, ranges, marks and words as laboratories print them: read where they are clear, else refused with what is
// allowed; what says itself that there is no result is told and is not unread. Invented data.
#include <doctest/doctest.h>

#include "labs/cells.hpp"
#include "labs/dates.hpp"
#include "labs/told.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"

using namespace drawdown;
using namespace drawdown::tests;

namespace {

std::string day_of(const std::string& cell) {
  const labs::DateRead read = labs::read_date(labs::take_apart(cell), labs::DateOrder::month_first);
  return read.wrong ? "none" : labs::iso_date(read.days);
}

support::Answer told(const std::string& text, std::vector<std::string> more = {}) {
  const support::Folder folder;
  std::vector<std::string> words{"labs", support::file_with(folder.path + "/r.csv", text)};
  words.insert(words.end(), more.begin(), more.end());
  return support::drawdown_with(words);
}

}  // namespace

TEST_CASE("a date after today is taken as it stands, asked about, and ends the command with exit code 1") {
  labs::ReadOptions options;
  options.today = labs::days_of(2024, 6, 30);
  const std::string text = "date,C3 (g/L)\n2024-01-15,1.10\n2042-03-15,1.05\n2024-06-30,1.08\n";
  const labs::Reading read = labs::read(text, options);
  CHECK(read.rows.size() == 3);
  CHECK(read.unread() == 0);
  REQUIRE(read.after_today.size() == 1);  // today itself is none
  CHECK(read.after_today[0].line == 3);
  const auto said = stage::left_out_sentences(read, english());
  REQUIRE(said.size() == 1);
  CHECK(said[0] == "A date lies after today: 2042-03-15, on line 3. Is it right? The line counts as it stands.");
  CHECK(labs::read(text).after_today.empty());  // nobody said what day it is
  const auto late = told("date,C3 (g/L)\n2024-01-15,1.10\n2099-03-15,1.05\n2099-04-15,1.08\n");
  CHECK(late.code == 1);
  CHECK(has(late.out, "Dates that lie after today: 2. The first is 2099-03-15, on line 3."));
  CHECK(told("date,C3 (g/L)\n2024-01-15,1.10\n2024-03-15,1.05\n").code == 0);
}

TEST_CASE("a date with a zone is the day and the time written, whatever the zone") {
  const labs::Reading read = labs::read(
      "date,C3 (g/L)\n2024-01-15T23:30:00+02:00,1.10\n2024-02-15T00:10:00-05:00,1.10\n2024-03-15T10:00:00.000Z,1.10\n"
      "2024-04-15 10:00 UTC,1.10\n2024-05-15T10:00+0530,1.10\n");
  REQUIRE(read.rejected.empty());
  REQUIRE(read.rows.size() == 5);
  CHECK(labs::iso_date(read.rows[0].day) == "2024-01-15");
  CHECK(read.rows[0].minute == 23 * 60 + 30);
  CHECK(labs::iso_date(read.rows[1].day) == "2024-02-15");
  CHECK(read.rows[1].minute == 10);
  for (std::size_t i = 2; i < 5; ++i) CHECK(read.rows[i].minute == 600);
}

TEST_CASE("dates with the month's name are read in either language and order") {
  for (const char* cell : {"Jan 15, 2024", "January 15, 2024", "Jan. 15 2024", "15 January 2024", "15-Jan-2024",
                           "15jan2024", "15th January 2024", "January 15th, 2024", "the 15th of January 2024",
                           "15 de enero de 2024", "2024-Jan-15", "ene 15 2024", "Jan 15, 2024 10:30"}) {
    CHECK_MESSAGE(day_of(cell) == "2024-01-15", std::string(cell));
  }
  CHECK(day_of("3 setiembre 2024") == "2024-09-03");
  for (const char* cell : {"Jan 15", "Jan 2024", "15 Foo 2024", "Jan 32, 2024", "Feb 30, 2024", "Jan Feb 2024",
                           "15 Jan 24", "Jan 15, 24", "Jan 2024 15", "1500 Jan 15"}) {
    CHECK_MESSAGE(day_of(cell) == "none", std::string(cell));
  }
}

TEST_CASE("a date that commas or blanks cut in two is one date, and nothing else is joined to it") {
  for (const char* text : {"date,C3 (g/L),C4 (g/L)\nJan 15, 2024,1.10,0.21\nFeb 15, 2024,1.05,0.22\n",
                           "Jan 15, 2024,1.10,0.21\nFeb 15, 2024,1.05,0.22\n",
                           "date C3 C4\nJan 15 2024 1.10 0.21\n15 Feb 2024 1.05 0.22\n",
                           "date C3 C4\n15 de enero de 2024 1.10 0.21\n15 February 2024 1.05 0.22\n",
                           "date,C3 (g/L),C4 (g/L)\n\"Jan 15, 2024\",1.10,0.21\n\"Feb 15, 2024\",1.05,0.22\n"}) {
    const labs::Reading read = labs::read(text);
    REQUIRE_MESSAGE(read.rejected.empty(), std::string(text));
    REQUIRE_MESSAGE(read.rows.size() == 2, std::string(text));
    CHECK(labs::iso_date(read.rows[0].day) == "2024-01-15");
    CHECK(read.rows[1].c3->value == doctest::Approx(1.05));
    CHECK(read.rows[1].c4->value == doctest::Approx(0.22));
  }
  CHECK(labs::read("date,C3 (g/L),C4 (g/L)\nJan 15,1.10,0.21\n").rejected.size() == 1);
}

TEST_CASE("a visit with a date alone beside visits with a time is read, its figures where they belong") {
  for (const char* text :
       {"date time C3 C4\n2024-01-15 10:00 1.10 0.21\n2024-02-15 1.05 0.22\n",
        "2024-01-15 10:00 1.10 0.21\n2024-02-15 1.05 0.22\n", "2024-01-15 10:00 AM 1.10 0.21\n2024-02-15 1.05 0.22\n",
        "date,time,C3 (g/L),C4 (g/L)\n2024-01-15,10:00,1.10,0.21\n2024-02-15,-,1.05,0.22\n",
        "date,time,C3 (g/L),C4 (g/L)\n2024-01-15,10:00,1.10,0.21\n2024-02-15,,1.05,0.22\n",
        "date,C3 (g/L),C4 (g/L)\n2024-01-15T10:00,1.10,0.21\n2024-02-15,1.05,0.22\n"}) {
    const labs::Reading read = labs::read(text);
    CHECK_MESSAGE(read.unread() == 0, std::string(text));
    REQUIRE_MESSAGE(read.rows.size() == 2, std::string(text));
    CHECK(read.rows[0].minute == 600);
    CHECK_FALSE(read.rows[1].minute.has_value());
    CHECK_MESSAGE(read.rows[1].c3->value == doctest::Approx(1.05), std::string(text));
    CHECK_MESSAGE(read.rows[1].c4->value == doctest::Approx(0.22), std::string(text));
  }
  // With blanks between, a figure is never taken for a time: all cells are there, and none is a clock's.
  const labs::Reading odd = labs::read("date time C3 C4\n2024-01-15 10:00 1.10 0.21\n2024-02-15 1.05 0.22 0.3\n");
  CHECK(odd.rows.size() == 1);
  CHECK(reasons(odd) == std::vector<Reason>{Reason::bad_time});
  // A visit without a result holds nothing that could not be read.
  const labs::Reading bare = labs::read("date,C3 (g/L)\n2024-01-15T10:00,1.10\n2024-02-15,\n");
  CHECK(bare.unread() == 0);
  CHECK(bare.without_result() == 1);
  CHECK(told("date,C3 (g/L)\n2024-01-15T10:00,1.10\n2024-02-15,\n").code == 0);
}

TEST_CASE("ranges in brackets and in words are read, and half ranges refused with what is allowed") {
  for (const char* cell : {"0.90-1.80", "(0.90-1.80)", "[0.9 \u2013 1.8] g/L", "0.90 to 1.80", "(0.90 - 1.80) g/L",
                           "0.90-1.80 (g/L)", "{0.90-1.80}", "[ 0.90 \u2014 1.80 ]", "90-180 mg/dL", "[90 - 180] mg/dL",
                           "Ref: 0.90-1.80", "ref. range 0.90-1.80 g/L", "between 0.90 and 1.80", "entre 0.90 y 1.80",
                           "(Ref 0.90-1.80)", "0.90 g/L - 1.80 g/L", "0.90\u22121.80", "0.90 a 1.80"}) {
    const labs::Reading read = labs::read(std::string("date;C3 (g/L);C3 range\n2024-01-15;0.95;") + cell + "\n");
    REQUIRE_MESSAGE(read.rejected.empty(), std::string(cell));
    REQUIRE_MESSAGE(read.rows.at(0).c3_range.has_value(), std::string(cell));
    CHECK(read.rows[0].c3_range->low == doctest::Approx(0.9));
    CHECK(read.rows[0].c3_range->high == doctest::Approx(1.8));
  }
  for (const char* cell : {">0.90", "<1.80", "\u22650.90", "(>0.90)"}) {
    const labs::Reading read = labs::read(std::string("date;C3 (g/L);C3 range\n2024-01-15;0.95;") + cell + "\n");
    REQUIRE_MESSAGE(reasons(read) == std::vector<Reason>{Reason::half_range}, std::string(cell));
    CHECK(has(stage::rejected_sentence(read.rejected[0], english()), "write both, as 0.90-1.80"));
    CHECK(read.rows.at(0).c3_range_unread);
  }
  for (const char* cell : {"0.90", "(0.90-1.80", "0.90-1.80)", ")", "(", "()", "][", "1.80-0.90", "C3 0.90-1.80",
                           "adult", "0.90-1.80-2.0", "[0.9-1.8] mg"}) {
    const labs::Reading read = labs::read(std::string("date;C3 (g/L);C3 range\n2024-01-15;0.95;") + cell + "\n");
    CHECK_MESSAGE(reasons(read) == std::vector<Reason>{Reason::bad_range}, std::string(cell));
  }
}

TEST_CASE(
    "a cell that says there is no result is quoted, is not counted as unread, and does not end with exit code 1") {
  for (const char* cell :
       {"pending", "Pending.", "haemolysed", "HEMOLYZED", "not done", "insufficient", "insufficient sample",
        "pendiente", "muestra hemolizada", "no realizado", "cancelled", "QNS"}) {
    const labs::Reading read =
        labs::read(std::string("date,C3 (g/L),C4 (g/L)\n2024-01-15,1.10,0.21\n2024-02-15,") + cell + ",0.22\n");
    REQUIRE_MESSAGE(reasons(read) == std::vector<Reason>{Reason::no_value}, std::string(cell));
    CHECK(read.unread() == 0);
    CHECK(read.rows.size() == 2);
    CHECK_FALSE(read.rows[1].c3.has_value());
    CHECK(stage::rejected_sentence(read.rejected[0], english()) ==
          "Line 3, C3 (g/L): no result: '" + std::string(cell) + "'");
  }
  // What may be a result, and what nobody can read, stays unread.
  for (const char* cell : {"ND", "not detected", "see comment", "0.4 haemolysed", "pending 1.1", "low"}) {
    CHECK_MESSAGE(labs::read(std::string("date,C3 (g/L)\n2024-01-15,1.10\n2024-02-15,") + cell + "\n").unread() == 1,
                  std::string(cell));
  }
  // A line without any result, and a note that says why.
  const labs::Reading noted =
      labs::read("date,C3 (g/L),C4 (g/L),note\n2024-01-15,1.10,0.21,\n2024-02-15,,,lost in post\n");
  CHECK(noted.unread() == 0);
  CHECK(stage::rejected_sentence(noted.rejected.at(0), english()) == "Line 3: no result: 'lost in post'");
  const auto pending = told("date,C3 (g/L),C4 (g/L)\n2024-01-15,1.10,0.21\n2024-02-15,pending,0.22\n");
  CHECK(pending.code == 0);
  CHECK(has(pending.out, "Lines or values that hold no result: 1. The newest may be among them."));
  CHECK(has(pending.out, "values not read: 0"));
}

TEST_CASE("a column of the laboratory's marks counts as a mark beside the figure does") {
  const labs::Reading read = labs::read(
      "date,C3 (g/L),C3 flag,C4 (g/L),C4 "
      "flag\n2024-01-15,0.95,L,0.21,\n2024-02-15,1.12,N,0.45,H\n2024-03-15,1.0,abn,0.3,*\n"
      "2024-04-15,0.95 L,H,0.3,normal\n");
  REQUIRE(read.rejected.empty());
  CHECK(read.ignored_columns.empty());
  const labs::Judgement of = labs::judge(read.rows, {}, {});
  CHECK(of.c3.placed.at(0).position == labs::Position::below);
  CHECK(of.c3.placed.at(1).position == labs::Position::inside);
  CHECK(of.c4.placed.at(1).position == labs::Position::above);
  CHECK(of.c3.placed.at(2).position == labs::Position::unknown);  // outside, and it does not say where
  CHECK(of.c4.placed.at(2).position == labs::Position::unknown);
  CHECK(of.c3.placed.at(3).position == labs::Position::unknown);  // the two marks contradict each other
  CHECK(of.c3.ranges.marked == 2);
  // What it marks as normal is so for its own range, whatever the common one is, and not against the one it names.
  const labs::Judgement normal = judged(
      "date,C3 (g/L),C3 flag,C3 range\n2024-01-15,0.85,N,\n2024-02-15,0.85,N,0.8-1.6\n2024-03-15,0.85,N,0.9-1.8\n");
  CHECK(normal.c3.placed.at(0).position == labs::Position::inside);
  CHECK(normal.c3.placed.at(1).position == labs::Position::inside);
  CHECK(normal.c3.placed.at(2).position == labs::Position::unknown);
  CHECK(labs::read("date,C3 (g/L),C3 flag\n2024-01-15,0.95,odd\n").unread() == 1);
}

TEST_CASE("a column of marks without a name is that of the one level in front of it, else it is listed as not used") {
  for (const char* title : {"flag", "H/L", "Abn", "Flag "}) {
    const std::string t = title;
    const labs::Reading each = labs::read("date,C3 (g/L)," + t + ",C4 (g/L)," + t + "\n2024-01-15,0.95,L,0.45,H\n");
    CHECK_MESSAGE(each.rows.at(0).c3->mark == -1, std::string(title));
    CHECK_MESSAGE(each.rows.at(0).c4->mark == 1, std::string(title));
    const labs::Reading open = labs::read("date,C3 (g/L),C4 (g/L)," + t + "\n2024-01-15,0.95,0.3,L\n");
    CHECK_MESSAGE(open.rows.at(0).c3->mark == 0, std::string(title));
    CHECK_MESSAGE(open.rows.at(0).c4->mark == 0, std::string(title));
    CHECK_MESSAGE(open.ignored_columns.size() == 1, std::string(title));
  }
  for (const char* title : {"C3 flag", "Flag C3", "C3 H/L", "C3 Abn", "indicador C3", "C3 low/high"}) {
    const labs::Reading one = labs::read(std::string("date,") + title + ",C4 (g/L),C3 (g/L)\n2024-01-15,L,0.3,0.95\n");
    CHECK_MESSAGE(one.rows.at(0).c3->mark == -1, std::string(title));
  }
}
