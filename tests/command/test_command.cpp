// The command line without a screen: what it prints, its exit codes, and that nothing wrong overwrites a file.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>

#include "command/command.hpp"
#include "command/files.hpp"
#include "command/tables.hpp"
#include "command/truth.hpp"
#include "disk/disk.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

struct Answer : support::Answer {
  int pictures = 0;
  int windows = 0;
  stage::AppState shown;
};

Answer drawdown_with(std::vector<std::string> words) {
  Answer answer;
  command::Screen screen;
  screen.window = [&](stage::AppState state, const std::string&, int, int, double) {
    answer.windows += 1;
    answer.shown = std::move(state);
    return 0;
  };
  screen.picture = [&](stage::AppState state, unsigned, unsigned, const std::string&) {
    answer.pictures += 1;
    answer.shown = std::move(state);
  };
  static_cast<support::Answer&>(answer) = support::drawdown_with(std::move(words), screen);
  return answer;
}

std::string temporary(const std::string& name) {
  return (std::filesystem::temp_directory_path() / name).string();
}

void put(const std::string& path, const std::string& text) {
  std::ofstream(path) << text;
}

}  // namespace

TEST_CASE(
    "words and stories are found beside an installed program, then above it, else it is said where they were sought") {
  namespace fs = std::filesystem;
  const support::Folder folder;
  const auto lay_out = [](const fs::path& at) {
    fs::create_directories(at / "assets");
    fs::create_directories(at / "scenarios");
    put((at / "assets" / "en.toml").string(), "");
  };
  const fs::path home = folder.path;
  const std::string program = (home / "usr" / "bin" / "drawdown").string();
  CHECK_THROWS_WITH_AS((void)command::data_folder_of(program), doctest::Contains("set DRAWDOWN_DATA"),
                       std::runtime_error);
  lay_out(home);
  CHECK(command::data_folder_of(program) == folder.path);
  lay_out(home / "usr" / "share" / "drawdown");
  CHECK(command::data_folder_of(program) == (home / "usr" / "share" / "drawdown").string());
  // A build's links lead to the source.
  fs::create_directories(home / "build" / "ui");
  fs::create_directory_symlink(home / "assets", home / "build" / "assets");
  fs::create_directory_symlink(home / "scenarios", home / "build" / "scenarios");
  CHECK(command::data_folder_of((home / "build" / "ui" / "drawdown").string()) == folder.path);
}

TEST_CASE("sensitivity tells each step from and to, what was left out, and writes no negative nought") {
  const Answer a = drawdown_with({"sensitivity", "cryoglobulins", "--day", "20"});
  CHECK(a.code == 0);
  CHECK(a.out.find("nephritic_factor            1.00    4.00") != std::string::npos);
  CHECK(a.out.find("levers move both by less than 0.5 % here and are left out") != std::string::npos);
  CHECK(a.out.find("exchange_plasma") == std::string::npos);
  CHECK(a.out.find("       0.0") != std::string::npos);
  CHECK(a.out.find("-0.0\n") == std::string::npos);
  CHECK(a.out.find("-0.0 ") == std::string::npos);
}

TEST_CASE("list names every shipped story") {
  const Answer a = drawdown_with({"list"});
  CHECK(a.code == 0);
  CHECK(a.out.find("02-kidney-flare\tA kidney flare and its treatment") != std::string::npos);
  for (const std::string& path : support::shipped_stories()) {
    const std::string name = std::filesystem::path(path).stem().string();
    CHECK_MESSAGE(a.out.find(name + "\t" + scenario::read_file(path).title) != std::string::npos, name);
  }
}

TEST_CASE("check says in order or lists every fault with its place, exit 1") {
  CHECK(drawdown_with({"check", "kidney-flare"}).code == 0);
  const std::string path = temporary("drawdown-bad.toml");
  put(path, "title = \"x\"\ndys = 3\n[levers]\nfixation = 9\n");
  const Answer a = drawdown_with({"check", path});
  CHECK(a.code == 1);
  CHECK(a.out.find(path + ":2:1: unknown key 'dys'") != std::string::npos);
  CHECK(a.out.find(path + ":4:") != std::string::npos);
  std::filesystem::remove(path);
}

