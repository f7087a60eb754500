// My own numbers on the screen: typed, pasted, opened, asked about, judged, kept only on request and really forgotten.
#include <doctest/doctest.h>

#include <filesystem>

#include "disk/disk.hpp"
#include "labs/dates.hpp"
#include "sheet/sheet.hpp"
#include "support/folder.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using support::Folder;
using support::Screen;

namespace {

stage::AppState own_state() {
  stage::AppState state = support::opening_state(95);
  state.page.view = stage::View::own;
  state.files.example = support::source_folder() + "/assets/example-results.csv";
  return state;
}

void type_line(Screen& screen, const std::string& line) {
  while (screen.focused() != "own.entry") screen.key(ImGuiKey_Tab);
  for (const char c : line) {
    if (c == ' ') {
      screen.key(ImGuiKey_Space);
    } else {
      screen.type(std::string(1, c));
    }
  }
  screen.key(ImGuiKey_Enter);
}

}  // namespace

TEST_CASE("typed by keyboard alone: four results are too few for nothing, a fall is told first and 1.00 is noise") {
  Screen screen(own_state());
  CHECK(screen.shows("Nothing is sent"));
  type_line(screen, "2023-01-09 1.10 0.20");
  type_line(screen, "2023-04-09 1.06 0.21");
  type_line(screen, "2023-07-09 1.12 0.20");
  CHECK(screen.shows("C3: too few results to know your usual."));
  type_line(screen, "2024-03-09 0.70 0.19");
  CHECK(screen.state().own.reading.rows.size() == 4);
  CHECK(screen.state().page.view == stage::View::own);
  CHECK_MESSAGE(screen.state().page.depth == look::Depth::plain, "digits typed are not keys of the program");
  CHECK(screen.shows("C3 fell more than noise at the last visit, in March 2024."));
  CHECK(screen.shows("C4: no more than noise."));
  CHECK(screen.state().own.judged.any_beyond);
  // The figures stand one page behind.
  CHECK_FALSE(screen.shows("Your usual C3"));
  screen.do_action(stage::SetOwnPage{stage::OwnPage::figures});
  screen.frame();
  CHECK(screen.shows("Your usual C3, from 3 results before the last"));
  CHECK(screen.shows("C3 went from 1.12 to 0.70"));
  screen.do_action(stage::ForgetResults{});
  screen.frame();
  for (const char* line :
       {"2023-01-09 1.10 0.20", "2023-04-09 1.06 0.21", "2023-07-09 1.12 0.20", "2024-03-09 1.00 0.19"})
    type_line(screen, line);
  CHECK_FALSE(screen.state().own.judged.any_beyond);
  CHECK(screen.shows("C3: no more than noise."));
}

TEST_CASE("Backspace takes letters back, Escape and the program's keys work again outside the line") {
  Screen screen(own_state());
  while (screen.focused() != "own.entry") screen.key(ImGuiKey_Tab);
  screen.type("abc");
  screen.key(ImGuiKey_Backspace);
  CHECK(screen.state().own.typed == "ab");
  screen.key(ImGuiKey_Tab);
  screen.type("c");
  CHECK(screen.state().page.view == stage::View::course);
}

TEST_CASE("pasted with Ctrl V: a table with another unit and open dates is asked about, and answered") {
  Screen screen(own_state());
  ImGui::SetClipboardText("date\tC3\tC4\n3/4/2024\t110\t21\n5/6/2024\t84\t12\n");
  screen.key(ImGuiKey_V, true);
  CHECK(screen.state().own.reading.order_open);
  CHECK(screen.shows("day first or month first"));
  REQUIRE(screen.click_text("Month first"));
  CHECK_FALSE(screen.state().own.reading.order_open);
  CHECK(labs::iso_date(screen.state().own.reading.rows[0].day) == "2024-03-04");
  CHECK(screen.shows("Please confirm it"));
  REQUIRE(screen.click_text("In mg/dL: right"));
  CHECK(screen.state().own.reading.unit_sure);
  CHECK(screen.state().own.reading.rows[0].c3->value == support::near(1.10, 1e-9));
  CHECK(screen.shows("mg/dL"));
}

TEST_CASE("every line not read stands there with its reason") {
  Screen screen(own_state());
  screen.do_action(stage::PasteResults{"date,C3,C4\n2024-01-09,1.1,0.2\n2024-02-30,1.0,0.2\n2024-03-01,oops,0.2\n"});
  screen.do_action(stage::SetOwnPage{stage::OwnPage::lines});
  screen.frame();
  CHECK(screen.shows("line 3: '2024-02-30' is not a day"));
  CHECK(screen.shows("line 4, C3: 'oops' is not a number"));
  // What is left out is said where the findings are, too.
  screen.do_action(stage::SetOwnPage{stage::OwnPage::findings});
  screen.frame();
  CHECK(screen.shows("Lines or values that were not read: 2"));
}

