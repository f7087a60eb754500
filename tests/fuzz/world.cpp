#include "fuzz/world.hpp"

#include <algorithm>
#include <utility>

#include "scenario/read.hpp"

namespace drawdown::fuzz {

namespace {

// Two levers moved, a talk with a question, a second person; twenty days, so that a run is cheap.
constexpr const char* flare_text = R"(title = "A short flare"
days = 20
learn = ["Levels fall when more is used."]
sources = ["invented"]
[message]
plain = "It falls and comes back."
[levers]
antibody_drive = 0.4
[beside]
hepatic_output = 0.7
[[event]]
day = 2
lever = "antibody_drive"
value = 6
ramp_days = 3
label = "flare"
[[event]]
day = 12
lever = "plasma_exchange"
value = 0.4
for_hours = 2
[[talk]]
day = 1
look = "balance"
plain = "Before."
[[talk]]
day = 9
look = "course"
plain = "It falls."
ask = "Why?"
reveal = "More is used."
[[talk]]
day = 19
look = "lab"
plain = "After."
)";
constexpr const char* steady_text = "title = \"Nothing happens\"\ndays = 30\n[message]\nplain = \"All is steady.\"\n";
constexpr const char* short_text =
    "title = \"One day\"\ndays = 1\n[levers]\nc4_gene_copies = 2\n[laboratory]\nunit = \"mg/dL\"\n";
constexpr const char* results_text =
    "date,C3,C4,treatment\n2024-01-05,1.1937,0.1973,zwirbel7\n2024-02-05,0.8,<0.05,zwirbel7\n2024-03-05,0.7,0.1,\n"
    "2024-04-31,1,1,zwirbel7\n";

const std::vector<std::pair<std::string, scenario::Scenario>>& stories() {
  static const std::vector<std::pair<std::string, scenario::Scenario>> all = [] {
    std::vector<std::pair<std::string, scenario::Scenario>> made;
    for (const auto& [path, text] : {std::pair{"/memory/flare.toml", flare_text},
                                     {"/memory/01-steady-day.toml", steady_text},
                                     {"/memory/one-day.toml", short_text}}) {
      made.emplace_back(path, scenario::read_text(text, path));
    }
    return made;
  }();
  return all;
}

// The run of a story as told, made once for each.
std::shared_ptr<const Run> ready_run(const scenario::Scenario& story, bool second_person) {
  static std::map<std::pair<std::string, bool>, std::shared_ptr<const Run>> made;
  auto& run = made[{story.name, second_person}];
  if (!run) {
    for (const auto& [path, told] : stories()) {
      if (told.name == story.name) run = simulate(second_person ? scenario::beside_story(told) : told);
    }
  }
  return run;
}

// What the worker makes of a run, made once: it costs more than the run.
struct Told {
  std::shared_ptr<const readout::Account> account;
  std::shared_ptr<const stage::FlowCourse> flows;
};
const Told& told_of(const std::shared_ptr<const Run>& run) {
  static std::map<std::shared_ptr<const Run>, Told> made;
  const auto [at, is_new] = made.try_emplace(run);
  if (is_new && run && run->started()) at->second = {account_with(run), stage::flow_course(*run)};
  return at->second;
}

// One whose body does not come to rest.
std::shared_ptr<const Run> stuck_run() {
  static const auto made = [] {
    SimulateOptions few;
    few.step_limit = 3;
    return simulate(stories().front().second, few);
  }();
  return made;
}

stage::Action ready_study(const stage::Effect& effect) {
  if (const auto* fit = std::get_if<stage::RunFit>(&effect)) return stage::StudyFailed{"not now", fit->control};
  if (std::holds_alternative<stage::RunTruth>(effect)) {
    return stage::TruthFinished{{{"K1", "standing", "1.0", 0.9, 1.1, "g/L", "invented", 1.0, "a note"},
                                 {"K2", "walking", "1.0", 0.9, 1.1, "g/L", "invented", 1.2, ""}}};
  }
  if (const auto* circle = std::get_if<stage::RunCircle>(&effect)) {
    return stage::CircleFinished{{{circle->day, 0.0, circle->tissue, 0.0, {}}, circle->number}};
  }
  return stage::StudyFailed{"not now"};
}

}  // namespace

