// Results in: what is read, what is asked, and what is refused with its reason. Invented data.
#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "labs/cells.hpp"
#include "labs/read.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using labs::Reason;

namespace {

labs::Row only_row(const std::string& text) {
  const labs::Reading r = labs::read(text);
  REQUIRE(r.rejected.empty());
  REQUIRE(r.rows.size() == 1);
  return r.rows[0];
}

std::string said(const std::string& text) {
  try {
    (void)labs::read(text);
  } catch (const labs::ReadError& error) {
    return error.what();
  }
  return "taken";
}

}  // namespace

TEST_CASE("a plain file is read: dates, C3, C4, and every optional column") {
  const labs::Reading r = labs::read(
      "Date,C3 (g/L),C4 (g/L),C1q,CH50,anti-dsDNA,CRP,urine protein/creatinine,Haemoglobin,flare,treatment note,room\n"
      "2024-03-09,1.10,0.22,120,90,35,4,0.1,13.2,no,nothing new,4\n"
      "2024-01-09,0.90,0.13,100,70,135,14,1.1,11.2,yes,\"glucocorticoid, then less\",4\n");
  REQUIRE(r.rows.size() == 2);
  CHECK(labs::iso_date(r.rows[0].day) == "2024-01-09");
  CHECK(r.rows[0].c3->value == doctest::Approx(0.90));
  CHECK(r.rows[0].flare == true);
  CHECK(r.rows[0].treatment == "glucocorticoid, then less");
  CHECK(r.rows[1].c1q->value == 120);
  CHECK(r.rows[1].ch50->value == 90);
  CHECK(r.rows[1].anti_dsdna->value == 35);
  CHECK(r.rows[1].crp->value == 4);
  CHECK(r.rows[1].urine_protein->value == doctest::Approx(0.1));
  CHECK(r.rows[1].haemoglobin->value == doctest::Approx(13.2));
  CHECK(r.unit_sure);
  CHECK(r.ignored_columns == std::vector<std::string>{"room"});
}

TEST_CASE("the same results in five spellings read the same") {
  const std::vector<std::string> spellings{
      "date,C3,C4\n2024-03-09,1.10,0.22\n2024-06-13,0.95,0.18\n",
      "\xEF\xBB\xBF"
      "fecha;C3;C4\r\n09.03.2024;1,10;0,22\r\n13.06.2024;0,95;0,18\r\n",
      "date\tC3 mg/dL\tC4 mg/dL\n9 Mar 2024\t110\t22\n13 Jun 2024\t95\t18",
      "2024-03-09 1.10 0.22\n\n2024-06-13   0,95   0,18\n",
      "\"C4\",\"C3\",\"date\"\n\"0,22\",\"1,10\",\"2024-03-09T08:15:00\"\n\"0,18\",\"0,95\",\"2024-06-13\"\n"};
  for (const std::string& text : spellings) {
    const labs::Reading r = labs::read(text);
    CHECK_MESSAGE(r.rejected.empty(), text);
    REQUIRE(r.rows.size() == 2);
    CHECK(labs::iso_date(r.rows[0].day) == "2024-03-09");
    CHECK(labs::iso_date(r.rows[1].day) == "2024-06-13");
    CHECK(r.rows[0].c3->value == doctest::Approx(1.10));
    CHECK(r.rows[1].c3->value == doctest::Approx(0.95));
    CHECK(r.rows[1].c4->value == doctest::Approx(0.18));
  }
}

TEST_CASE("the unit is taken from the names or the cells, else from the size of the values, and then to be confirmed") {
  CHECK(labs::read("date,C3,C4\n2024-03-09,110,22\n").unit == scenario::Unit::mg_per_dl);
  CHECK_FALSE(labs::read("date,C3,C4\n2024-03-09,110,22\n").unit_sure);
  CHECK_FALSE(labs::read("date,C3,C4\n2024-03-09,1.1,0.2\n").unit_sure);
  CHECK(labs::read("date,C3 (mg/dL),C4 (mg/dL)\n2024-03-09,110,22\n").unit_sure);
  CHECK(labs::read("date,C3,C4\n2024-03-09,110 mg/dL,22 mg/dL\n").unit_sure);
  CHECK(labs::read("date,C4\n2024-03-09,22\n").unit == scenario::Unit::mg_per_dl);
  labs::ReadOptions asked;
  asked.unit = scenario::Unit::mg_per_dl;
  CHECK(labs::read("date,C3,C4\n2024-03-09,90,8\n", asked).rows[0].c4->value == doctest::Approx(0.08));
  // Two laboratories in one file, each cell with its unit.
  const labs::Reading mixed = labs::read("date,C3\n2024-03-09,110 mg/dL\n2024-04-09,1.2 g/L\n");
  CHECK(mixed.rows[0].c3->value == doctest::Approx(1.1));
  CHECK(mixed.rows[1].c3->value == doctest::Approx(1.2));
}

