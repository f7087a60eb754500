// Putting them together.
#include "support/hostile_screens.hpp"

#include "support/hostile.hpp"
#include "work/worker.hpp"

namespace drawdown::support {

namespace {

stage::AppState with_largest_story() {
  stage::AppState state;
  state = work::Executor().settle(std::move(state), stage::StoryOpened{largest_story(), std::string(4000, 'p')});
  for (int i = 0; i < 4; ++i) state = stage::reduce(std::move(state), stage::KeepRun{}).state;
  state.page.overlay = stage::Overlay::none;
  state.page.track = 1;
  state.levers.all = true;
  return state;
}

}  // namespace

std::vector<HostileScreen> hostile_screens() {
  const stage::AppState story = with_largest_story();
  std::vector<HostileScreen> all;
  const auto add = [&](const std::string& name, const stage::AppState& state) { all.push_back({name, state}); };
  for (std::size_t i = 0; i < stage::view_names.size(); ++i) {
    stage::AppState state = story;
    state.page.view = static_cast<stage::View>(i);
    if (state.page.view != stage::View::own) add(std::string(stage::view_names[i]), state);
  }
  {
    stage::AppState state = story;
    state.page.depth = look::Depth::clinic;
    state = stage::reduce(std::move(state), stage::StartTalk{}).state;
    state = stage::reduce(std::move(state), stage::JumpTalk{39}).state;
    state = stage::reduce(std::move(state), stage::Reveal{}).state;
    state.page.view = stage::View::course;
    add("talk", state);
  }
  {
    stage::AppState state = story;
    for (int i = 0; i < 100000; ++i)
      state.problem += "s.toml:1: unknown key '\x1b" + std::to_string(i) + "' and so on, C3 C4\n";
    add("problem", state);
    state.problem = std::string(5000000, 'C');
    add("problem of one word", state);
  }
  {
    stage::AppState state = story;
    state.page.overlay = stage::Overlay::files;
    state.files.folder.path = "/" + std::string(200000, 'f');
    for (int i = 0; i < 100000; ++i) {
      state.files.folder.entries.push_back({std::string(255, 'n') + std::to_string(i), i < 50000});
    }
    add("files", state);
    state.files.folder.problem = std::string(300000, 'q');
    add("files with a problem", state);
  }
  {
    stage::AppState state = story;
    state.page.overlay = stage::Overlay::stories;
    for (int i = 0; i < 20; ++i) {
      state.files.recent.push_back(
          {"/r" + std::to_string(i), std::string(2000, 't'), largest_story().message.plain, ""});
      state.files.stories.push_back({"/s" + std::to_string(i), std::string(2000, 't'), "", std::string(500000, 'e')});
    }
    add("stories", state);
  }
  const std::string note = std::string(150000, 'n') + largest_story().title + std::string(148000, ' ');
  for (std::size_t page = 0; page < stage::own_page_names.size(); ++page) {
    static const std::string results = results_of(note, 60000, 60000);
    stage::AppState state = story;
    state = stage::reduce(std::move(state), stage::ResultsText{std::string(4000, 'r'), results, false}).state;
    state.own.page = static_cast<stage::OwnPage>(page);
    state.own.done = std::string(100000, 'd');
    if (page == 1) state.own.problem = std::string(1000000, 'o');
    add("own " + std::string(stage::own_page_names[page]), state);
  }
  {
    stage::AppState state = story;
    std::string lines = "date,C3,C4\n";
    for (int i = 0; i < 100000; ++i) lines += "\"" + std::string(100, 'z') + "\",1,1\n";
    state = stage::reduce(std::move(state), stage::ResultsText{"r.csv", lines, false}).state;
    state.own.typed = std::string(400, 'w');
    add("own, no line of 100 000 read", state);
  }
  return all;
}

}  // namespace drawdown::support