TEST_CASE(
    "the invented example: quiet values give a usual level, the flare is beyond noise, one flare makes no marker, the "
    "fit is worked out") {
  Screen screen(own_state());
  REQUIRE(screen.click_text("Show an invented example"));
  CHECK(screen.state().own.reading.rows.size() == 11);
  CHECK(screen.state().own.judged.c3.level.usual->values == 6);
  CHECK(screen.state().own.judged.c3.level.earlier.size() == 2);
  CHECK(screen.shows(
      "C3: no more than noise. Earlier, in April 2024 (marked as a flare), it was lower than noise explains."));
  CHECK(screen.shows("Too few visits to tell whether C3 and C4 go with your flares."));
  CHECK(screen.shows("C3, left out of your usual: 2 marked as a flare"));
  screen.do_action(stage::SetOwnPage{stage::OwnPage::fit});
  screen.frame();
  REQUIRE(screen.click_text("Work it out"));
  REQUIRE(static_cast<bool>(screen.state().own.why));
  CHECK(screen.state().own.why->weights.status == study::explain::Status::done);
  CHECK(screen.shows("Used up more, in one way or another"));
  CHECK(screen.shows("Used up more at complexes"));
  CHECK(screen.shows("Only noise"));
  CHECK_FALSE(static_cast<bool>(screen.state().own.fit));
  REQUIRE(screen.click_text("What might follow? One person of the model"));
  REQUIRE(static_cast<bool>(screen.state().own.fit));
  CHECK(screen.state().own.fit->status == labs::FitStatus::done);
  CHECK(screen.shows("not a forecast for a person"));
  const std::size_t before = screen.state().own.outlook;
  screen.do_action(stage::NextOutlook{});
  CHECK(screen.state().own.outlook != before);
  // Another noise: what was worked out no longer holds.
  labs::Noise noise = screen.state().own.noise;
  noise.c3.within = 9.0;
  screen.do_action(stage::SetNoise{noise});
  CHECK_FALSE(static_cast<bool>(screen.state().own.fit));
  CHECK_FALSE(static_cast<bool>(screen.state().own.why));
}

TEST_CASE("own numbers are judged by no story: opening one with another range changes nothing about them") {
  Screen screen(own_state());
  screen.do_action(stage::PasteResults{"2024-01-09 0.85 0.20\n2024-03-09 0.85 0.19\n"});
  CHECK(screen.state().own.judged.pattern == labs::Pattern::c3_only);
  stage::AppState other = screen.state();
  other.document.now.story.laboratory.c3 = {0.50, 1.00};
  const auto again = stage::reduce(std::move(other), stage::SetNoise{}).state;
  CHECK(again.own.judged.pattern == labs::Pattern::c3_only);
}

TEST_CASE("very many rows, each with its own range, stay within a draw list's 64 k vertices") {
  std::string text = "date,C3,C4,C3 range,C4 range,flare\n";
  for (int i = 0; i < 30000; ++i) {
    text += labs::iso_date(i) + ",1." + std::to_string(100 + i % 400) + ",0.2,0.9-1.8,0.1-0.4,yes\n";
  }
  Screen screen(own_state());
  screen.do_action(stage::PasteResults{text});
  screen.frame();
  CHECK(screen.state().own.reading.rows.size() == 30000);
  CHECK(screen.vertices() < 65536);
}

TEST_CASE("saved only when asked, and forgotten for good: the file is deleted too") {
  const Folder folder;
  stage::AppState state = own_state();
  state.files.own = folder.path + "/my-numbers.csv";
  Screen screen(state);
  screen.do_action(stage::PasteResults{"2024-01-09 1.10 0.20\n2024-03-09 0.90 0.19\n"});
  CHECK_FALSE(std::filesystem::exists(state.files.own));
  screen.frame();
  REQUIRE(screen.click_text("Save here"));
  CHECK(std::filesystem::exists(state.files.own));
  CHECK(screen.state().own.kept);
  screen.frame();
  REQUIRE(screen.click_text("Forget this"));
  CHECK_FALSE(std::filesystem::exists(state.files.own));
  CHECK(screen.state().own.text.empty());
  CHECK(screen.state().own.reading.rows.empty());
  CHECK(screen.shows("Show an invented example"));
}

