// The parts of the first minute, and what each waits for.
#include "stage/first_minute.hpp"

#include <algorithm>
#include <utility>

namespace drawdown::stage {

namespace {

constexpr std::string_view story_file = "/01-steady-day.toml";
constexpr double from_day = 3.0;
// Watched until C3 has moved by this share of the usual level, or for so many days.
constexpr double share_seen = 0.15;
constexpr double days_watched = 21.0;
constexpr double days_a_second = 5.0;
// What the person pulls to: enough antibody that the fall is seen within the days watched, a liver that outdoes it.
constexpr double antibody_goal = 5.0;
constexpr double liver_goal = 1.25;
// More debris lies about than usual from the beginning; without antibody it forms no complexes, with it they show soon.
constexpr double debris = 4.0;

}  // namespace

std::optional<body::LeverId> first_minute_lever(const AppState& state) {
  if (state.first.step == FirstMinute::raise_complexes) return state.document.now.story.model->known().antibody_drive;
  if (state.first.step == FirstMinute::raise_liver) return state.document.now.story.model->known().hepatic_output;
  return std::nullopt;
}

double first_minute_goal(const AppState& state) {
  return state.first.step == FirstMinute::raise_liver ? liver_goal : antibody_goal;
}

namespace first_minute {

bool is_its_story(const std::string& path) {
  return path.size() >= story_file.size() &&
         path.compare(path.size() - story_file.size(), story_file.size(), story_file) == 0;
}

std::string ask(AppState& state) {
  state.first.time = false;
  for (const StoryEntry& story : state.files.stories) {
    if (!is_its_story(story.path) || !story.problem.empty()) continue;
    state.first.asked = true;
    return story.path;
  }
  return {};
}

void begin(AppState& state) {
  state.first.step.reset();
  // Another story asked for before may come first.
  if (!is_its_story(state.document.path) || !std::exchange(state.first.asked, false)) return;
  state.first.step = FirstMinute::raise_complexes;
  state.first.pulled = false;
  state.time.day = from_day;
  state.levers.from_today = true;
  state.document.now.edits = {{state.document.now.story.model->known().antigen_release, -1, -1.0, debris, 0.0}};
  state.page.view = View::balance;
}

void pulled(AppState& state, const MoveLever& move) {
  const auto wanted = first_minute_lever(state);
  if (!wanted || *wanted != move.lever) return;
  state.first.pulled = move.value >= first_minute_goal(state) - 1e-9;
  if (!move.dragging) let_go(state);
}

void let_go(AppState& state) {
  if (!state.first.step || !std::exchange(state.first.pulled, false)) return;
  state.first.step =
      *state.first.step == FirstMinute::raise_complexes ? FirstMinute::watch_it_fall : FirstMinute::watch_it_rise;
  state.first.from = state.time.day;
  state.time.speed = days_a_second;
  state.time.playing = true;
}

void watch(AppState& state) {
  if (!state.first.step || !state.runs.now) return;
  const bool falls = *state.first.step == FirstMinute::watch_it_fall;
  if (!falls && *state.first.step != FirstMinute::watch_it_rise) return;
  const double moved =
      (state.runs.now->c3(state.time.day) - state.runs.now->c3(state.first.from)) / state.runs.now->usual_c3();
  const bool enough = (falls ? -moved : moved) >= share_seen;
  if (!enough && state.time.playing && state.time.day < state.first.from + days_watched) return;
  state.time.playing = false;
  state.first.step = falls ? FirstMinute::raise_liver : FirstMinute::done;
}

}  // namespace first_minute

}  // namespace drawdown::stage
