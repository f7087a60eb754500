// A person's own results: forgotten means gone, two people's never mix, and a line that was not read can be mended.
#include <doctest/doctest.h>

#include "command/session.hpp"
#include "disk/disk.hpp"
#include "support/folder.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {

constexpr const char* anna =
    "date,C3 (g/L),C4 (g/L)\n2019-05-17,0.937,0.12\n2019-06-17,0.877,0.11\n2019-07-17,0.901,0.12\n";
constexpr const char* bert = "date,C3 (g/L),C4 (g/L)\n2021-01-02,1.31,0.29\n2021-02-02,1.28,0.30\n";

AppState with_anna() {
  return reduce(support::opening_state(), ResultsText{"/home/x/anna.csv", anna}).state;
}

}  // namespace

TEST_CASE(
    "forgetting leaves nothing of the results in the state, the session or the banner, and late answers bring nothing "
    "back") {
  AppState s = with_anna();
  s = reduce(std::move(s), TypeResult{"2019-08-01,0.9"}).state;
  s = reduce(std::move(s), ReportProblem{"/home/x/anna.csv: is a folder"}).state;
  Step asked = reduce(s, OpenResults{"/home/x/anna.csv"});
  const auto read = std::get<ReadResults>(asked.effects.at(0));
  s = reduce(std::move(asked.state), ForgetResults{}).state;
  const auto nothing = [](const AppState& state) {
    CHECK(state.own.text.empty());
    CHECK(state.own.path.empty());
    CHECK(state.own.typed.empty());
    CHECK(state.own.reading.rows.empty());
    CHECK(state.own.judged.c3.placed.empty());
    CHECK(state.problem.find("anna") == std::string::npos);
    CHECK(command::session_text(state).find("anna") == std::string::npos);
    CHECK(command::session_text(state).find("2019") == std::string::npos);
    for (const StoryEntry& entry : state.files.recent) CHECK(entry.path.find("anna") == std::string::npos);
  };
  nothing(s);
  s = reduce(std::move(s), ResultsText{read.path, anna, false, read.asked}).state;
  nothing(s);
  s = reduce(std::move(s), WrittenDown{"/home/x/sheet-of-anna.pdf", true}).state;
  nothing(s);
  CHECK(s.own.done.empty());
  // Without the forgetting the same answer is taken.
  Step again = reduce(s, OpenResults{"/home/x/anna.csv"});
  const auto second = std::get<ReadResults>(again.effects.at(0));
  CHECK(reduce(again.state, ResultsText{second.path, anna, false, second.asked}).state.own.reading.rows.size() == 3);
}

TEST_CASE("forgetting lets go of what the last frame's keys and clipboard held, and of the place in the line") {
  AppState s = with_anna();
  s.page.view = View::own;
  support::Screen screen(s);
  screen.interaction().caret("own.entry") = 7;
  panels::Input input;
  input.pasted = anna;
  input.typed = {{panels::Typed::Kind::text, "2019"}};
  screen.interaction().begin(input);
  REQUIRE(screen.interaction().input().pasted == anna);
  screen.do_action(ReportProblem{"something else"});
  CHECK(screen.interaction().caret("own.entry") == 7);
  screen.do_action(ForgetResults{});
  CHECK(screen.interaction().input().pasted.empty());
  CHECK(screen.interaction().input().typed.empty());
  CHECK(screen.interaction().caret("own.entry") == 0);
}

TEST_CASE(
    "keeping one person's numbers sets aside what another person kept there, and the same person's are kept anew") {
  const support::Folder folder;
  AppState s = with_anna();
  s.files.own = folder.path + "/own.csv";
  support::Screen screen(s);
  screen.do_action(KeepResults{});
  REQUIRE(disk::read_whole_file(s.files.own, 100000) == anna);
  const std::string longer = std::string(anna) + "2019-08-17,0.95,0.13\n";
  screen.do_action(ResultsText{"/home/x/anna.csv", longer});
  screen.do_action(KeepResults{});
  CHECK(disk::read_whole_file(s.files.own, 100000) == longer);
  CHECK(support::files_in(folder.path) == 1);
  screen.do_action(ResultsText{"/home/x/bert.csv", bert});
  screen.do_action(KeepResults{});
  CHECK(disk::read_whole_file(s.files.own, 100000) == bert);
  CHECK(support::files_in(folder.path) == 2);
  CHECK(disk::read_whole_file(s.files.own + ".earlier", 100000) == longer);
}

