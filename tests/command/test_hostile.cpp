// The command line with stories and results that mean ill: nothing of them acts on the terminal, and nothing takes
// longer than its size allows, by count.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "command/labs.hpp"
#include "labs/cells.hpp"
#include "labs/judge.hpp"
#include "look/words.hpp"
#include "scenario/read.hpp"
#include "support/folder.hpp"
#include "support/hostile.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

std::string in_folder(const support::Folder& folder, const std::string& name, const std::string& text) {
  const std::string path = folder.path + "/" + name;
  std::ofstream(path, std::ios::binary) << text;
  return path;
}

// A story as TOML with escapes, so that the reader lets it in.
const char* const wicked_story =
    "title = \"\\u001b[2J wiped \\u202e \\u0000 =1+1,=2+2;@x\"\ndays = 12\n[message]\nplain = "
    "\"\\u001b]0;x\\u0007\\n=1\"\n"
    "[[event]]\nday = 1\nlever = \"infection\"\nvalue = 1\nlabel = \"\\u009b31m\"\n";

}  // namespace

TEST_CASE("no command sends a terminal what a story's or a result's words would have it do") {
  const support::Folder folder;
  std::filesystem::create_directories(folder.path + "/scenarios");
  std::filesystem::create_directory_symlink(support::source_folder() + "/assets", folder.path + "/assets");
  const std::string story = in_folder(folder, "scenarios/01-\x1b[31m.toml", wicked_story);
  const std::string broken =
      in_folder(folder, "scenarios/02-broken.toml", "title = \"x\"\n\"\\u001b[2J\" = 1\n\"a\\nb\" = 2\n");
  const std::string not_toml = in_folder(folder, "raw.toml", "title = \"\x1b[2J\"\n");
  const std::string results = in_folder(folder, "r\x1b[31m.csv",
                                        "date,C3,C4,treatment,\x1b[5m\n2024-01-01,1.1,0.2,\"\x1b[2J\nfake "
                                        "line\",\n2024-02-01,0.5,0.2,\x9b,\n\x1b[1m,1,1,,\n");
  const char* before = std::getenv("DRAWDOWN_DATA");
  const std::string kept = before == nullptr ? "" : before;
  ::setenv("DRAWDOWN_DATA", folder.path.c_str(), 1);
  const std::vector<std::vector<std::string>> runs{{"list"},
                                                   {"check", story},
                                                   {"check", broken},
                                                   {"check", not_toml},
                                                   {"course", story},
                                                   {"course", story, "--csv", "-"},
                                                   {"course", broken},
                                                   {"sbml", story},
                                                   {"sensitivity", story},
                                                   {"tracer", story},
                                                   {"labs", results},
                                                   {"labs", folder.path + "/no\x1b[2Jfile"},
                                                   {"check", "\x1b[2J"},
                                                   {"course", story, "--set", "\x1b[2J=1"},
                                                   {"\x1b[2J", "x"},
                                                   {"picture", story, "--view", "\x1b[2J"}};
  for (const auto& words : runs) {
    CAPTURE(words.front());
    const support::Printed p = support::printed_by(words);
    CHECK(support::unfit(p.out) == "");
    CHECK(support::unfit(p.err) == "");
    CHECK(p.out.size() + p.err.size() > 20);
  }
  const support::Printed list = support::printed_by({"list"});
  CHECK(list.out.find("\\x1b[2J wiped") != std::string::npos);     // shown, not dropped
  CHECK(std::count(list.out.begin(), list.out.end(), '\n') == 2);  // and no line of its own making
  const support::Printed labs = support::printed_by({"labs", results});
  CHECK(labs.out.find("\\x1b[2J↵fake line") != std::string::npos);
  // What the check looks for is there to be found.
  CHECK(support::unfit(scenario::read_file(story).title) != "");
  if (kept.empty()) {
    ::unsetenv("DRAWDOWN_DATA");
  } else {
    ::setenv("DRAWDOWN_DATA", kept.c_str(), 1);
  }
}

TEST_CASE("no cell of the course's CSV begins with a sign a spreadsheet would work out, whatever the title") {
  const support::Folder folder;
  const std::string story = in_folder(folder, "s.toml", wicked_story);
  const std::string csv = support::printed_by({"course", story, "--csv", "-"}).out;
  CHECK(csv.find("=1+1") != std::string::npos);  // the title is in it
  std::size_t cells = 0;
  for (std::size_t from = 0; from < csv.size();) {
    const std::size_t end = csv.find_first_of(",;\t\n", from);
    const std::string cell = csv.substr(from, end - from);
    from = end == std::string::npos ? csv.size() : end + 1;
    cells += 1;
    if (cell.empty()) continue;
    const bool number = cell.find_first_not_of("-.0123456789") == std::string::npos;
    if (!number && std::string("=+-@\r").find(cell.front()) != std::string::npos) FAIL(cell);
  }
  CHECK(cells > 300);
}