TEST_CASE("dates that can be read two ways are asked about, and one date that cannot settles the others") {
  CHECK(labs::read("date,C3\n3/4/2024,1.1\n5/6/2024,1.2\n").order_open);
  CHECK_FALSE(labs::read("date,C3\n3/4/2024,1.1\n25/6/2024,1.2\n").order_open);
  CHECK(labs::iso_date(labs::read("date,C3\n3/4/2024,1.1\n25/6/2024,1.2\n").rows[0].day) == "2024-04-03");
  CHECK(labs::iso_date(labs::read("date,C3\n3/4/2024,1.1\n6/25/2024,1.2\n").rows[0].day) == "2024-03-04");
  CHECK_FALSE(labs::read("date,C3\n4/4/2024,1.1\n").order_open);
  CHECK_FALSE(labs::read("date,C3\n3.4.2024,1.1\n").order_open);
  labs::ReadOptions month;
  month.order = labs::DateOrder::month_first;
  CHECK(labs::iso_date(labs::read("date,C3\n3/4/2024,1.1\n", month).rows[0].day) == "2024-03-04");
  const labs::Reading against = labs::read("date,C3\n13/4/2024,1.1\n14/4/2024,1.1\n4/25/2024,1.2\n");
  REQUIRE(against.rejected.size() == 1);
  CHECK(against.rejected[0].reason == Reason::date_against_the_others);
  CHECK(against.rejected[0].line == 4);
}

TEST_CASE("below detection, missing cells and a laboratory's own interval are kept as they are") {
  CHECK(only_row("date,C3,C4\n2024-03-09,1.1,<0.02\n").c4->below);
  CHECK(only_row("date,C3,C4\n2024-03-09,1.1,<0.02\n").c4->value == doctest::Approx(0.02));
  CHECK_FALSE(only_row("date,C3,C4\n2024-03-09,,0.2\n").c3.has_value());
  CHECK_FALSE(only_row("date,C3,C4\n2024-03-09,n/a,0.2\n").c3.has_value());
  CHECK_FALSE(only_row("date,C3,C4\n2024-03-09,-,0.2\n").c3.has_value());
  const labs::Row own = only_row("date;C3 mg/dL;C3 range;C4 low;C4 high\n2024-03-09;110;82-185;15;53\n");
  CHECK(own.c3_range->low == doctest::Approx(0.82));
  CHECK(own.c4_range->high == doctest::Approx(0.53));
}

TEST_CASE("every line is a row, a rejected line, blank or the names: nothing is dropped silently") {
  const std::string text = "date,C3,C4\n\n2024-03-09,1.1,0.2\n   \n2024-03-10,oops,0.2\n,,\n2024-03-11,,\n";
  const labs::Reading r = labs::read(text);
  CHECK(r.rows.size() == 2);
  CHECK(r.rejected.size() == 2);
  CHECK(r.blank_lines == 3);
  CHECK(r.rejected[0].line == 5);
  CHECK(r.rejected[0].text == "2024-03-10,oops,0.2");
  CHECK_FALSE(r.rejected[0].whole);
  CHECK(r.rejected[1].whole);
  CHECK(r.unread() == 1);
  CHECK(r.without_result() == 1);
}