TEST_CASE("of two files opened one after the other only the last one asked for is shown") {
  Step first = reduce(support::opening_state(), OpenResults{"a"});
  const auto a = std::get<ReadResults>(first.effects.at(0));
  Step second = reduce(first.state, OpenResults{"b"});
  const auto b = std::get<ReadResults>(second.effects.at(0));
  AppState s = reduce(second.state, ResultsText{"b", bert, false, b.asked}).state;
  s = reduce(std::move(s), ResultsText{"a", anna, false, a.asked}).state;
  CHECK(s.own.path == "b");
  CHECK(s.own.reading.rows.size() == 2);
}

TEST_CASE("a table pasted onto another person's is asked about: added, or started anew, never mixed unasked") {
  const AppState s = reduce(with_anna(), PasteResults{bert}).state;
  CHECK(s.own.reading.rows.size() == 3);
  CHECK(s.own.text == anna);
  REQUIRE_FALSE(s.own.pending.empty());
  const AppState anew = reduce(s, AnswerPending{false}).state;
  CHECK(anew.own.text == bert);
  CHECK(anew.own.path.empty());
  CHECK(anew.own.reading.rows.size() == 2);
  const AppState same = reduce(s, AnswerPending{true}).state;
  CHECK(same.own.text.find("0.937") != std::string::npos);
  CHECK(same.own.text.find("1.31") != std::string::npos);
  CHECK(same.own.pending.empty());
  // One line pasted is one visit more.
  CHECK(reduce(with_anna(), PasteResults{"2019-09-17,0.9,0.12\n"}).state.own.reading.rows.size() == 4);
  support::Screen screen([&] {
    AppState shown = s;
    shown.page.view = View::own;
    return shown;
  }());
  CHECK(screen.shows("the same person's?"));
  CHECK(screen.click_text("Another person: start anew"));
  CHECK(screen.state().own.text == bert);
}

TEST_CASE("a line that was not read comes back to be mended, its place is free, and the page is never locked") {
  AppState s = reduce(support::opening_state(),
                      ResultsText{"", "date,C3,C4\n2020-01-01,1.0,0.2\n2020-13-45,1.0,0.2\n2020-03-01,0.9,0.2\n"})
                   .state;
  REQUIRE(s.own.reading.rejected.size() == 1);
  CHECK(s.own.reading.rejected[0].line == 3);
  s.page.view = View::own;
  s.own.page = OwnPage::lines;
  support::Screen screen(s);
  REQUIRE(screen.click_text("Mend line 3"));
  CHECK(screen.state().own.typed == "2020-13-45,1.0,0.2");
  CHECK(screen.state().own.reading.rejected.empty());
  CHECK(screen.state().own.reading.rows.size() == 2);
  screen.do_action(TypeResult{"2020-02-15,1.0,0.2"});
  screen.do_action(AddTypedResult{});
  CHECK(screen.state().own.reading.rows.size() == 3);
  CHECK(screen.state().own.reading.rejected.empty());
}

TEST_CASE("a text that cannot be read at all leaves two ways on: its last line back, or forget") {
  AppState s = reduce(support::opening_state(), ResultsText{"", "nothing of this\nis a table\n"}).state;
  REQUIRE_FALSE(s.own.problem.empty());
  s.page.view = View::own;
  support::Screen screen(s);
  REQUIRE(screen.click_text("Take the last line back"));
  CHECK(screen.state().own.typed == "is a table");
  CHECK(screen.state().own.text == "nothing of this\n");
  screen.frame();
  REQUIRE(screen.click_text("Take the last line back"));
  CHECK(screen.state().own.text.empty());
  CHECK(screen.state().own.problem.empty());
}
