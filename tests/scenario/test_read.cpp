// Stories from text: right ones come back as they were, wrong ones are refused with every fault and its place.
#include <doctest/doctest.h>

#include <filesystem>

#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using scenario::read_text;
using scenario::ReadError;

namespace {

std::vector<scenario::Problem> problems_of(const std::string& text) {
  try {
    (void)read_text(text, "test.toml");
  } catch (const ReadError& error) {
    return error.problems();
  }
  return {};
}

bool says(const std::vector<scenario::Problem>& problems, std::size_t line, const std::string& what) {
  for (const auto& p : problems) {
    if ((line == 0 || p.line == line) && p.message.find(what) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("every shipped story is in order, and its course, levers and talk survive writing and reading") {
  REQUIRE(support::shipped_stories().size() == 19);
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const auto again = read_text(scenario::write_text(story), path);
    CHECK(again.title == story.title);
    CHECK(again.talk.size() == story.talk.size());
    CHECK(scenario::write_text(again) == scenario::write_text(story));
    CHECK(again.days == story.days);
    CHECK(again.levers == story.levers);
    CHECK(again.beside == story.beside);
    REQUIRE(again.events.size() == story.events.size());
    for (std::size_t i = 0; i < story.events.size(); ++i) {
      CHECK(again.events[i].day == story.events[i].day);
      CHECK(again.events[i].lever == story.events[i].lever);
      CHECK(again.events[i].value == story.events[i].value);
      CHECK(again.events[i].ramp_days == story.events[i].ramp_days);
      CHECK(again.events[i].label == story.events[i].label);
    }
    for (std::size_t i = 0; i < story.patient.usual.size(); ++i) {
      CHECK(again.patient.usual[i] == support::near(story.patient.usual[i], 1e-15));
    }
    CHECK(again.message.plain == story.message.plain);
    CHECK_FALSE(story.message.plain.empty());
    CHECK_FALSE(story.message.clinic.empty());
    CHECK_FALSE(story.message.mechanism.empty());
    CHECK_FALSE(story.learn.empty());
    CHECK_FALSE(story.sources.empty());
  }
}

TEST_CASE("all problems come at once, each with line, column, what is allowed and a near match") {
  const auto found = problems_of(
      "title = \"x\"\n"
      "dys = 3\n"
      "[levers]\n"
      "hepatic_outptu = 1\n"
      "fixation = 7\n"
      "[[event]]\n"
      "day = -2\n"
      "lever = \"block_c55\"\n"
      "value = 1\n"
      "[laboratory]\n"
      "unit = \"g/dL\"\n"
      "c3_g_per_l = [1.8, 0.9]\n");
  CHECK(found.size() == 7);
  CHECK(says(found, 2, "unknown key 'dys'; did you mean 'days'?"));
  CHECK(says(found, 4, "did you mean 'hepatic_output'?"));
  CHECK(says(found, 5, "'fixation' is 7; allowed: 0 to 2"));
  CHECK(says(found, 7, "'day' is -2; allowed: 0 to 365"));
  CHECK(says(found, 8, "did you mean 'block_c5'?"));
  CHECK(says(found, 11, "'unit' must be \"g/L\" or \"mg/dL\""));
  CHECK(says(found, 12, "lower limit must be below"));
  for (const auto& p : found) CHECK(p.column > 0);
}

TEST_CASE("broken TOML, wrong types and missing keys are refused with their place") {
  struct Case {
    const char* text;
    std::size_t line;
    const char* says;
  };
  for (const Case& c :
       {Case{"title = \"x", 1, ""}, Case{"days = 10\n", 1, "'title' is missing"},
        Case{"title = 3\n", 1, "must be a text"}, Case{"days = 5\ntitle = \" \"\n", 2, "'title' is empty"},
        Case{"title = \"x\"\ndays = \"long\"\n", 2, "must be a number"},
        Case{"title = \"x\"\ndays = nan\n", 2, "must be a number"},
        Case{"title = \"x\"\ndays = inf\n", 2, "must be a number"},
        Case{"title = \"x\"\ndays = 1e9\n", 2, "allowed: 1 to 3650"},
        Case{"title = \"x\"\nevent = 3\n", 2, "[[event]]"},
        Case{"title = \"x\"\n[[event]]\nlever = \"fixation\"\nvalue = 1\n", 2, "lacks 'day'"},
        Case{"title = \"x\"\n[[event]]\nday = 3\nvalue = 1\n", 2, "lacks 'lever'"},
        Case{"title = \"x\"\n[[event]]\nday = 3\nlever = \"fixation\"\n", 2, "lacks 'value'"},
        Case{"title = \"x\"\n[levers]\nc4_gene_copies = 2.5\n", 3, "counts whole copies"},
        Case{"title = \"x\"\nlearn = \"one\"\n", 2, "list"}, Case{"title = \"x\"\npatient = 5\n", 2, "must be a table"},
        Case{"title = \"x\"\n[patient]\nusual_c3_g_per_l = 120\n", 3, "allowed: 0.3 to 2.5"},
        Case{"title = \"x\"\ntitle = \"y\"\n", 2, ""}}) {
    const auto found = problems_of(c.text);
    CHECK_MESSAGE(says(found, c.line, c.says), c.text);
  }
}

TEST_CASE("hostile files are bounded: size, count of events, length of texts, depth of nesting") {
  CHECK(says(problems_of(std::string(scenario::largest_file + 1, '#')), 0, "larger than"));
  std::string many = "title = \"x\"\n";
  for (std::size_t i = 0; i <= scenario::most_events; ++i) many += "[[event]]\nday=1\nlever=\"fixation\"\nvalue=1\n";
  CHECK(says(problems_of(many), 0, "more than 400 [[event]]"));
  CHECK(says(problems_of("title = \"" + std::string(3000, 'x') + "\""), 1, "longer than 2000"));
  CHECK_FALSE(problems_of("title = \"x\"\nlearn = " + std::string(100000, '[')).empty());
  CHECK_FALSE(problems_of(std::string("title = \"x\0y\"", 13)).empty());
  CHECK_FALSE(problems_of("title = \"\xff\xfe\"").empty());
}

TEST_CASE("a file that is missing or a folder is refused by name") {
  CHECK_THROWS_WITH_AS((void)scenario::read_file("/nowhere/x.toml"),
                       "/nowhere/x.toml: no such file, or not a plain file", ReadError);
  CHECK_THROWS_AS((void)scenario::read_file("/tmp"), ReadError);
}

TEST_CASE("a story is named by its file, without folder and ending, as the file system has it") {
  for (const std::string path : {"02-kidney-flare.toml", "/a/b.c/steady.toml", "a/b.c/steady", "a.b.toml", ".toml",
                                 "./.hidden.toml", "..", ".", "a/..", "steady.", "a/", "", "two words.toml"}) {
    CHECK(read_text("title = \"t\"\n", path).name == std::filesystem::path(path).stem().string());
  }
}