TEST_CASE("a cell that cannot be read costs that cell alone, and the line's other values stand") {
  const labs::Reading r = labs::read(
      "date,C3,C4,CRP,flare,C3 range\n2024-03-09,1.1,oops,4,no,0.9-1.8\n2024-04-09,-7,0.2,4,maybe,0.9\n"
      "2024-05-09,x,y,,,\n");
  REQUIRE(r.rows.size() == 2);
  CHECK(r.rows[0].c3->value == doctest::Approx(1.1));
  CHECK_FALSE(r.rows[0].c4.has_value());
  CHECK(r.rows[0].flare == false);
  CHECK_FALSE(r.rows[1].c3.has_value());
  CHECK(r.rows[1].c4->value == doctest::Approx(0.2));
  CHECK_FALSE(r.rows[1].flare.has_value());
  CHECK_FALSE(r.rows[1].c3_range.has_value());
  REQUIRE(r.rejected.size() == 6);
  CHECK(r.rejected[1].reason == Reason::negative);
  CHECK(r.rejected[0].column == "C4");
  CHECK_FALSE(r.rejected[0].whole);
  // Of the last line nothing was left: it was not read at all.
  CHECK(r.rejected[4].whole);
  CHECK(r.rejected[5].whole);
  // The same sample twice is no loss.
  CHECK(labs::read("date,C3\n2024-03-09,1.1\n2024-03-09,1.1\n").unread() == 0);
}

TEST_CASE("less than is read however it is written, and a laboratory's mark beside a figure is left aside") {
  for (const char* cell :
       {"<0.05", "< 0.05", "<=0.05", "\u22640.05", "\uFF1C0.05", "below 0.05", "Less than 0.05", "under 0.05",
        "menor que 0,05", "inferior a 0.05", "por debajo de 0.05", "<0.05*", "<0.05 L", "<0.05 (L)", "<0.05 g/L *"}) {
    const labs::NumberCell read = labs::read_number(cell);
    CHECK_MESSAGE((!read.wrong && read.value && read.value->below && read.value->value == 0.05), cell);
  }
  for (const char* cell : {"0.05", "0.05 L", "0.05L", "0.05 H", "0.05*", "0.05 g/L L", "0.05 L g/L", "0.05 (LL)",
                           "0.05 \u2193", "0.05 low", "0.05 bajo"}) {
    const labs::NumberCell read = labs::read_number(cell);
    CHECK_MESSAGE((!read.wrong && read.value && !read.value->below && read.value->value == 0.05), cell);
    CHECK_MESSAGE((read.unit.empty() || read.unit == "g/L"), cell);
  }
  // A unit is no mark, and other words are not taken for one.
  CHECK(labs::read_number("5 mg/L").unit == "mg/L");
  CHECK(labs::read("date,C3\n2024-03-09,0.05 lost\n").unread() == 1);
  CHECK(labs::read("date,C3\n2024-03-09,>1.8\n").unread() == 1);
}

TEST_CASE("a title's unit that is not read is refused by name, not taken for another") {
  CHECK(said("date,C3 (mg/L),C4 (mg/L)\n2024-01-10,400,40\n").find("'C3 (mg/L)' is not one that is read") !=
        std::string::npos);
  CHECK(said("date,C3 (g/L),C4 (g/L)\n2024-01-10,0.4,0.04\n") == "taken");
}

TEST_CASE("what may mean not detected is reported, not taken for a blank") {
  for (const char* cell : {"ND", "N/D", "n.d."}) {
    const labs::Reading r = labs::read(std::string("date,C3,C4\n2024-03-10,1.08,") + cell + "\n");
    CHECK_MESSAGE(r.unread() == 1, cell);
  }
  CHECK(labs::read("date,C3,C4\n2024-03-10,1.08,n/a\n").unread() == 0);
}

TEST_CASE("two lines are the same sample only if all they say is the same") {
  const std::string head = "date,C3,C4,CRP,flare\n2024-03-10,1.08,0.20,5,no\n";
  CHECK(labs::read(head + "2024-03-10,1.08,0.20,5,no\n").rows.size() == 1);
  CHECK(labs::read(head + "2024-03-10,1.08,0.20,150,no\n").rows.size() == 2);
  CHECK(labs::read(head + "2024-03-10,1.08,0.20,5,yes\n").rows.size() == 2);
  CHECK(labs::read(head + "2024-03-10,1.08,<0.20,5,no\n").rows.size() == 2);
}

TEST_CASE("text of sixteen bits a letter is named as such") {
  CHECK(said(std::string("\xFF\xFE"
                         "d\0a\0t\0e\0",
                         10))
            .find("UTF-16") != std::string::npos);
}

