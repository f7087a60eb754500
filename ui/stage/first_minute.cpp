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
  if (state.first == FirstMinute::raise_complexes) return state.document.story.model->known().antibody_drive;
  if (state.first == FirstMinute::raise_liver) return state.document.story.model->known().hepatic_output;
  return std::nullopt;
}

double first_minute_goal(const AppState& state) {
  return state.first == FirstMinute::raise_liver ? liver_goal : antibody_goal;
}

namespace first_minute {

bool is_its_story(const std::string& path) {
  return path.size() >= story_file.size() &&
         path.compare(path.size() - story_file.size(), story_file.size(), story_file) == 0;
}

std::string ask(AppState& state) {
  state.first_time = false;
  for (const StoryEntry& story : state.stories) {
    if (!is_its_story(story.path) || !story.problem.empty()) continue;
    state.first_asked = true;
    return story.path;
  }
  return {};
}

void begin(AppState& state) {
  state.first.reset();
  // Another story asked for before may come first.
  if (!is_its_story(state.story_path) || !std::exchange(state.first_asked, false)) return;
  state.first = FirstMinute::raise_complexes;
  state.first_pulled = false;
  state.day = from_day;
  state.from_today = true;
  state.document.edits = {{state.document.story.model->known().antigen_release, -1, -1.0, debris, 0.0}};
  state.view = View::balance;
}

void pulled(AppState& state, const MoveLever& move) {
  const auto wanted = first_minute_lever(state);
  if (!wanted || *wanted != move.lever) return;
  state.first_pulled = move.value >= first_minute_goal(state) - 1e-9;
  if (!move.dragging) let_go(state);
}

void let_go(AppState& state) {
  if (!state.first || !std::exchange(state.first_pulled, false)) return;
  state.first = *state.first == FirstMinute::raise_complexes ? FirstMinute::watch_it_fall : FirstMinute::watch_it_rise;
  state.first_from = state.day;
  state.speed = days_a_second;
  state.playing = true;
}

void watch(AppState& state) {
  if (!state.first || !state.run) return;
  const bool falls = *state.first == FirstMinute::watch_it_fall;
  if (!falls && *state.first != FirstMinute::watch_it_rise) return;
  const double moved = (state.run->c3(state.day) - state.run->c3(state.first_from)) / state.run->usual_c3();
  const bool enough = (falls ? -moved : moved) >= share_seen;
  if (!enough && state.playing && state.day < state.first_from + days_watched) return;
  state.playing = false;
  state.first = falls ? FirstMinute::raise_liver : FirstMinute::done;
}

}  // namespace first_minute

}  // namespace drawdown::stage
