// The options of a picture, and drawing it.
#include "command/picture.hpp"

#include <imgui.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cstdio>
#include <filesystem>

#include "command/files.hpp"
#include "command/options.hpp"
#include "command/session.hpp"
#include "command/stories.hpp"
#include "disk/disk.hpp"
#include "labs/read.hpp"
#include "shell/shell.hpp"
#include "stage/action.hpp"
#include "work/worker.hpp"

namespace drawdown::command {

namespace {

std::vector<std::string> track_names() {
  std::vector<std::string> names;
  for (stage::Track& track : stage::tracks_of(*body::standard_model())) names.push_back(std::move(track.key));
  return names;
}

// What `picture --view` takes: the views, the study by its pages, and the pages that cover the screen.
std::vector<std::string> picture_views() {
  std::vector<std::string> all;
  for (const std::string_view name : stage::view_names) {
    if (name != "study") all.emplace_back(name);
  }
  for (const std::string_view name : stage::study_page_names) all.emplace_back(name);
  for (const std::string_view name : stage::overlay_names) {
    if (name != "none") all.emplace_back(name);
  }
  all.emplace_back("first");
  return all;
}

template <std::size_t N>
std::vector<std::string> list_of(const look::Names<N>& names) {
  return {names.begin(), names.end()};
}

// A slide with real text: needs the fonts, but neither a window nor a display.
std::string svg_of(stage::AppState state, float width, float height) {
  ImGui::CreateContext();
  ImGui::GetIO().IniFilename = nullptr;
  shell::Shell shell(std::move(state), data_folder() + "/assets");
  (void)shell.fit_fonts(width, height);
  std::string document = shell.svg(width, height);
  ImGui::DestroyContext();
  return document;
}

// One of picture_views().
void show_view(stage::AppState& state, const std::string& name) {
  if (const auto view = look::named<stage::View>(stage::view_names, name)) {
    state.page.view = *view;
    if (*view == stage::View::tissues) state = work::Executor().settle(std::move(state), stage::SetView{*view});
  } else if (const auto page = look::named<stage::StudyPage>(stage::study_page_names, name)) {
    state.study.page = *page;
    state = work::Executor().settle(std::move(state), stage::SetView{stage::View::study});
  } else {
    state.files.stories = shipped_stories();
    if (name == "first") {
      state = work::Executor().settle(std::move(state), stage::StartFirstMinute{});
      return;
    }
    const auto overlay = look::named<stage::Overlay>(stage::overlay_names, name).value_or(stage::Overlay::none);
    state = work::Executor().settle(std::move(state), stage::SetOverlay{overlay});
    if (state.page.overlay == stage::Overlay::files) {
      state = work::Executor().settle(std::move(state), stage::OpenFolder{data_folder() + "/scenarios"});
    }
  }
}

}  // namespace

Size size_of(const std::string& text) {
  Size s;
  int used = 0;
  const bool read = std::sscanf(text.c_str(), "%5ux%5u%n", &s.width, &s.height, &used) == 2 &&
                    static_cast<std::size_t>(used) == text.size();
  if (!read || s.width < 640 || s.width > 7680 || s.height < 400 || s.height > 4320) {
    throw CLI::ValidationError("--size", "'" + text + "' is not WIDTHxHEIGHT from 640x400 to 7680x4320");
  }
  return s;
}

CLI::App* add_picture(CLI::App& app, PictureOptions& o) {
  CLI::App* picture_command = app.add_subcommand("picture", "Draw a story's view into a PNG or SVG, without a window");
  picture_command->add_option("file", o.file, "Story file or name")->required()->check(some_name());
  picture_command->add_option("--view", o.view, "View")->check(CLI::IsMember(picture_views()))->capture_default_str();
  picture_command->add_option("--day", o.day, "Day shown")->check(number_within(0.0, 3650.0));
  picture_command->add_option("--talk", o.talk, "With this step of the talk, its answer shown")
      ->check(CLI::Range(1, 1000));
  picture_command->add_option("--results", o.results, "Own results to show (CSV), with --view own")->check(some_name());
  picture_command->add_option("--page", o.own_page, "Their page")
      ->check(CLI::IsMember(list_of(stage::own_page_names)))
      ->capture_default_str();
  picture_command->add_option("--size", o.size, "WIDTHxHEIGHT")->capture_default_str();
  picture_command->add_option("--text", o.text, "Text size, %")->check(CLI::Range(80, 200))->capture_default_str();
  picture_command->add_option("--room", o.room, "Light")
      ->check(CLI::IsMember(list_of(look::room_names)))
      ->capture_default_str();
  picture_command->add_option("--depth", o.depth, "Depth of words")
      ->check(CLI::IsMember(list_of(look::depth_names)))
      ->capture_default_str();
  picture_command->add_option("--language", o.language, "Language")
      ->check(CLI::IsMember(languages()))
      ->capture_default_str();
  picture_command->add_option("--track", o.track, "One more track")
      ->check(CLI::IsMember(track_names()))
      ->capture_default_str();
  picture_command->add_flag("--bare", o.bare, "Without words, figures and signs: can the picture be read?");
  picture_command->add_option("--set", o.set, "lever=value, laid over the story; the story as told stays as a ghost");
  picture_command->add_option("-o,--out", o.out, "File to write, .png or .svg")
      ->check(file_to_write({".png", ".svg"}, false))
      ->capture_default_str();
  return picture_command;
}

int write_picture(const PictureOptions& o, const Screen& screen) {
  const Size size = size_of(o.size);
  const std::string story = story_path(o.file);
  disk::check_differ(o.out, story);
  if (!o.results.empty()) {
    must_exist(o.results);
    disk::check_differ(o.out, o.results);
  }
  disk::check_target(o.out);
  stage::AppState state = state_for(story, o.day);
  // The run as told stays as the ghost to compare with.
  if (!o.set.empty()) state = stage::reduce(std::move(state), stage::KeepRun{}).state;
  state = with_sets(std::move(state), o.set);
  show_view(state, o.view);
  if (!o.results.empty()) {
    work::Executor executor;
    state = executor.settle(std::move(state), stage::OpenResults{o.results});
    if (!state.problem.empty()) throw std::runtime_error(state.problem);
    if (!state.own.problem.empty()) throw labs::ReadError(state.own.problem);
    const auto page = look::named<stage::OwnPage>(stage::own_page_names, o.own_page).value_or(stage::OwnPage::findings);
    if (page == stage::OwnPage::fit) state = executor.settle(std::move(state), stage::AskFit{});
    state.own.page = page;
  }
  if (o.talk > 0) {
    const std::size_t steps = state.document.now.story.talk.size();
    if (static_cast<std::size_t>(o.talk) > steps) {
      throw CLI::ValidationError("--talk", "the talk of this story has " + std::to_string(steps) + " steps");
    }
    state = stage::reduce(std::move(state), stage::StartTalk{}).state;
    state = stage::reduce(std::move(state), stage::JumpTalk{static_cast<std::size_t>(o.talk - 1)}).state;
    state = stage::reduce(std::move(state), stage::Reveal{}).state;
  }
  const auto tracks = track_names();
  state.page.track = static_cast<std::size_t>(std::find(tracks.begin(), tracks.end(), o.track) - tracks.begin());
  state.look.text_percent = o.text;
  state.look.language = o.language;
  state.look.bare = o.bare;
  state.look.room = look::named<look::Room>(look::room_names, o.room).value_or(look::Room::bright);
  state.page.depth = look::named<look::Depth>(look::depth_names, o.depth).value_or(look::Depth::plain);
  if (std::filesystem::path(o.out).extension() == ".svg") {
    const disk::Who who = o.results.empty() ? disk::Who::anyone : disk::Who::person;
    disk::write_file(o.out, svg_of(std::move(state), static_cast<float>(size.width), static_cast<float>(size.height)),
                     who);
  } else {
    screen.picture(std::move(state), size.width, size.height, o.out);
  }
  return done;
}

}  // namespace drawdown::command