TEST_CASE("course writes CSV whose header names units and the program's version") {
  const std::string path = temporary("drawdown-course.csv");
  const Answer a = drawdown_with({"course", "kidney-flare", "--csv", path});
  CHECK(a.code == 0);
  const std::string csv = support::content_of(path);
  CHECK(csv.find("# drawdown 0.") == 0);
  CHECK(csv.find("not for diagnosis") != std::string::npos);
  CHECK(csv.find("C3 [g/L],C4 [g/L],C3 [mg/dL]") != std::string::npos);
  CHECK(csv.find("C3 made [g/day]") != std::string::npos);
  std::size_t lines = 0;
  std::size_t commas = 0;
  std::istringstream in(csv);
  std::string line;
  while (std::getline(in, line)) {
    if (line[0] == '#') continue;
    const auto n = static_cast<std::size_t>(std::count(line.begin(), line.end(), ','));
    if (lines == 0) commas = n;
    CHECK(n == commas);
    lines += 1;
  }
  CHECK(lines == 367);
  std::filesystem::remove(path);
}

TEST_CASE("a wrong story, option or value is misuse (exit 2) with the reason, and no file is touched") {
  const std::string path = temporary("drawdown-keep.csv");
  put(path, "precious");
  const std::string bad = temporary("drawdown-bad2.toml");
  put(bad, "title = 5\n");
  for (const auto& words :
       std::vector<std::vector<std::string>>{{"course", "/nowhere.toml", "--csv", path},
                                             {"course", bad, "--csv", path},
                                             {"course", "kidney-flare", "--set", "hepatic_outptu=1", "--csv", path},
                                             {"course", "kidney-flare", "--set", "hepatic_output=7", "--csv", path},
                                             {"course", "kidney-flare", "--set", "hepatic_output=abc", "--csv", path},
                                             {"course", "kidney-flare", "--nonsense"},
                                             {"picture", "kidney-flare", "--size", "1x1"},
                                             {"picture", "kidney-flare", "--size", "axb"},
                                             {"picture", "kidney-flare", "--view", "nothing"},
                                             {"picture", "kidney-flare", "--text", "900"},
                                             {"tracer", "steady-day", "--day", "58"},
                                             {"tracer", "steady-day", "--protein", "C9"}}) {
    const Answer a = drawdown_with(words);
    CHECK_MESSAGE(a.code == 2, words[0], " ", words.size() > 1 ? words[1] : "");
    CHECK_FALSE((a.out + a.err).empty());
    CHECK(a.pictures == 0);
  }
  CHECK(drawdown_with({"course", "kidney-flare", "--set", "hepatic_outptu=1"})
            .err.find("did you mean 'hepatic_output'?") != std::string::npos);
  CHECK(support::content_of(path) == "precious");
  std::filesystem::remove(path);
  std::filesystem::remove(bad);
}

TEST_CASE("a day or a talk's step that the story does not have is misuse, never taken for another") {
  for (const auto& words : std::vector<std::vector<std::string>>{{"picture", "kidney-flare", "--day", "3000"},
                                                                 {"course", "kidney-flare", "--day", "3000"},
                                                                 {"sensitivity", "steady-day", "--day", "3000"},
                                                                 {"picture", "kidney-flare", "--talk", "20"}}) {
    const Answer a = drawdown_with(words);
    CHECK_MESSAGE(a.code == 2, words[0], " ", words[2]);
    CHECK(a.pictures == 0);
  }
  CHECK(drawdown_with({"picture", "kidney-flare", "--day", "3000"}).err.find("0 to 365") != std::string::npos);
  CHECK(drawdown_with({"picture", "kidney-flare", "--talk", "20"}).err.find("steps") != std::string::npos);
}

TEST_CASE("--set takes a decimal number once a lever, and says what it takes where there is none") {
  const auto code = [](std::vector<std::string> sets) {
    std::vector<std::string> words{"course", "steady-day"};
    for (std::string& set : sets) {
      words.emplace_back("--set");
      words.push_back(std::move(set));
    }
    return drawdown_with(words);
  };
  CHECK(code({"hepatic_output=0.5"}).code == 0);
  CHECK(code({"hepatic_output=0x1"}).code == 2);
  CHECK(code({"hepatic_output= 1"}).code == 2);
  CHECK(code({"hepatic_output=0.5", "hepatic_output=0.6"}).code == 2);
  const Answer none = code({"hepatic_output"});
  CHECK(none.code == 2);
  CHECK(none.err.find("did you mean") == std::string::npos);
  CHECK(none.err.find("'hepatic_output=' takes a number from") != std::string::npos);
}