TEST_CASE("an opened file is never changed, and a file that is none says so and loses nothing") {
  const Folder folder;
  const std::string path = folder.path + "/mine.csv";
  const std::string text = "date;C3;C4\n09.01.2024;1,10;0,20\n09.03.2024;0,90;0,19\n";
  disk::write_file(path, text);
  Screen screen(own_state());
  screen.do_action(stage::OpenResults{path});
  screen.do_action(stage::PasteResults{"2024-04-09;1,00;0,19"});
  CHECK(screen.state().own.reading.rows.size() == 3);
  CHECK(disk::read_whole_file(path, 1000) == text);
  screen.do_action(stage::OpenResults{folder.path + "/gone.csv"});
  CHECK(screen.state().own.reading.rows.size() == 3);
  CHECK(screen.state().problem.find("gone.csv") != std::string::npos);
}

TEST_CASE("the sheet to take along: five questions, chosen from the data, in both languages") {
  const std::string file = support::source_folder() + "/assets/example-results.csv";
  const labs::Reading reading = labs::read(disk::read_whole_file(file, 100000));
  const labs::Judgement judged = labs::judge(reading.rows, {}, {});
  const sheet::Content content{reading, judged, {}, {}, nullptr};
  for (const char* language : {"en", "es"}) {
    const auto words = look::WordBook::load(support::source_folder() + "/assets/" + language + ".toml");
    CHECK(sheet::questions(content, words).size() == 5);
    const std::string page = sheet::html(content, words);
    for (const auto& question : sheet::questions(content, words)) CHECK(page.find(question) != std::string::npos);
    CHECK(page.find(words.at("caution.urgent")) != std::string::npos);
    CHECK(page.find("<svg") != std::string::npos);
    const std::string pdf = sheet::pdf(content, words);
    CHECK(pdf.rfind("%PDF", 0) == 0);
    CHECK(pdf.size() > 5000);
  }
  const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  CHECK(sheet::questions(content, words)[1] == words.at("sheet.q_flares"));
  CHECK(sheet::questions(content, words)[3] == words.at("sheet.q_normal_when_well"));
  CHECK(sheet::questions(content, words)[4].find("anti-dsDNA") != std::string::npos);
  CHECK(sheet::questions(content, words)[4].find("urine") == std::string::npos);
  const labs::Reading two = labs::read("2024-01-09 0.70 0.05\n2024-03-09 0.72 0.05\n");
  const labs::Judgement of_two = labs::judge(two.rows, {}, {});
  const sheet::Content other{two, of_two, {}, {}, nullptr};
  CHECK(sheet::questions(other, words)[1] == words.at("sheet.q_first_flare"));
  CHECK(sheet::questions(other, words)[2] == words.at("sheet.q_over_time"));
  CHECK(sheet::questions(other, words)[3] == words.at("sheet.q_normalise"));
}

TEST_CASE(
    "both halves of a line in the other unit are asked about at once on the screen, and one press converts both") {
  Screen screen(own_state());
  screen.do_action(stage::PasteResults{
      "date,C3 (mg/dL),C3 range,C4 (mg/dL)\n2024-01-01,110,90-180,4.2\n2024-02-01,112,,4.3\n2024-03-01,1.05,,0.21\n"});
  screen.frame();
  CHECK(screen.shows("Beside it stands C4 0.21 mg/dL"));
  CHECK(screen.shows("are they 105 and 21 mg/dL?"));
  CHECK_FALSE(screen.shows("More values asked about"));
  // Which range each was held against stands among the figures.
  screen.do_action(stage::SetOwnPage{stage::OwnPage::figures});
  screen.frame();
  CHECK(screen.shows("a common one, for samples that name none (1)"));
  screen.do_action(stage::SetOwnPage{stage::OwnPage::lines});
  screen.frame();
  CHECK(screen.shows("in range*"));
  CHECK(screen.shows("* held against a common range"));
  screen.do_action(stage::AnswerSlips{labs::SlipAnswer::convert});
  CHECK(screen.state().own.reading.slips.empty());
  CHECK(screen.state().own.reading.rows.size() == 3);
}

TEST_CASE("on the screen a date after today is asked about as the program was told the day, and not without") {
  for (const bool knows : {true, false}) {
    stage::AppState state = own_state();
    if (knows) state.today = labs::days_of(2024, 2, 15);
    Screen screen(state);
    screen.do_action(stage::PasteResults{"date,C3 (g/L)\n2024-01-01,1.10\n2024-03-01,1.05\n"});
    screen.frame();
    CHECK(screen.shows("A date lies after today: 2024-03-01, on line 3.") == knows);
  }
}