const std::vector<std::string>& story_paths() {
  static const std::vector<std::string> all{"/memory/flare.toml", "/memory/01-steady-day.toml", "/memory/one-day.toml",
                                            "/memory/broken.toml"};
  return all;
}

const std::string& results_path() {
  static const std::string path = "/memory/results.csv";
  return path;
}

const std::string& own_path() {
  static const std::string path = "/memory/kept.csv";
  return path;
}

void World::submit(stage::Effect effect) {
  auto& queue = queues_[stage::is_study(effect) ? 1 : 0];
  if (std::holds_alternative<stage::RunStory>(effect)) {
    queue.erase(std::remove_if(queue.begin(), queue.end(),
                               [](const auto& e) { return std::holds_alternative<stage::RunStory>(e); }),
                queue.end());
  }
  queue.push_back(std::move(effect));
}

std::optional<stage::Action> World::answer(bool of_studies) {
  auto& queue = queues_[of_studies ? 1 : 0];
  if (queue.empty()) return std::nullopt;
  const stage::Effect effect = std::move(queue.front());
  queue.pop_front();
  return carry_out(effect);
}

stage::Action World::carry_out(const stage::Effect& effect) {
  if (const auto* read = std::get_if<stage::ReadStory>(&effect)) {
    for (const auto& [path, story] : stories()) {
      if (path == read->path) return stage::StoryOpened{story, path};
    }
    return stage::ReportProblem{read->path + ": no such file, or not a plain file"};
  }
  if (const auto* read = std::get_if<stage::ReadResults>(&effect)) {
    if (read->path == results_path()) return stage::ResultsText{read->path, results_text, false, read->asked};
    return stage::ReportProblem{read->path + ": no such file"};
  }
  if (const auto* write = std::get_if<stage::WriteResults>(&effect)) {
    files_[write->path] = write->text;
    return stage::WrittenDown{write->path, true};
  }
  if (const auto* away = std::get_if<stage::DeleteResults>(&effect)) {
    files_.erase(away->path);
    return stage::ResultsDeleted{};
  }
  if (const auto* list = std::get_if<stage::ListFolder>(&effect)) {
    return stage::FolderListed{{list->path, {{"stories", true}, {"flare.toml", false}, {"results.csv", false}}, ""}};
  }
  if (const auto* sketch = std::get_if<stage::SketchStory>(&effect)) return stage::StorySketched{sketch->path, nullptr};
  if (std::holds_alternative<stage::MakeSheet>(effect)) return stage::WrittenDown{"/memory/sheet.pdf", false};
  static work::Executor executor;
  if (stage::is_study(effect)) {
    const bool cheap = std::holds_alternative<stage::RunTruth>(effect) || std::holds_alternative<stage::RunFit>(effect);
    return real_ && !cheap && studies_left_-- > 0 ? executor.carry_out(effect) : ready_study(effect);
  }
  if (real_ && runs_left_-- > 0) return executor.carry_out(effect);
  if (const auto* beside = std::get_if<stage::RunBeside>(&effect)) {
    const auto run = ready_run(beside->story, true);
    return stage::BesideFinished{run, beside->number, told_of(run).account};
  }
  if (const auto* run = std::get_if<stage::RunStory>(&effect)) {
    const auto ready = run->number % 8 == 7 ? stuck_run() : ready_run(run->story, false);
    return stage::RunFinished{run->number, ready, told_of(ready).account, told_of(ready).flows};
  }
  return executor.carry_out(effect);
}

stage::AppState first_state() {
  static const stage::AppState first = [] {
    stage::AppState state;
    for (const auto& [path, story] : stories()) {
      state.files.stories.push_back({path, story.title, story.message.plain, ""});
    }
    state.files.stories.push_back({story_paths().back(), "broken.toml", "", "cannot be read"});
    state.files.example = results_path();
    state.files.own = own_path();
    World world(false);
    const auto& [path, story] = stories().front();
    stage::Step step = stage::reduce(std::move(state), stage::StoryOpened{story, path});
    for (stage::Effect& effect : step.effects) world.submit(std::move(effect));
    while (const auto answer = world.answer(false)) step = stage::reduce(std::move(step.state), *answer);
    return step.state;
  }();
  return first;
}

}  // namespace drawdown::fuzz
