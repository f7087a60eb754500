// drawdown labs: what it prints, its exit codes, the sheet it writes.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>

#include "command/command.hpp"
#include "disk/disk.hpp"
#include "support/command_line.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using support::Answer;
using support::drawdown_with;

namespace {

std::string file_with(const std::string& name, const std::string& text) {
  const std::string path = (std::filesystem::temp_directory_path() / name).string();
  std::ofstream(path) << text;
  return path;
}

bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace

namespace {
const std::string steady =
    "date,C3,C4\n2023-01-01,1.10,0.2\n2023-03-01,1.06,0.21\n2023-06-01,1.13,0.19\n2023-09-01,1.08,0.2\n2023-11-01,1.11,"
    "0.2\n";
}  // namespace

TEST_CASE(
    "labs: exit code 1 when a level changed beyond noise, 0 when none did, 2 when it cannot be read or must be asked") {
  const Answer falls = drawdown_with({"labs", file_with("drawdown-falls.csv", steady + "2024-03-01,0.70,0.2\n")});
  CHECK(falls.code == 1);
  CHECK(has(falls.out, "C3 fell more than noise at the last visit, in March 2024. The last result is below"));
  CHECK(has(falls.out, "C4: no more than noise."));
  CHECK(has(falls.out, "C3 went from 1.11 to 0.70 (-37 %) between 2023-11-01 and 2024-03-01: beyond -15 to +18 %"));
  CHECK(has(falls.out, "so a pair is not counted alone"));
  CHECK(has(falls.out, "not for diagnosis"));
  CHECK_MESSAGE(falls.out.find("fell more than noise") < falls.out.find("Your usual C3"), "the verdict stands first");
  CHECK(drawdown_with({"labs", file_with("drawdown-holds.csv", steady + "2024-03-01,1.00,0.2\n")}).code == 0);
  // A single pair that differs by more than most pairs is a figure; with two results nobody knows what is usual.
  const Answer pair =
      drawdown_with({"labs", file_with("drawdown-pair.csv", "date,C3,C4\n2024-01-01,1.20,0.2\n2024-03-01,0.98,0.2\n")});
  CHECK(pair.code == 0);
  CHECK(has(pair.out, "C3: too few results to know your usual."));
  CHECK(has(pair.out, "beyond -15 to +18 %"));
  const Answer open = drawdown_with({"labs", file_with("drawdown-open.csv", "date,C3\n1/2/2024,1.10\n3/4/2024,1.0\n")});
  CHECK(open.code == 2);
  CHECK(has(open.err, "--dates day"));
  const std::string path = file_with("drawdown-open.csv", "date,C3\n1/2/2024,1.10\n3/4/2024,1.0\n");
  CHECK(drawdown_with({"labs", path, "--dates", "month"}).code == 0);
  CHECK(has(drawdown_with({"labs", path, "--dates", "month"}).out, "2024-01-02"));
  const Answer none = drawdown_with({"labs", file_with("drawdown-none.csv", "hello\n")});
  CHECK(none.code == 2);
  CHECK(has(none.err, "drawdown-none.csv:1: neither names of columns"));
  CHECK(drawdown_with({"labs", "/nowhere.csv"}).code == 2);
  CHECK(drawdown_with({"labs", file_with("drawdown-names.csv", "date,C3,C4\n")}).code == 2);
}

TEST_CASE("labs: falls only and the laboratory's own variation change the verdict") {
  const std::string path = file_with("drawdown-near.csv", steady + "2024-03-01,0.95,0.2\n");
  CHECK(drawdown_with({"labs", path}).code == 0);
  CHECK(drawdown_with({"labs", path, "--cv-c3", "1.5", "3.0"}).code == 1);
  CHECK(drawdown_with({"labs", path, "--cv-c3", "900", "3.0"}).code == 2);
  const std::string rose = file_with("drawdown-rose.csv", steady + "2024-03-01,1.60,0.2\n");
  CHECK(drawdown_with({"labs", rose}).code == 1);
  CHECK(drawdown_with({"labs", rose, "--one-sided"}).code == 0);
  const std::string between = file_with("drawdown-between.csv", steady + "2024-03-01,0.93,0.2\n");
  CHECK(drawdown_with({"labs", between, "--newer-variation"}).code >= drawdown_with({"labs", between}).code);
  CHECK(has(drawdown_with({"labs", between, "--newer-variation"}).out, "C3 CV 3 % + 4.5 %; C4 CV 4 % + 6.5 %"));
}

TEST_CASE("labs writes the sheet as PDF and HTML, in Spanish too, and refuses another ending") {
  const std::string example = support::source_folder() + "/assets/example-results.csv";
  for (const char* ending : {".pdf", ".html"}) {
    const std::string out =
        (std::filesystem::temp_directory_path() / (std::string("drawdown-sheet") + ending)).string();
    const Answer a = drawdown_with({"labs", example, "--sheet", out, "--language", "es"});
    CHECK(a.code == 1);
    CHECK(disk::read_whole_file(out, 10000000).size() > 5000);
    std::filesystem::remove(out);
  }
  CHECK(drawdown_with({"labs", example, "--sheet", "/tmp/drawdown-sheet.doc"}).code == 2);
}

TEST_CASE("labs names every line it did not read, and the fit says what it found and what it assumed") {
  const Answer a = drawdown_with({"labs", support::source_folder() + "/assets/example-results.csv", "--fit"});
  CHECK(has(a.out, "If complexes and the liver alone made these values"));
  CHECK_FALSE(has(a.out, "use by complexes"));
  CHECK(has(a.out, "Assumed before the values"));
  CHECK(has(a.out, "not a forecast for a person"));
  const Answer bad =
      drawdown_with({"labs", file_with("drawdown-bad.csv", "date,C3\n2024-01-01,1.1\n2024-02-31,1.0\n2024-03-01,x\n")});
  CHECK(has(bad.out, "line 3: '2024-02-31' is not a day"));
  CHECK(has(bad.out, "line 4: 'x' is not a number"));
}

TEST_CASE("labs: what could not be read never ends in comfort: exit 1, said before the pattern, which names its day") {
  const std::string good = "date,C3,C4\n2024-01-01,1.10,0.21\n2024-02-01,1.08,0.20\n";
  CHECK(drawdown_with({"labs", file_with("drawdown-good.csv", good)}).code == 0);
  for (const char* newest :
       {"2024-03-01,nan,0.2", "2024-03-01,1.1.0,0.2", "2024-03-01,0.4?,0.2", "2024-13-01,0.4,0.02"}) {
    const Answer a = drawdown_with({"labs", file_with("drawdown-newest.csv", good + newest + "\n")});
    CHECK_MESSAGE(a.code == 1, newest);
    const std::size_t unread = a.out.find("Lines or values that were not read: 1");
    const std::size_t pattern = a.out.find("2024-02-01: neither C3 nor C4 is below the range");
    REQUIRE_MESSAGE(unread != std::string::npos, a.out);
    REQUIRE_MESSAGE(pattern != std::string::npos, a.out);
    CHECK(unread < pattern);
  }
  // Nor what waits for an answer.
  const Answer asked = drawdown_with({"labs", file_with("drawdown-asked.csv", good + "2024-03-01,11.0,0.2\n")});
  CHECK(asked.code == 1);
  CHECK(asked.out.find("Values left out until you answer about their unit: 1") <
        asked.out.find("2024-02-01: neither C3 nor C4 is below the range"));
  // The newest sample of C4 alone is told beside the older pair.
  const Answer alone = drawdown_with({"labs", file_with("drawdown-alone.csv", good + "2024-03-01,,\u22640.02\n")});
  CHECK(has(alone.out, "2024-03-01: only C4 was read, \u22640.02 (below range)"));
  // A limit inside the range is no comfort either.
  const Answer vague = drawdown_with({"labs", file_with("drawdown-vague.csv", good + "2024-03-01,<1.20,0.2\n")});
  CHECK(has(vague.out, "<1.20   not known"));
  CHECK(has(vague.out, "2024-03-01: C3 not known, C4 in range. So the pattern of the pair is not known"));
  CHECK_FALSE(has(vague.out, "neither"));
}

TEST_CASE("labs: figures stand as they were reported, and two that differ are seen to differ") {
  const Answer a = drawdown_with({"labs", file_with("drawdown-digits.csv",
                                                    "date,C3 (mg/dL),C4 (g/L)\n2024-01-01,110.5,0.012\n"
                                                    "2024-03-01,9.4,0.0145\n")});
  CHECK(has(a.out, "110.5"));
  CHECK(has(a.out, "9.4"));
  CHECK(has(a.out, "1.2"));
  const Answer grams = drawdown_with({"labs", file_with("drawdown-digits2.csv",
                                                        "date,C3 (g/L),C4 (g/L)\n2024-01-01,1.105,0.012\n"
                                                        "2024-03-01,1.1,0.0145\n")});
  CHECK(has(grams.out, "1.105"));
  CHECK(has(grams.out, "C4 went from 0.012 to 0.0145 (+21 %)"));
}
