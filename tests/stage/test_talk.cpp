// A talk: entering a step restores the story's levers, what the audience changed is kept aside and one action brings it
// back; a person's own results rest unless they are chosen for this talk.
#include <doctest/doctest.h>

#include "stage/lab_sample.hpp"
#include "support/screen.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {

AppState after(AppState s, const std::vector<Action>& actions) {
  work::Executor executor;
  for (const Action& a : actions) s = executor.settle(std::move(s), a);
  return s;
}
const body::LeverId liver = body::lever_at("hepatic_output");

AppState with_results() {
  AppState s = support::opening_state();
  return after(std::move(s), {ResultsText{"/home/x/anna-results.csv",
                                          "date,C3 (g/L),C4 (g/L),treatment\n2019-05-17,0.937,0.1234,zebra\n"
                                          "2019-08-19,0.877,0.1134,\n2019-bad,1,1,\n"}});
}

// Every text of every view and page, during a talk or not.
std::string all_texts(support::Screen& screen) {
  std::string all;
  for (int view = 0; view < static_cast<int>(view_names.size()); ++view) {
    screen.do_action(SetView{static_cast<View>(view)});
    for (const OwnPage page : {OwnPage::findings, OwnPage::lines, OwnPage::noise}) {
      screen.do_action(SetOwnPage{page});
      screen.frame(2);
      for (const auto& t : screen.texts()) all += t.text + "\n";
    }
  }
  return all;
}

bool tells(const std::string& all) {
  for (const char* of_the_person : {"0.94", "0.88", "2019", "zebra", "anna", "bad"}) {
    if (all.find(of_the_person) != std::string::npos) return true;
  }
  return false;
}

}  // namespace

TEST_CASE("entering a step restores the story's levers, and one action brings back what the audience changed") {
  AppState s = after(support::opening_state(), {MoveLever{liver, 0.4, false}});
  s = after(s, {StartTalk{}});
  CHECK(s.document.now.edits.empty());
  REQUIRE(s.talk.aside.size() == 1);
  s = after(s, {TakeUpAside{}});
  REQUIRE(s.document.now.edits.size() == 1);
  CHECK(s.document.now.edits[0].value == 0.4);
  CHECK(branched(s));
  for (const Action& enter : {Action{StepTalk{1}}, Action{JumpTalk{3}}}) {
    const AppState next = after(s, {enter});
    CHECK(next.document.now.edits.empty());
    CHECK(next.talk.aside.size() == 1);
    CHECK(after(next, {TakeUpAside{}}).document.now.edits == s.document.now.edits);
    CHECK(after(next, {Undo{}}).document.now.edits == s.document.now.edits);
  }
  // A step entered without a what-if leaves what is aside where it is.
  s = after(s, {StepTalk{1}, StepTalk{1}});
  CHECK(s.talk.aside.size() == 1);
  CHECK(after(s, {EndTalk{}}).talk.aside.empty());
  CHECK(after(support::opening_state(), {TakeUpAside{}}).document.now.edits.empty());
}

TEST_CASE("during a talk own results rest in every view, and the choice holds for that talk only") {
  AppState s = with_results();
  REQUIRE(s.own.reading.rows.size() == 2);
  {
    support::Screen without_a_talk(s);
    REQUIRE(tells(all_texts(without_a_talk)));
  }
  s = after(s, {StartTalk{}, ReportProblem{"/home/x/anna-results.csv:4: bad"}});
  support::Screen screen(s);
  CHECK_FALSE(tells(all_texts(screen)));
  screen.do_action(SetView{View::own});
  screen.frame(2);
  CHECK(screen.shows("rest while a talk is on"));
  CHECK(screen.click_text("Show them in this talk"));
  CHECK(tells(all_texts(screen)));
  screen.do_action(EndTalk{});
  screen.do_action(StartTalk{});
  CHECK_FALSE(tells(all_texts(screen)));
}

TEST_CASE(
    "a talk's lab sheet first shows a sample that reads as one without noise would: chance neither makes nor hides a "
    "lesson") {
  std::size_t steps = 0;
  std::size_t by_chance = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const auto run = simulate(story);
    for (const scenario::TalkStep& step : story.talk) {
      if (step.look != "lab") continue;
      steps += 1;
      const double before = std::max(0.0, step.day - 28);
      const auto reads_as_true = [&](unsigned number) {
        const stage::LabSample now = stage::lab_sample(*run, step.day, number);
        const stage::LabSample then = stage::lab_sample(*run, before, number);
        const readout::Serum blood = run->measured(step.day);
        const readout::Serum earlier = run->measured(before);
        const auto same = [](const stage::SampleWords& a, const stage::SampleWords& b) {
          return a.placed == b.placed && a.beyond == b.beyond;
        };
        const scenario::Laboratory& lab = story.laboratory;
        return same(stage::words_of(now.c3, then.c3, lab.c3, study::c3_variation),
                    stage::words_of(blood.c3, earlier.c3, lab.c3, study::c3_variation)) &&
               same(stage::words_of(now.c4, then.c4, lab.c4, study::c4_variation),
                    stage::words_of(blood.c4, earlier.c4, lab.c4, study::c4_variation));
      };
      CHECK_MESSAGE(reads_as_true(stage::typical_sample(*run, step.day, before, story.laboratory)), story.name, " day ",
                    step.day);
      for (unsigned number = 0; number < 20; ++number) by_chance += reads_as_true(number) ? 0U : 1U;
    }
  }
  CHECK(steps >= 5);
  CHECK_MESSAGE(by_chance > 0, "some samples do read otherwise, or the choice does nothing");
}
