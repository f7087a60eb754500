// Options, and what each command does.
#include "command/command.hpp"

#include <imgui.h>
#include <CLI/CLI.hpp>

#include <filesystem>
#include <iostream>

#include "command/account_table.hpp"
#include "command/clinic.hpp"
#include "command/files.hpp"
#include "command/labs.hpp"
#include "command/options.hpp"
#include "command/picture.hpp"
#include "command/session.hpp"
#include "command/stories.hpp"
#include "command/tables.hpp"
#include "command/terminal.hpp"
#include "command/truth.hpp"
#include "disk/disk.hpp"
#include "exchange/sbml.hpp"
#include "scenario/read.hpp"
#include "scenario/visible.hpp"
#include "shell/shell.hpp"
#include "stage/action.hpp"
#include "study/claims.hpp"
#include "study/clinic_text.hpp"
#include "work/worker.hpp"

namespace drawdown::command {

namespace {

struct Options {
  std::string file;
  std::string csv;
  std::string sbml = "-";
  std::string size = "1600x900";
  std::string protein = "C3";
  std::vector<std::string> set;
  double day = -1.0;
  double quit_after = 0.0;
  bool forward = false;
  double noise = 0.0;
  bool words = false;
  double every = 24.0;
  std::string depth = "plain";
  std::string language = "en";
};

int list() {
  for (const stage::StoryEntry& story : shipped_stories()) {
    std::cout << std::filesystem::path(story.path).stem().string() << "\t" << scenario::visible(story.title) << "\t"
              << scenario::visible(story.problem.empty() ? story.message : story.problem) << '\n';
  }
  return done;
}

int check(const Options& o) {
  scenario::Scenario story;
  const std::string path = story_path(o.file);
  must_exist(path);
  try {
    story = scenario::read_file(path);
  } catch (const scenario::ReadError& error) {
    std::cout << error.what() << '\n';
    return finding;
  }
  // What the message and the talk say of the numbers is held to the run.
  std::size_t false_ones = 0;
  std::size_t claims = story.claims.size();
  for (const scenario::TalkStep& step : story.talk) claims += step.claims.size();
  if (claims > 0) {
    const auto run = simulate(story);
    for (const study::ClaimChecked& c : study::check_claims(*run)) {
      if (c.holds) continue;
      false_ones += 1;
      std::cout << o.file << ":" << c.claim->line << ":" << c.claim->column << ": not so: \"" << c.claim->text
                << "\" in "
                << (c.step ? "step " + std::to_string(*c.step + 1) + " of the talk" : std::string("the message"))
                << ": on day " << look::number(c.day, 0) << " it is " << look::number(c.left, 3) << " against "
                << look::number(c.right, 3) << '\n';
    }
  }
  if (false_ones > 0) return finding;
  std::cout << o.file << ": in order: \"" << story.title << "\"; days: " << story.days
            << ", events: " << story.events.size() << ", claims that hold: " << claims << '\n';
  return done;
}

// Refused before the work is done: a target that cannot be written, or the file being read.
void check_output(const std::string& target, const std::string& source) {
  if (target.empty() || target == "-") return;
  disk::check_differ(target, source);
  disk::check_target(target);
}

int course(const Options& o) {
  check_output(o.csv, story_path(o.file));
  stage::AppState state = state_for(story_path(o.file), std::max(0.0, o.day));
  state = with_sets(std::move(state), o.set);
  const Run& run = *state.runs.now;
  if (!run.complete()) std::cerr << "drawdown: " << stopped_text(state) << '\n';
  const auto table = [&] {
    if (!o.words) return course_csv(run);
    const auto words = look::WordBook::load(data_folder() + "/assets/" + o.language + ".toml");
    const auto depth = look::named<look::Depth>(look::depth_names, o.depth).value_or(look::Depth::plain);
    return account_csv(run, o.every, words, depth);
  };
  if (o.csv == "-" || (o.csv.empty() && o.words)) {
    std::cout << table();
  } else if (!o.csv.empty()) {
    disk::write_file(o.csv, table());
  } else {
    std::cout << course_table(run);
  }
  return run.complete() ? done : could_not;
}

int sbml(const Options& o) {
  check_output(o.sbml, story_path(o.file));
  const stage::AppState state = state_for(story_path(o.file), 0.0);
  const std::string document = exchange::to_sbml(*state.runs.now);
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
  std::cout << tracer_table(study::tracer_study(*state.runs.now, protein, day, options), o.protein, day);
  return done;
}

int sensitivity(const Options& o) {
  const stage::AppState state = state_for(story_path(o.file), o.day);
  std::cout << effects_table(*state.runs.now, state.time.day, o.forward);
  return done;
}

int window(const Options& o, const Screen& screen) {
  const Size size = size_of(o.size);
  const bool story_asked_for = !o.file.empty();
  stage::AppState state;
  state.page.overlay = stage::Overlay::cautions;
  // A session or a story that cannot be opened still opens the window, on the opening story, and says what is wrong.
  std::string problem;
  const auto attempt = [&problem](const auto& what) {
    try {
      what();
    } catch (const std::exception& error) {
      problem = error.what();
    }
  };
  std::string session_file = screen.session;
  attempt([&] { take_up_session(state, session_file, !story_asked_for); });
  state.first.time = state.page.overlay == stage::Overlay::cautions && !story_asked_for;
  if (story_asked_for) attempt([&] { state = opened(state, story_path(o.file)); });
  if (!state.runs.now) state = opened(std::move(state), opening_story());
  if (!problem.empty()) state.problem = problem;
  state.files.stories = shipped_stories();
  state.files.example = data_folder() + "/assets/example-results.csv";
  state.files.own = screen.own_numbers;
  std::error_code code;
  if (!screen.own_numbers.empty() && std::filesystem::exists(screen.own_numbers, code)) {
    attempt([&] {
      const std::string text = disk::read_whole_file(screen.own_numbers, labs::most_bytes);
      state = stage::reduce(std::move(state), stage::ResultsText{"", text, true}).state;
    });
  }
  return screen.window(std::move(state), session_file, static_cast<int>(size.width), static_cast<int>(size.height),
                       o.quit_after);
}

int carry_out(int argc, char** argv, const Screen& screen) {
  CLI::App app{"Drawdown: a teaching simulator of the complement system. Not for diagnosis or treatment decisions."};
  app.set_version_flag("--version", std::string("drawdown ") + DRAWDOWN_VERSION);
  Options o;
  app.add_option("story", o.file, "Story to open in the window: a file, or a name from `drawdown list`")
      ->check(some_name());
  app.add_option("--size", o.size, "Window size, WIDTHxHEIGHT")->capture_default_str();
  app.add_option("--quit-after", o.quit_after, "Close the window after so many seconds")
      ->check(number_within(0.0, 86400.0));
  app.require_subcommand(0, 1);

  CLI::App* list_command = app.add_subcommand("list", "The shipped stories");
  CLI::App* check_command = app.add_subcommand("check", "Is a story in order? All problems with their place");
  check_command->add_option("file", o.file, "Story file")->required()->check(some_name());
  CLI::App* course_command = app.add_subcommand("course", "Run a story and print its course");
  course_command->add_option("file", o.file, "Story file or name")->required()->check(some_name());
  course_command->add_option("--csv", o.csv, "Write one row a day as CSV to this file (- = here)")
      ->check(file_to_write({".csv"}, true));
  course_command->add_option("--set", o.set, "lever=value, laid over the story; may be repeated");
  course_command->add_option("--day", o.day, "Day whose governing value --set changes")
      ->check(number_within(0.0, 3650.0));
  CLI::Option* words_flag = course_command->add_flag(
      "--words", o.words, "Why each level is where it is, and in words, as CSV (here, or to the file of --csv)");
  course_command->add_option("--every", o.every, "With --words: a row every so many hours")
      ->check(number_within(1.0, 8760.0))
      ->needs(words_flag)
      ->capture_default_str();
  course_command->add_option("--depth", o.depth, "With --words: depth of words")
      ->check(CLI::IsMember(std::vector<std::string>(look::depth_names.begin(), look::depth_names.end())))
      ->needs(words_flag)
      ->capture_default_str();
  course_command->add_option("--language", o.language, "With --words: language")
      ->check(CLI::IsMember(languages()))
      ->needs(words_flag)
      ->capture_default_str();
  PictureOptions still;
  CLI::App* picture_command = add_picture(app, still);
  CLI::App* tracer_command =
      app.add_subcommand("tracer", "Label a trace of C3 or C4 in a story and follow it ten days");
  tracer_command->add_option("file", o.file, "Story file or name")->required()->check(some_name());
  tracer_command->add_option("--protein", o.protein, "Protein")
      ->check(CLI::IsMember({"C3", "C4"}))
      ->capture_default_str();
  tracer_command->add_option("--day", o.day, "Day of the injection")->check(number_within(0.0, 3650.0));
  tracer_command->add_option("--noise", o.noise, "Counting noise of the whole dose, %")
      ->check(number_within(0.0, 20.0));
  CLI::App* equations_command =
      app.add_subcommand("equations", "Every equation, constant, unit and source, as Markdown");
  CLI::App* sensitivity_command = app.add_subcommand("sensitivity", "Which lever moves C3 and C4 most on a day");
  sensitivity_command->add_option("file", o.file, "Story file or name")->required()->check(some_name());
  sensitivity_command->add_option("--day", o.day, "Day")->check(number_within(0.0, 3650.0));
  sensitivity_command->add_flag("--forward", o.forward, "By the variational equations instead of differences");
  CLI::App* sbml_command = app.add_subcommand("sbml", "Write a story as SBML Level 3 Version 2, with units");
  sbml_command->add_option("file", o.file, "Story file or name")->required()->check(some_name());
  sbml_command->add_option("-o,--out", o.sbml, "File to write (- = here)")
      ->check(file_to_write({".xml", ".sbml"}, true))
      ->capture_default_str();
  LabsOptions own;
  CLI::App* labs_command = add_labs(app, own);
  ClinicOptions many;
  CLI::App* clinic_command = add_clinic(app, many);
  TruthOptions ledger;
  CLI::App* truth_command = add_truth(app, ledger);

  try {
    app.parse(argc, argv);
    if (*list_command) return list();
    if (*check_command) return check(o);
    if (*course_command) return course(o);
    if (*picture_command) return write_picture(still, screen);
    if (*tracer_command) return tracer(o);
    if (*labs_command) return run_labs(own);
    if (*clinic_command) return run_clinic(many);
    if (*truth_command) return run_truth(ledger);
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
  } catch (const study::PartError& error) {
    std::cerr << "drawdown: " << error.what() << '\n';
    return misuse;
  } catch (const std::invalid_argument& error) {
    std::cerr << "drawdown: " << error.what() << '\n';
    return misuse;
  } catch (const std::exception& error) {
    std::cerr << "drawdown: " << error.what() << '\n';
    return could_not;
  }
}

}  // namespace

int run(int argc, char** argv, const Screen& screen) {
  int code = done;
  {
    const VisibleOutput out(std::cout);
    const VisibleOutput errors(std::cerr);
    code = carry_out(argc, argv, screen);
    std::cout.flush();
  }
  std::cout.flush();
  if (std::cout) return code;
  std::cerr << "drawdown: what was to be printed could not be written: a full disk, or nobody reads it any more\n";
  return could_not;
}

}  // namespace drawdown::command
