// Text from outside: nothing in it speaks to the terminal, hides, or breaks what is written; and however long it is, it
// costs a frame only so much.
#include <doctest/doctest.h>

#include <cstdio>
#include <random>

#include "disk/disk.hpp"
#include "draw/canvas.hpp"
#include "exchange/sbml.hpp"
#include "scenario/visible.hpp"
#include "sheet/sheet.hpp"
#include "stage/own_results.hpp"
#include "support/command_line.hpp"
#include "support/folder.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using scenario::visible;

namespace {

std::vector<std::string> nasty() {
  std::vector<std::string> all{std::string("\x1b[2J\x1b]0;title\x07"),
                               std::string("nul\0inside", 10),
                               "bell\x07",
                               "\x7f del",
                               "\xc2\x9b csi",
                               "\xe2\x80\xae turned round",
                               "\xe2\x81\xa6 isolate \xe2\x81\xa9",
                               "zero\xe2\x80\x8bwidth",
                               "\xef\xbb\xbf bom",
                               "\xff\xfe",
                               "\xc0\xaf overlong",
                               "\xed\xa0\x80 surrogate",
                               "\xef\xbf\xbe no character",
                               "\xf4\x90\x80\x80 too high",
                               "]]>",
                               "<script>alert(1)</script>",
                               "a & b < c > d \" e ' f",
                               "--> <!--",
                               "&#0;",
                               "&#x1b;",
                               "%s%n",
                               "=1+1",
                               "\\x1b",
                               "\xe2\x80\xa8 line separator",
                               "tab\tand\rreturn",
                               "\xc3",
                               "\xe2\x82",
                               "emoji \xf0\x9f\xa7\xaa",
                               "\xcc\x81 combining"};
  std::mt19937 random(4);
  std::uniform_int_distribution<int> byte(1, 255);
  for (int i = 0; i < 40; ++i) {
    std::string text;
    for (int k = 0; k < 30; ++k) text += static_cast<char>(byte(random));
    all.push_back(text);
  }
  return all;
}

int xmllint(const std::string& path, const char* options) {
  return std::system(("xmllint " + std::string(options) + " --noout '" + path + "' >/dev/null 2>&1").c_str());
}

scenario::Scenario story_titled(const std::string& title) {
  scenario::Scenario story = support::story_with({{"antibody_drive", 3}}, 20.0);
  story.title = title;
  story.message.plain = title;
  for (scenario::Event& event : story.events) event.label = title;
  return story;
}

}  // namespace

TEST_CASE("nothing a terminal obeys, nothing that hides or turns lines, and nothing that is no text is left") {
  for (const std::string& text : nasty()) {
    const std::string seen = visible(text);
    for (const char c : seen) {
      const auto byte = static_cast<unsigned char>(c);
      CHECK(byte >= 0x20);
      CHECK(byte != 0x7f);
    }
    for (const char* hidden :
         {"\xc2\x9b", "\xe2\x80\xae", "\xe2\x81\xa6", "\xe2\x80\x8b", "\xef\xbb\xbf", "\xef\xbf\xbe", "\xe2\x80\xa8"}) {
      CHECK(seen.find(hidden) == std::string::npos);
    }
    CHECK(visible(seen) == seen);
  }
  CHECK(visible("\x1b[2J") == "\\x1b[2J");
  CHECK(visible("C3 β ñ 漢 €") == "C3 β ñ 漢 €");
}

TEST_CASE("no command lets a story's or a result's control characters through to the terminal") {
  const support::Folder folder;
  const std::string path =
      support::file_with(folder.path + "/s.toml",
                         "title = \"a\\u001b[31mred\\u0007 \\u202e\"\ndays = 30\n[message]\nplain = \"p\\u001b[2J\"\n"
                         "[[event]]\nday = 1\nlever = \"antibody_drive\"\nvalue = 2\nlabel = \"\\u001b[1m\"\n");
  const std::string bad = support::file_with(folder.path + "/b.toml", "title = \"\x1b[2J\"\nfoo\x1b[31m = 1\n");
  const std::string own = support::file_with(
      folder.path + "/r.csv",
      "date,C3,C4,treatment\n2020-01-01,1.0,0.2,\x1b[2Jx\n\x1b[31m,1,1,1\n2020-03-01,1.0,0.2,\x07\n");
  for (const std::vector<std::string>& words :
       std::vector<std::vector<std::string>>{{"check", path},
                                             {"course", path},
                                             {"course", path, "--csv", "-"},
                                             {"tracer", path},
                                             {"sensitivity", path, "--day", "5"},
                                             {"sbml", path},
                                             {"check", bad},
                                             {"course", bad},
                                             {"labs", own},
                                             {"check", "no\x1b[2Jfile"}}) {
    const auto answer = support::drawdown_with(words);
    CHECK_MESSAGE(answer.out.find('\x1b') == std::string::npos, words[0]);
    CHECK_MESSAGE(answer.err.find('\x1b') == std::string::npos, words[0]);
    CHECK(answer.out.find('\x07') == std::string::npos);
    CHECK(answer.out.size() + answer.err.size() > 20);
  }
  // They were there to be let through.
  CHECK(scenario::read_file(path).title.find('\x1b') != std::string::npos);
}