TEST_CASE("labs: lines with quotes that are never closed are searched at most twice") {
  std::string text = "date,C3,C4\n";
  for (int i = 0; i < 500; ++i) {
    text += "\"2020-01-01,1,0.2\n";
    for (int k = 0; k < 19; ++k) text += "seen on the ward,1,0.2,some more to look through\n";
  }
  std::size_t looked_at = 0;
  const auto lines = labs::lines_of(text, ',', std::string::npos, &looked_at);
  CHECK(lines.size() == 10001);
  CHECK(looked_at > text.size());
  CHECK(looked_at < 2 * text.size());
}

TEST_CASE("labs: very many lines, columns, cells or characters end in a reason or a count, not in a long wait") {
  const auto refused = [](const std::string& text) {
    try {
      (void)labs::read(text);
    } catch (const labs::ReadError& error) {
      return std::string(error.what());
    }
    return std::string();
  };
  CHECK(refused(std::string(300000, '\n')).find("results:200001: more than 200000 lines") == 0);
  CHECK(labs::lines_of(std::string(300000, '\n'), ',', 10).size() == 10);
  std::string columns = "date,C3";
  for (int i = 0; i < 100000; ++i) columns += ",x";
  CHECK(refused(columns + "\n2020-01-01,1\n").find("results:1: more than 300 columns") == 0);
  const labs::Reading cells = labs::read("date,C3\n2020-01-01,1\n2020-01-02,1" + std::string(100000, ',') + "9\n");
  CHECK(cells.rows.size() == 1);
  CHECK(cells.rejected.size() == 1);
  CHECK(labs::Splitter(',').cells(std::string(100000, ',')).size() == labs::most_cells + 1);
  CHECK(labs::read("date,C3\n2020-01-01,1\n" + std::string(100000, '1') + ",1\n").rejected.size() == 1);
}

TEST_CASE("labs: what is printed of 20 000 results with a change each grows with their number, the changes do not") {
  const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  const auto printed = [&](std::size_t rows) {
    std::string text = "date,C3,C4\n";
    for (std::size_t i = 0; i < rows; ++i) {
      text += labs::iso_date(static_cast<int>(4000 + i)) + (i % 2 == 0 ? ",0.50,0.10\n" : ",1.50,0.30\n");
    }
    const labs::Reading reading = labs::read(text);
    const labs::Judgement judged = labs::judge(reading.rows, {}, {});
    REQUIRE(judged.c3.changes.size() == rows - 1);
    return command::labs_text(reading, judged, {}, words);
  };
  const auto told = [](const std::string& text) {
    std::size_t n = 0;
    for (std::size_t at = text.find(": beyond -"); at != std::string::npos; at = text.find(": beyond -", at + 1))
      n += 1;
    return n;
  };
  const std::string few = printed(500);
  const std::string many = printed(20000);
  CHECK(told(few) == 2 * 499);
  CHECK(told(many) == 2 * 1000);
  CHECK(many.find("C3: 18999 earlier pairs of results are not listed here; 18999 of them differ by more than one "
                  "pair's noise.") != std::string::npos);
  CHECK(few.find("earlier pairs") == std::string::npos);
  CHECK(many.size() < 20000 * 60 + 2 * few.size() + 2000 * 200);
}

TEST_CASE("check: of a story with fifty long faults each is told in a bounded number of characters") {
  std::string text = "title = \"x\"\n";
  for (int i = 0; i < 50; ++i) text += "k" + std::to_string(i) + std::string(4000, 'y') + " = 1\n";
  try {
    (void)scenario::read_text(text, "s.toml");
    FAIL("read");
  } catch (const scenario::ReadError& error) {
    CHECK(error.problems().size() == 50);
    CHECK(std::string(error.what()).size() < 50 * 400);
    CHECK(std::string(error.what()).find("…(+") != std::string::npos);
  }
}

TEST_CASE("the largest story, driven from end to end by 400 events, is solved in a bounded number of steps") {
  const scenario::Scenario story = support::largest_story();
  const auto run = simulate(body::make_body(story.patient), story);
  CHECK(run->complete());
  MESSAGE(run->course().step_count(), " steps, ", run->outcome().statistics.rejected, " rejected");
  CHECK(run->course().step_count() > 4000);
  CHECK(run->course().step_count() < 40000);
}