TEST_CASE("a file that is not there is misuse (exit 2) for every command") {
  for (const char* command : {"check", "course", "picture", "tracer", "sensitivity", "sbml", "labs"}) {
    const Answer a = drawdown_with({command, "/nowhere.csv"});
    CHECK_MESSAGE(a.code == 2, command);
    CHECK((a.out + a.err).find("/nowhere.csv") != std::string::npos);
  }
  CHECK(drawdown_with({"picture", "kidney-flare", "--view", "own", "--results", "/nowhere.csv"}).code == 2);
}

TEST_CASE("course tells the blood apart from the sample, what comes back from tissue and what exchange took") {
  // The sample that stood: C3 is what the analyser reads, the blood has more or less of it.
  const Answer stood = drawdown_with({"course", "the-sample-in-the-fridge"});
  CHECK(stood.code == 0);
  CHECK(stood.out.find("in the sample") != std::string::npos);
  CHECK(stood.out.find("in the blood") != std::string::npos);
  const auto run = simulate(scenario::read_file(support::source_folder() + "/scenarios/16-plasma-exchange.toml"));
  const std::string csv = command::course_csv(*run);
  std::istringstream in(csv);
  std::string line;
  std::vector<std::string> heads;
  double taken = 0.0;
  std::size_t column = 0;
  while (std::getline(in, line)) {
    if (line[0] == '#') continue;
    std::vector<std::string> cells;
    std::istringstream of(line);
    for (std::string cell; std::getline(of, cell, ',');) cells.push_back(cell);
    if (heads.empty()) {
      heads = cells;
      column = static_cast<std::size_t>(
          std::find(heads.begin(), heads.end(), "C3 by plasma exchange since the day before [g]") - heads.begin());
      REQUIRE(column < heads.size());
      continue;
    }
    const double grams = std::stod(cells.at(column));
    taken += grams;
    if (grams != 0.0) CHECK(static_cast<int>(std::stod(cells[0])) % 2 == 1);  // the day after: sessions on 40, 42 ...
  }
  // By the midpoint rule over each session.
  double expected = 0.0;
  for (const scenario::Event& event : run->story().events) {
    if (event.for_hours <= 0) continue;
    const int parts = 400;
    const double h = event.for_hours / 24.0 / parts;
    for (int i = 0; i < parts; ++i) expected += h * run->flows(event.day + (i + 0.5) * h).c3.exchanged;
  }
  CHECK(expected > 1.0);
  CHECK(taken == support::near(expected, 1e-3));
}

TEST_CASE("a file that cannot be written is could-not (exit 3) with the path") {
  const Answer a = drawdown_with({"course", "kidney-flare", "--csv", "/nowhere/out.csv"});
  CHECK(a.code == 3);
  CHECK(a.err.find("/nowhere/out.csv") != std::string::npos);
}

TEST_CASE("picture draws the view, day, depth and what-if asked for") {
  const Answer a = drawdown_with({"picture", "kidney-flare", "--view", "compare", "--day", "90", "--depth", "clinic",
                                  "--text", "160", "--room", "dark", "--set", "hepatic_output=0.5", "-o", "x.png"});
  CHECK(a.code == 0);
  CHECK(a.pictures == 1);
  CHECK(a.shown.page.view == stage::View::compare);
  CHECK(a.shown.time.day == 90.0);
  CHECK(a.shown.page.depth == look::Depth::clinic);
  CHECK(a.shown.look.text_percent == 160);
  CHECK(a.shown.look.room == look::Room::dark);
  REQUIRE(a.shown.runs.kept.size() == 1);
  CHECK(a.shown.runs.now->c3(90) < a.shown.runs.kept[0].run->c3(90));
}

TEST_CASE("a picture of an inherited what-if compares with that person's own usual level, as the window does") {
  const Answer a = drawdown_with({"picture", "steady-day", "--set", "c4_gene_copies=2", "-o", "x.png"});
  REQUIRE(a.shown.runs.kept.size() == 1);
  CHECK(a.shown.runs.now->usual_c4() < 0.6 * a.shown.runs.kept[0].run->usual_c4());
}