TEST_CASE(
    "SBML, SVG and HTML stay well formed whatever titles, labels and notes say (xmllint), and raw they would not be") {
  const support::Folder folder;
  std::size_t written = 0;
  for (const std::string& text : nasty()) {
    const auto run = simulate(story_titled(text));
    const std::string sbml = support::file_with(folder.path + "/s.xml", exchange::to_sbml(*run));
    CHECK_MESSAGE(xmllint(sbml, "") == 0, "SBML: ", visible(text));
    stage::AppState state = stage::Executor().settle({}, stage::StoryOpened{story_titled(text)});
    state.talk.reset();
    ImGui::CreateContext();
    ImGui::GetIO().IniFilename = nullptr;
    {
      shell::Shell shell(state, support::source_folder() + "/assets");
      (void)shell.fit_fonts(1100, 700);
      const std::string svg = support::file_with(folder.path + "/s.svg", shell.svg(1100, 700));
      CHECK_MESSAGE(xmllint(svg, "") == 0, "SVG: ", visible(text));
    }
    ImGui::DestroyContext();
    std::string cell = text;
    for (char& c : cell) c = c == '"' || c == '\n' || c == '\r' || c == ',' || c == '\0' ? ' ' : c;
    stage::AppState own;
    stage::own_results::take(
        own, {"", "date,C3,C4,treatment\n2020-01-01,1.0,0.2," + cell + "\n2020-03-01,0.9,0.2,\n", false});
    const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
    const std::string page = sheet::html({own.own.reading, own.own.judged, own.own.noise, {}, nullptr}, words);
    CHECK(page.find('\x1b') == std::string::npos);
    CHECK_MESSAGE(visible(page, true) == page, "HTML: ", visible(text));
    written += 3;
  }
  CHECK(written == 3 * 69);
  // xmllint does see what the cleaning takes away.
  CHECK(xmllint(support::file_with(folder.path + "/raw.xml", "<a>\x1b</a>"), "") != 0);
  CHECK(xmllint(support::file_with(folder.path + "/raw.xml", "<a>]]></a>\xff"), "") != 0);
}

TEST_CASE("a note of 300 000 characters costs a frame no more text than a bounded number of bytes") {
  const std::string note(300000, 'n');
  std::string words;
  for (int i = 0; i < 60000; ++i) words += "note ";
  std::string results = "date,C3 (g/L),C4 (g/L),treatment\n";
  for (int i = 10; i < 28; ++i)
    results += "2020-01-" + std::to_string(i) + ",1.0,0.2," + (i % 2 == 0 ? note : words) + "\n";
  results += note + ",1,1,\n";
  stage::AppState state = support::opening_state();
  state =
      stage::Executor().settle(std::move(state), stage::ResultsText{"/x/" + std::string(200, 'f') + ".csv", results});
  state.problem = words;
  state.document.story.title = note;
  support::Screen screen(state);
  std::size_t most = 0;
  for (int view = 0; view < static_cast<int>(stage::view_names.size()); ++view) {
    screen.do_action(stage::SetView{static_cast<stage::View>(view)});
    for (const stage::OwnPage page : {stage::OwnPage::findings, stage::OwnPage::lines, stage::OwnPage::noise}) {
      screen.do_action(stage::SetOwnPage{page});
      screen.frame();
      most = std::max(most, screen.text_work());
      CHECK(screen.vertices() < 400000);
    }
  }
  // A frame of the opening story without them takes some thousands; measured with them under 400 000.
  CHECK(most > 1000);
  CHECK(most < 600000);
}
