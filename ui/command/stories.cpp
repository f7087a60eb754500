// Finding and opening stories.
#include "command/stories.hpp"

#include <CLI/CLI.hpp>

#include <filesystem>
#include <set>
#include <sstream>

#include "command/files.hpp"
#include "command/today.hpp"
#include "scenario/decimal.hpp"
#include "scenario/read.hpp"
#include "stage/action.hpp"
#include "work/worker.hpp"

namespace drawdown::command {

std::string story_path(const std::string& given) {
  std::error_code code;
  if (given.empty()) return opening_story();
  if (std::filesystem::exists(given, code)) return given;
  for (const auto& file : std::filesystem::directory_iterator(data_folder() + "/scenarios", code)) {
    const std::string stem = file.path().stem().string();
    const bool shipped = file.path().extension() == ".toml";
    if (shipped && (stem == given || (stem.size() > 3 && stem.substr(3) == given))) return file.path().string();
  }
  return given;
}

std::vector<stage::StoryEntry> shipped_stories() {
  return work::list_stories(data_folder() + "/scenarios");
}

std::string opening_story() {
  return data_folder() + "/scenarios/02-kidney-flare.toml";
}

stage::AppState opened(stage::AppState state, const std::string& path) {
  scenario::Scenario story = scenario::read_file(path);
  state = work::Executor().settle(std::move(state), stage::StoryOpened{std::move(story), path});
  if (!state.runs.now) throw std::runtime_error(path + ": " + stopped_text(state));
  return state;
}

std::string stopped_text(const stage::AppState& state) {
  return stage::banner_text(state, look::WordBook::load(data_folder() + "/assets/en.toml"));
}

stage::AppState state_for(const std::string& path, double day) {
  stage::AppState fresh;  // by name: GCC 12 takes a nameless one for uninitialized
  fresh.today = today();
  stage::AppState state = opened(std::move(fresh), path);
  if (day > state.runs.now->last_day()) {
    std::ostringstream out;
    out << day << " is no day of this story; its days are 0 to " << state.runs.now->last_day();
    throw CLI::ValidationError("--day", out.str());
  }
  if (day >= 0.0) state = stage::reduce(std::move(state), stage::GoToDay{day}).state;
  return state;
}

stage::AppState with_sets(stage::AppState state, const std::vector<std::string>& sets) {
  work::Executor executor;
  std::set<std::string> named;
  for (const std::string& text : sets) {
    const std::size_t equals = text.find('=');
    const std::string name = text.substr(0, equals);
    const scenario::Scenario& story = state.document.now.story;
    const auto lever = story.model->find_lever(name);
    if (!lever) {
      std::vector<std::string> names;
      for (const body::Lever& l : story.lever_rows()) names.push_back(l.name);
      const std::string near = scenario::nearest(name, names);
      throw CLI::ValidationError("--set", "'" + text + "' is not lever=value" +
                                              (near.empty() ? std::string() : "; did you mean '" + near + "'?"));
    }
    const body::Lever& l = story.lever_rows()[*lever];
    if (!named.insert(name).second) throw CLI::ValidationError("--set", "'" + name + "' is set twice");
    const auto value =
        scenario::read_decimal(equals == std::string::npos ? "" : std::string_view(text).substr(equals + 1));
    if (!value || !(*value >= l.least && *value <= l.most)) {
      std::ostringstream out;
      out << "'" << name << "=' takes a number from " << l.least << " to " << l.most;
      throw CLI::ValidationError("--set", out.str());
    }
    state = executor.settle(std::move(state), stage::MoveLever{*lever, *value, false});
  }
  return state;
}

}  // namespace drawdown::command
