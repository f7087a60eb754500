// One usual level and one count of days on every view; the lab sheet's one sample beside what is in the blood.
#include <doctest/doctest.h>

#include <cmath>

#include "command/stories.hpp"
#include "stage/narrate.hpp"
#include "support/near.hpp"
#include "support/screen.hpp"

using namespace drawdown;
using namespace drawdown::stage;

TEST_CASE("the cascade's usual is this person's: few C4 genes fill C4 to its own hundred per cent") {
  AppState s = command::state_for(support::source_folder() + "/scenarios/09-few-c4-genes.toml", 30);
  s.page.view = View::cascade;
  s.page.depth = look::Depth::mechanism;
  const auto c4 = static_cast<std::size_t>(s.runs.now->body().network.species_index("C4"));
  // The standard body's rest, which stood there before, is twice as much.
  CHECK(s.runs.now->body().rest[c4] > 1.5 * s.runs.now->usual_state()[c4]);
  CHECK(s.runs.now->body().model->grams_per_litre(body::protein_at("C4"), s.runs.now->usual_state()[c4]) ==
        support::near(s.runs.now->usual_c4(), 1e-9));
  const support::Screen screen(s);
  CHECK(screen.shows("100 %"));
  CHECK_FALSE(screen.shows("48 %"));
}

TEST_CASE("in every story the person left quiet for sixty days stays at the usual level") {
  for (const std::string& path : support::shipped_stories()) {
    const auto run = simulate(scenario::read_file(path));
    const body::Model& model = *run->body().model;
    CHECK(model.grams_per_litre(model.known().c3, run->usual_state()[model.species("C3")]) ==
          support::near(run->usual_c3(), 1e-9));
    scenario::Scenario quiet = run->story();
    quiet.levers = run->usual_levers();
    quiet.events.clear();
    quiet.days = 60;
    const auto left = simulate(quiet);
    CHECK_MESSAGE(left->c3(60) == support::near(run->usual_c3(), 1e-3), path);
    CHECK_MESSAGE(left->c4(60) == support::near(run->usual_c4(), 1e-3), path);
  }
}

TEST_CASE("day 198.7 is day 198 in every view that says a day") {
  AppState s = support::opening_state(198.7);
  support::Screen screen(s);
  std::size_t said = 0;
  for (int view = 0; view < static_cast<int>(view_names.size()); ++view) {
    screen.do_action(SetView{static_cast<View>(view)});
    screen.frame(2);
    for (const auto& t : screen.texts()) {
      CHECK_MESSAGE(t.text.find("199") == std::string::npos, t.text);
      if (t.text.find("198") != std::string::npos) said += 1;
    }
  }
  CHECK(said >= 10);
}

TEST_CASE("a year below the range is 365 days") {
  scenario::Scenario story = support::settled_with({{"hepatic_output", 0.4}}, 365);
  const auto low = simulate(story);
  const auto usual = simulate(support::settled_with({}, 365));
  const auto english = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  CHECK(difference_in_words({"A", usual}, *low, english, scenario::Unit::g_per_l).find("on 365 days instead of 0") !=
        std::string::npos);
}

TEST_CASE("the lab sheet tells one sample from what is in the blood, and another sample draws another") {
  AppState s = support::opening_state(95);
  s.page.view = View::lab;
  support::Screen screen(s);
  const auto sentence = [&] {
    for (const auto& t : screen.texts()) {
      if (t.text.find("one sample") != std::string::npos) return t.text;
    }
    return std::string();
  };
  const std::string first = sentence();
  REQUIRE_FALSE(first.empty());
  CHECK(first.find("in the blood " + level_text(s.runs.now->c3(95), Which::c3, s.page.unit)) != std::string::npos);
  // The figure in the table is the sample's.
  const std::string sample = first.substr(first.find("one sample ") + 11, 4);
  CHECK(screen.find(sample).has_value());
  std::size_t others = 0;
  for (int i = 0; i < 5; ++i) {
    REQUIRE(screen.click_text("Another sample"));
    screen.frame(2);
    others += sentence() != first ? 1U : 0U;
  }
  CHECK(others >= 4);
  CHECK(screen.state().lab.sample == 5);
}

TEST_CASE("the same sample gives the same figures") {
  AppState s = support::opening_state(95);
  s.page.view = View::lab;
  support::Screen screen(s);
  std::string first;
  for (const auto& t : screen.texts()) first += t.text;
  screen.do_action(SetView{View::balance});
  screen.frame();
  screen.do_action(SetView{View::lab});
  screen.frame(2);
  std::string again;
  for (const auto& t : screen.texts()) again += t.text;
  CHECK(first == again);
}

TEST_CASE("the lab sheet's sample is drawn where the playhead stands, within a day too") {
  const std::string path = support::source_folder() + "/scenarios/16-plasma-exchange.toml";
  support::Screen screen(command::state_for(path, 40.2));
  screen.do_action(stage::SetView{stage::View::lab});
  screen.frame();
  const Run& run = *screen.state().runs.now;
  const std::string now = stage::level_text(run.c3(40.2), stage::Which::c3, screen.state().page.unit);
  const std::string that_morning = stage::level_text(run.c3(40.0), stage::Which::c3, screen.state().page.unit);
  REQUIRE(now != that_morning);
  CHECK(screen.shows("in the blood " + now));
  CHECK_FALSE(screen.shows("in the blood " + that_morning));
  CHECK(screen.shows("day 40"));
}