namespace {
void check_slides(const std::vector<std::string>& views) {
  const std::string path = temporary("drawdown-slide.svg");
  for (const std::string& view : views) {
    const Answer a = drawdown_with({"picture", "kidney-flare", "--view", view, "--day", "90", "-o", path});
    CHECK(a.code == 0);
    CHECK(a.pictures == 0);
    const std::string svg = support::content_of(path);
    CHECK(svg.find("<svg xmlns=") != std::string::npos);
    CHECK(svg.find(">A kidney flare and its treatment</text>") != std::string::npos);
    CHECK(svg.find("not for diagnosis or treatment decisions") != std::string::npos);
    CHECK(svg.rfind("</svg>\n") == svg.size() - 7);
    const auto count = [&](const std::string& what) {
      std::size_t n = 0;
      for (std::size_t at = svg.find(what); at != std::string::npos; at = svg.find(what, at + 1)) n += 1;
      return n;
    };
    CHECK(count("<g ") == count("</g>"));
    CHECK(count("<text ") > 30);
    // No number that is none; a name may have the letters in it.
    const auto letter = [&](std::size_t at) { return std::isalpha(static_cast<unsigned char>(svg.at(at))) != 0; };
    for (std::size_t at = svg.find("nan"); at != std::string::npos; at = svg.find("nan", at + 1)) {
      CHECK((letter(at - 1) || letter(at + 3)));
    }
  }
  std::filesystem::remove(path);
}
}  // namespace

TEST_CASE("a picture whose name ends in .svg is a slide with real text, written without a display") {
  check_slides({"balance", "course", "cascade", "tissues", "lab"});
}

TEST_CASE("the ledger of truth is a slide with real text too") {
  check_slides({"truth"});
}

TEST_CASE("the window opens on a wrong file with the opening story and says what is wrong") {
  const Answer a = drawdown_with({"/nowhere/story.toml"});
  CHECK(a.windows == 1);
  CHECK(a.shown.problem.find("/nowhere/story.toml") != std::string::npos);
  REQUIRE(a.shown.runs.now != nullptr);
  CHECK(a.shown.runs.now->story().title == "A kidney flare and its treatment");
}

TEST_CASE("tracer and equations print what they should") {
  const Answer tracer = drawdown_with({"tracer", "steady-day", "--protein", "C3", "--day", "5"});
  CHECK(tracer.code == 0);
  CHECK(tracer.out.find("fractional catabolic rate") != std::string::npos);
  const Answer equations = drawdown_with({"equations"});
  CHECK(equations.code == 0);
  CHECK(equations.out.find("## Constants") != std::string::npos);
  CHECK(equations.out.find("Petz 1969") != std::string::npos);
}

TEST_CASE("the ledger of truth is printed, whole, by what each figure is worth and with what is not met") {
  const Answer truth = drawdown_with({"truth"});
  CHECK(truth.code == 0);  // what is not met is told with its figure
  CHECK(truth.out.find("Known limit P9b: in shock") != std::string::npos);
  CHECK(truth.out.find("independent figures inside;") != std::string::npos);
  CHECK(truth.out.find("| K1a | wiring: C3.fcr") != std::string::npos);
  CHECK(truth.out.find("## Where papers disagree") != std::string::npos);
  CHECK(truth.out.find("## What the model does not do") != std::string::npos);
  CHECK(truth.out.find("Not judged yet") == std::string::npos);
}

TEST_CASE("the ledger of truth as CSV has a row a figure and twelve cells a row") {
  study::TruthEntry e{"X1", "a \"quoted\", thing", "1, 2", 0.0, 1.0, "%", "somebody 1970", 0.5, ""};
  e.kind = study::TruthKind::calibrated;
  e.constant = "C3.fcr";
  e.breaks = "C3.fcr x 2, C4.fcr x 2";
  const std::string text = command::truth_csv({e});
  CHECK(text ==
        "id,kind,constant,situation,published,low,high,model,unit,inside,source,breaks\n"
        "X1,calibrated,C3.fcr,\"a \"\"quoted\"\", thing\",\"1, 2\",0,1,0.5,%,yes,somebody 1970,\"C3.fcr x 2, C4.fcr x "
        "2\"\n");
  CHECK(command::truth_exit({e}) == 0);
  e.model = 2.0;
  CHECK(command::truth_exit({e}) == 1);
  CHECK(command::truth_text({e}).find("NOT TOLD among the limits") != std::string::npos);
}

TEST_CASE("help and version end with exit 0") {
  CHECK(drawdown_with({"--help"}).code == 0);
  CHECK(drawdown_with({"--version"}).code == 0);
}

TEST_CASE("a file is replaced whole or not at all") {
  const support::Folder folder;
  const std::string path = folder.path + "/atomic.txt";
  disk::write_file(path, "one");
  disk::write_file(path, "two");
  CHECK(support::content_of(path) == "two");
  CHECK_THROWS_AS(disk::write_file("/nowhere/at/all.txt", "x"), std::runtime_error);
  const auto files = std::filesystem::directory_iterator(folder.path);
  CHECK(std::distance(begin(files), end(files)) == 1);
}