TEST_CASE("a quoted cell may hold line ends, a quotation mark never closed costs its line, not the file") {
  const labs::Reading quoted = labs::read("date,C3,note\n2024-03-09,1.1,\"first\nthen second\"\n2024-04-09,1.0,\n");
  CHECK(quoted.rows.size() == 2);
  CHECK(quoted.rows[0].treatment == "first\nthen second");
  CHECK(quoted.rows[1].line == 4);
  const labs::Reading open = labs::read("date,C3,note\n2024-03-09,1.1,\"oops\n2024-04-09,1.0,\n2024-05-09,1.0,\n");
  REQUIRE(open.rejected.size() == 1);
  CHECK(open.rejected[0].reason == Reason::open_quote);
  CHECK(open.rows.size() == 2);
}

TEST_CASE("sixty wrong files and lines, each with its place and reason") {
  struct Wrong {
    const char* line;
    Reason reason;
    bool kept = false;  // though it was asked about
  };
  // A line after "date,C3,C4,CRP,flare,C3 range" and one good line: line 3.
  const std::vector<Wrong> lines{{"31.02.2024,1.1,0.2", Reason::bad_date},
                                 {"2024-02-30,1.1,0.2", Reason::bad_date},
                                 {"2023-02-29,1.1,0.2", Reason::bad_date},
                                 {"2024-13-01,1.1,0.2", Reason::bad_date},
                                 {"2024-00-10,1.1,0.2", Reason::bad_date},
                                 {"2024-10-00,1.1,0.2", Reason::bad_date},
                                 {"2024-10,1.1,0.2", Reason::bad_date},
                                 {"yesterday,1.1,0.2", Reason::bad_date},
                                 {"12345,1.1,0.2", Reason::bad_date},
                                 {"9 Foo 2024,1.1,0.2", Reason::bad_date},
                                 {"2024-10-10-10,1.1,0.2", Reason::bad_date},
                                 {"9/3-2024,1.1,0.2", Reason::bad_date},
                                 {"99/99/2024,1.1,0.2", Reason::bad_date},
                                 {"2024_03_09,1.1,0.2", Reason::bad_date},
                                 {"9/3/24,1.1,0.2", Reason::two_digit_year},
                                 {"09.03.24,1.1,0.2", Reason::two_digit_year},
                                 {"9 Mar 24,1.1,0.2", Reason::two_digit_year},
                                 {"1924-03-09,1.1,0.2", Reason::date_out_of_range},
                                 {"2924-03-09,1.1,0.2", Reason::date_out_of_range},
                                 {"0000-03-09,1.1,0.2", Reason::date_out_of_range},
                                 {",1.1,0.2", Reason::no_date},
                                 {"\"\",1.1,0.2", Reason::no_date},
                                 {"2024-03-09,1.1.1,0.2", Reason::bad_number},
                                 {"2024-03-09,\"1,1,1\",0.2", Reason::bad_number},
                                 {"2024-03-09,\"1.100,5\",0.2", Reason::bad_number},
                                 {"2024-03-09,abc,0.2", Reason::bad_number},
                                 {"2024-03-09,1.1x2,0.2", Reason::bad_number},
                                 {"2024-03-09,1..1,0.2", Reason::bad_number},
                                 {"2024-03-09,.,0.2", Reason::bad_number},
                                 {"2024-03-09,<,0.2", Reason::bad_number},
                                 {"2024-03-09,>1.8,0.2", Reason::bad_number},
                                 {"2024-03-09,1.1 mmol/L,0.2", Reason::bad_unit},
                                 {"2024-03-09,1.1e300e,0.2", Reason::bad_number},
                                 {"2024-03-09,nan,0.2", Reason::bad_number},
                                 {"2024-03-09,inf,0.2", Reason::bad_number},
                                 {"2024-03-09,0x10,0.2", Reason::bad_number},
                                 {"2024-03-09,1 1,0.2", Reason::bad_number},
                                 {"2024-03-09,1.1,0.2,much", Reason::bad_number},
                                 {"2024-03-09,-1.1,0.2", Reason::negative},
                                 {"2024-03-09,1.1,-0.2", Reason::negative},
                                 {"2024-03-09,0,0.2", Reason::zero},
                                 {"2024-03-09,1.1,<0", Reason::zero},
                                 {"2024-03-09,30000,0.2", Reason::impossible_c3, true},
                                 {"2024-03-09,6.01,0.2", Reason::impossible_c3, true},
                                 {"2024-03-09,1.1,4", Reason::impossible_c4, true},
                                 {"2024-03-09,1.1,2.01", Reason::impossible_c4, true},
                                 {"2024-03-09,1.1,0.2,4,no,90-180", Reason::odd_range},
                                 {"2024-03-09,99999999999999999999,0.2", Reason::impossible_other},
                                 {"2024-03-09,1.1,0.2,3000000", Reason::impossible_other},
                                 {"2024-03-09,1.1,0.2,4,maybe", Reason::bad_flare},
                                 {"2024-03-09,1.1,0.2,4,2", Reason::bad_flare},
                                 {"2024-03-09,1.1,0.2,4,no,0.9", Reason::bad_range},
                                 {"2024-03-09,1.1,0.2,4,no,1.8-0.9", Reason::bad_range},
                                 {"2024-03-09,1.1,0.2,4,no,0.9-", Reason::bad_range},
                                 {"2024-03-09,1.1,0.2,4,no,low-high", Reason::bad_range},
                                 {"2024-03-09,1.1,0.2,4,no,0.9-1.8,more", Reason::too_many_cells},
                                 {"2024-03-09,,", Reason::no_result},
                                 {"2024-03-09,,,,yes", Reason::no_result},
                                 {"2024-01-01,1.2,0.25", Reason::same_as_line},
                                 {"2024-03-09,\"1.1,0.2", Reason::open_quote},
                                 {"\"2024-03-09,1.1,0.2", Reason::open_quote}};
  for (const Wrong& wrong : lines) {
    labs::ReadOptions options;
    if (wrong.kept) options.slips = labs::SlipAnswer::keep;
    const labs::Reading r =
        labs::read(std::string("date,C3,C4,CRP,flare,C3 range\n2024-01-01,1.2,0.25\n") + wrong.line + "\n", options);
    REQUIRE_MESSAGE(r.rejected.size() == 1, std::string(wrong.line));
    // The good line, and what is left of the other where only a cell was wrong.
    CHECK_MESSAGE(r.rows.size() == (r.rejected[0].whole ? 1 : 2), std::string(wrong.line));
    CHECK_MESSAGE(r.rejected[0].line == 3, std::string(wrong.line));
    CHECK_MESSAGE(labs::reason_names.at(static_cast<std::size_t>(r.rejected[0].reason)) ==
                      labs::reason_names.at(static_cast<std::size_t>(wrong.reason)),
                  std::string(wrong.line));
  }
  // Whole texts that are none.
  CHECK(said("").find("results:1: there is nothing in it") == 0);
  CHECK(said("\n \n").find("results:1: there is nothing in it") == 0);
  CHECK(said("hello\nworld\n").find("results:1: neither names of columns") == 0);
  CHECK(said("\nC3,C4\n1.1,0.2\n").find("results:2: no column is the date") == 0);
  CHECK(said("date,CRP\n2024-01-01,4\n").find("results:1: no column is C3 or C4") == 0);
  CHECK(said("date,C3,C3\n2024-01-01,1,1\n").find("results:1: the column 'C3' is there twice") == 0);
  CHECK(said(std::string("date,C3\n2024-01-01,1\n\0", 22)).find("results:3: this is not text") == 0);
  CHECK(lines.size() + 7 >= 60);
}

TEST_CASE("of a hundred thousand rows each is taken or refused with its line") {
  std::string text = "date,C3,C4\n";
  for (int i = 0; i < 100000; ++i) {
    text += labs::iso_date(i / 4) + ",1." + std::to_string(100 + i % 4) + ",0.2" + std::to_string(i % 10) + "\n";
  }
  const labs::Reading r = labs::read(text);
  CHECK(r.rows.size() + r.rejected.size() == 100000);
  CHECK(r.rows.size() > 60000);
}

TEST_CASE("days and dates are each other's inverse over the years taken, leap days included") {
  for (int day = -7305; day < 47846; ++day) {  // 1950-01-01 to 2100-12-30
    const labs::DateCell cell = labs::take_apart(labs::iso_date(day));
    REQUIRE(labs::read_date(cell, labs::DateOrder::day_first).days == day);
  }
}
