// Options, and what each command does.
#include "command/command.hpp"

#include <imgui.h>
#include <CLI/CLI.hpp>

#include <filesystem>
#include <fstream>
#include <iostream>

#include "command/files.hpp"
#include "command/labs.hpp"
#include "command/session.hpp"
#include "command/tables.hpp"
#include "disk/disk.hpp"
#include "exchange/sbml.hpp"
#include "scenario/read.hpp"
#include "shell/shell.hpp"
#include "stage/action.hpp"
#include "stage/worker.hpp"

namespace drawdown::command {

namespace {

struct Options {
  std::string file;
  std::string csv;
  std::string sbml = "-";
  std::string out = "drawdown.png";
  std::string view = "balance";
  int talk = 0;
  std::string results;
  std::string own_page = "findings";
  std::string size = "1600x900";
  std::string room = "bright";
  std::string depth = "plain";
  std::string track = "none";
  std::string language = "en";
  std::string protein = "C3";
  std::vector<std::string> set;
  double day = -1.0;
  int text = 100;
  double quit_after = 0.0;
  bool forward = false;
  double noise = 0.0;
};

// A story by path, or by name or number among the shipped ones.
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

struct Size {
  unsigned width = 0;
  unsigned height = 0;
};

Size size_of(const Options& o) {
  Size s;
  int used = 0;
  const bool read = std::sscanf(o.size.c_str(), "%5ux%5u%n", &s.width, &s.height, &used) == 2 &&
                    static_cast<std::size_t>(used) == o.size.size();
  if (!read || s.width < 640 || s.width > 7680 || s.height < 400 || s.height > 4320) {
    throw CLI::ValidationError("--size", "'" + o.size + "' is not WIDTHxHEIGHT from 640x400 to 7680x4320");
  }
  return s;
}

std::vector<stage::StoryEntry> shipped_stories() {
  return stage::list_stories(data_folder() + "/scenarios");
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

// "lever=value" laid over the story as a whole (the value that governs the day shown).
void apply_sets(stage::AppState& state, const std::vector<std::string>& sets) {
  stage::Executor executor;
  for (const std::string& text : sets) {
    const std::size_t equals = text.find('=');
    const std::string name = text.substr(0, equals);
    const int lever = body::lever_index(name);
    if (lever < 0 || equals == std::string::npos) {
      std::vector<std::string> names;
      for (const body::Lever& l : body::levers()) names.push_back(l.name);
      const std::string near = scenario::nearest(name, names);
      throw CLI::ValidationError("--set", "'" + text + "' is not lever=value" +
                                              (near.empty() ? std::string() : "; did you mean '" + near + "'?"));
    }
    const body::Lever& l = body::levers()[static_cast<std::size_t>(lever)];
    std::size_t used = 0;
    double value = 0.0;
    try {
      value = std::stod(text.substr(equals + 1), &used);
    } catch (const std::exception&) {
      used = 0;
    }
    if (used == 0 || used != text.size() - equals - 1 || value < l.least || value > l.most) {
      std::ostringstream out;
      out << "'" << name << "' takes a number from " << l.least << " to " << l.most;
      throw CLI::ValidationError("--set", out.str());
    }
    state = executor.settle(std::move(state), stage::MoveLever{static_cast<std::size_t>(lever), value, false});
  }
}

int list() {
  for (const stage::StoryEntry& story : shipped_stories()) {
    std::cout << std::filesystem::path(story.path).stem().string() << "\t" << story.title << "\t"
              << (story.problem.empty() ? story.message : story.problem) << '\n';
  }
  return done;
}

int check(const Options& o) {
  try {
    const scenario::Scenario story = scenario::read_file(story_path(o.file));
    std::cout << o.file << ": in order: \"" << story.title << "\", " << story.events.size() << " events, " << story.days
              << " days\n";
    return done;
  } catch (const scenario::ReadError& error) {
    std::cout << error.what() << '\n';
    return finding;
  }
}

int course(const Options& o) {
  stage::AppState state = state_for(story_path(o.file), std::max(0.0, o.day));
  apply_sets(state, o.set);
  const Run& run = *state.run;
  if (!run.complete()) std::cerr << "drawdown: " << state.problem << '\n';
  if (o.csv == "-") {
    std::cout << course_csv(run);
  } else if (!o.csv.empty()) {
    disk::write_file(o.csv, course_csv(run));
  } else {
    std::cout << course_table(run);
  }
  return run.complete() ? done : could_not;
}

int sbml(const Options& o) {
  const stage::AppState state = state_for(story_path(o.file), 0.0);
  const std::string document = exchange::to_sbml(*state.run);
  if (o.sbml == "-") {
    std::cout << document;
  } else {
    disk::write_file(o.sbml, document);
  }
  return done;
}

int tracer(const Options& o) {
  const stage::AppState state = state_for(story_path(o.file), 0.0);
  const auto protein = o.protein == "C4" ? study::Traced::c4 : study::Traced::c3;
  const double day = o.day < 0.0 ? 0.0 : o.day;
  study::TracerOptions options;
  options.counting_noise = o.noise / 100.0;
  std::cout << tracer_table(study::tracer_study(*state.run, protein, day, options), o.protein, day);
  return done;
}

int sensitivity(const Options& o) {
  const stage::AppState state = state_for(story_path(o.file), o.day);
  std::cout << effects_table(*state.run, state.day, o.forward);
  return done;
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
    state.view = *view;
  } else if (const auto page = look::named<stage::StudyPage>(stage::study_page_names, name)) {
    state.study_page = *page;
    state = stage::Executor().settle(std::move(state), stage::SetView{stage::View::study});
  } else {
    state.stories = shipped_stories();
    if (name == "first") {
      state = stage::Executor().settle(std::move(state), stage::StartFirstMinute{});
      return;
    }
    state.overlay = look::named<stage::Overlay>(stage::overlay_names, name).value_or(stage::Overlay::none);
    if (state.overlay == stage::Overlay::files) {
      state = stage::Executor().settle(std::move(state), stage::OpenFolder{data_folder() + "/scenarios"});
    }
  }
}

int picture(const Options& o, const Screen& screen) {
  const Size size = size_of(o);
  stage::AppState state = state_for(story_path(o.file), o.day);
  // The run as told stays as the ghost to compare with.
  if (!o.set.empty()) state = stage::reduce(std::move(state), stage::KeepRun{}).state;
  apply_sets(state, o.set);
  show_view(state, o.view);
  if (!o.results.empty()) {
    stage::Executor executor;
    state = executor.settle(std::move(state), stage::OpenResults{o.results});
    if (!state.problem.empty()) throw std::runtime_error(state.problem);
    const auto page = look::named<stage::OwnPage>(stage::own_page_names, o.own_page).value_or(stage::OwnPage::findings);
    if (page == stage::OwnPage::fit) state = executor.settle(std::move(state), stage::AskFit{});
    state.own.page = page;
  }
  if (o.talk > 0) {
    state = stage::reduce(std::move(state), stage::StartTalk{}).state;
    state = stage::reduce(std::move(state), stage::JumpTalk{static_cast<std::size_t>(o.talk - 1)}).state;
    state = stage::reduce(std::move(state), stage::Reveal{}).state;
  }
  state.track = look::named<stage::Track>(stage::track_names, o.track).value_or(stage::Track::none);
  state.look.text_percent = o.text;
  state.look.spanish = o.language == "es";
  state.look.room = look::named<look::Room>(look::room_names, o.room).value_or(look::Room::bright);
  state.depth = look::named<look::Depth>(look::depth_names, o.depth).value_or(look::Depth::plain);
  if (std::filesystem::path(o.out).extension() == ".svg") {
    disk::write_file(o.out, svg_of(std::move(state), static_cast<float>(size.width), static_cast<float>(size.height)));
  } else {
    screen.picture(std::move(state), size.width, size.height, o.out);
  }
  return done;
}

int window(const Options& o, const Screen& screen) {
  const Size size = size_of(o);
  const bool story_asked_for = !o.file.empty();
  stage::AppState state;
  state.overlay = stage::Overlay::cautions;
  // A session or a story that cannot be opened still opens the window, on the opening story, and says what is wrong.
  std::string problem;
  const auto attempt = [&problem](const auto& what) {
    try {
      what();
    } catch (const std::exception& error) {
      problem = error.what();
    }
  };
  if (const auto session = disk::read_small_file(screen.session)) {
    attempt([&] { restore_session(state, *session, screen.session, !story_asked_for); });
  }
  state.first_time = state.overlay == stage::Overlay::cautions && !story_asked_for;
  if (story_asked_for) attempt([&] { state = opened(state, story_path(o.file)); });
  if (!state.run) state = opened(std::move(state), opening_story());
  if (!problem.empty()) state.problem = problem;
  state.stories = shipped_stories();
  state.example_file = data_folder() + "/assets/example-results.csv";
  state.own_file = screen.own_numbers;
  std::error_code code;
  if (!screen.own_numbers.empty() && std::filesystem::exists(screen.own_numbers, code)) {
    attempt([&] {
      const std::string text = disk::read_whole_file(screen.own_numbers, labs::most_bytes);
      state = stage::reduce(std::move(state), stage::ResultsText{"", text, true}).state;
    });
  }
  return screen.window(std::move(state), static_cast<int>(size.width), static_cast<int>(size.height), o.quit_after);
}

}  // namespace

std::string opening_story() {
  return data_folder() + "/scenarios/02-kidney-flare.toml";
}

stage::AppState opened(stage::AppState state, const std::string& path) {
  scenario::Scenario story = scenario::read_file(path);
  return stage::Executor().settle(std::move(state), stage::StoryOpened{std::move(story), path});
}

stage::AppState state_for(const std::string& path, double day) {
  stage::AppState state = opened({}, path);
  if (day >= 0.0) state = stage::reduce(std::move(state), stage::GoToDay{day}).state;
  return state;
}

int run(int argc, char** argv, const Screen& screen) {
  CLI::App app{"Drawdown: a teaching simulator of the complement system. Not for diagnosis or treatment decisions."};
  app.set_version_flag("--version", std::string("drawdown ") + DRAWDOWN_VERSION);
  Options o;
  app.add_option("story", o.file, "Story to open in the window: a file, or a name from `drawdown list`");
  app.add_option("--size", o.size, "Window size, WIDTHxHEIGHT")->capture_default_str();
  app.add_option("--quit-after", o.quit_after, "Close the window after so many seconds")
      ->check(CLI::Range(0.0, 86400.0));
  app.require_subcommand(0, 1);

  CLI::App* list_command = app.add_subcommand("list", "The shipped stories");
  CLI::App* check_command = app.add_subcommand("check", "Is a story in order? All problems with their place");
  check_command->add_option("file", o.file, "Story file")->required();
  CLI::App* course_command = app.add_subcommand("course", "Run a story and print its course");
  course_command->add_option("file", o.file, "Story file or name")->required();
  course_command->add_option("--csv", o.csv, "Write one row a day as CSV to this file (- = here)");
  course_command->add_option("--set", o.set, "lever=value, laid over the story; may be repeated");
  course_command->add_option("--day", o.day, "Day whose governing value --set changes")->check(CLI::Range(0.0, 3650.0));
  CLI::App* picture_command = app.add_subcommand("picture", "Draw a story's view into a PNG or SVG, without a window");
  picture_command->add_option("file", o.file, "Story file or name")->required();
  picture_command->add_option("--view", o.view, "View")->check(CLI::IsMember(picture_views()))->capture_default_str();
  picture_command->add_option("--day", o.day, "Day shown")->check(CLI::Range(0.0, 3650.0));
  picture_command->add_option("--talk", o.talk, "With this step of the talk, its answer shown")
      ->check(CLI::Range(1, 20));
  picture_command->add_option("--results", o.results, "Own results to show (CSV), with --view own");
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
      ->check(CLI::IsMember(list_of(language_names)))
      ->capture_default_str();
  picture_command->add_option("--track", o.track, "One more track")
      ->check(CLI::IsMember(list_of(stage::track_names)))
      ->capture_default_str();
  picture_command->add_option("--set", o.set, "lever=value, laid over the story; the story as told stays as a ghost");
  picture_command->add_option("-o,--out", o.out, "File to write, .png or .svg")->capture_default_str();
  CLI::App* tracer_command =
      app.add_subcommand("tracer", "Label a trace of C3 or C4 in a story and follow it ten days");
  tracer_command->add_option("file", o.file, "Story file or name")->required();
  tracer_command->add_option("--protein", o.protein, "Protein")
      ->check(CLI::IsMember({"C3", "C4"}))
      ->capture_default_str();
  tracer_command->add_option("--day", o.day, "Day of the injection")->check(CLI::Range(0.0, 3650.0));
  tracer_command->add_option("--noise", o.noise, "Counting noise of the whole dose, %")->check(CLI::Range(0.0, 20.0));
  CLI::App* equations_command =
      app.add_subcommand("equations", "Every equation, constant, unit and source, as Markdown");
  CLI::App* sensitivity_command = app.add_subcommand("sensitivity", "Which lever moves C3 and C4 most on a day");
  sensitivity_command->add_option("file", o.file, "Story file or name")->required();
  sensitivity_command->add_option("--day", o.day, "Day")->check(CLI::Range(0.0, 3650.0));
  sensitivity_command->add_flag("--forward", o.forward, "By the variational equations instead of differences");
  CLI::App* sbml_command = app.add_subcommand("sbml", "Write a story as SBML Level 3 Version 2, with units");
  sbml_command->add_option("file", o.file, "Story file or name")->required();
  sbml_command->add_option("-o,--out", o.sbml, "File to write (- = here)")->capture_default_str();
  LabsOptions own;
  CLI::App* labs_command = add_labs(app, own);
  CLI::App* truth_command = app.add_subcommand("truth", "Published values, the model's figures, and what it cannot do");

  try {
    app.parse(argc, argv);
    if (*list_command) return list();
    if (*check_command) return check(o);
    if (*course_command) return course(o);
    if (*picture_command) return picture(o, screen);
    if (*tracer_command) return tracer(o);
    if (*labs_command) return run_labs(own);
    if (*truth_command) {
      bool all_inside = false;
      std::cout << truth_text(all_inside);
      return all_inside ? done : finding;
    }
    if (*sensitivity_command) return sensitivity(o);
    if (*sbml_command) return sbml(o);
    if (*equations_command) {
      std::cout << equations_text();
      return done;
    }
    return window(o, screen);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? done : misuse;
  } catch (const scenario::ReadError& error) {
    std::cerr << error.what() << '\n';
    return misuse;
  } catch (const labs::ReadError& error) {
    std::cerr << error.what() << '\n';
    return misuse;
  } catch (const std::invalid_argument& error) {
    std::cerr << "drawdown: " << error.what() << '\n';
    return misuse;
  } catch (const std::exception& error) {
    std::cerr << "drawdown: " << error.what() << '\n';
    return could_not;
  }
}

}  // namespace drawdown::command
