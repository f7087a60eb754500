// The worker thread and the effects.
#include "work/worker.hpp"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <set>
#include <sstream>
#include <tuple>
#include <utility>

#include "disk/disk.hpp"
#include "scenario/read.hpp"
#include "sheet/sheet.hpp"
#include "work/bank.hpp"

namespace drawdown::work {

using namespace stage;  // actions and effects, by the dozen

namespace {

// Two tables of one person have a line of values in common; the names of the columns say nothing.
bool share_a_line(const std::string& one, const std::string& other) {
  const auto lines_of = [](const std::string& text) {
    std::set<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
      if (line.find_first_of("0123456789") == 0) lines.insert(line);
    }
    return lines;
  };
  const std::set<std::string> there = lines_of(one);
  const std::set<std::string> here = lines_of(other);
  return std::any_of(here.begin(), here.end(), [&](const std::string& line) { return there.count(line) > 0; });
}

StorySketched sketch_story(const std::string& path) {
  const auto run = simulate(scenario::read_file(path));
  return {path, run->started() ? sketch_of(*run, Against::standard) : nullptr};
}

}  // namespace

Action Executor::carry_out(const Effect& effect, const std::atomic<std::uint64_t>* latest) {
  try {
    if (const auto* read = std::get_if<ReadStory>(&effect))
      return StoryOpened{scenario::read_file(read->path), read->path};
    if (const auto* results = std::get_if<ReadResults>(&effect)) {
      return ResultsText{results->path, disk::read_whole_file(results->path, labs::most_bytes), false, results->asked};
    }
    if (const auto* write = std::get_if<WriteResults>(&effect)) {
      // What another person kept here before is not written over.
      const auto before = disk::read_file_if_there(write->path, labs::most_bytes);
      if (before && !before->empty() && !share_a_line(*before, write->text)) disk::set_aside(write->path, "earlier");
      disk::write_file(write->path, write->text, disk::Who::person);
      return WrittenDown{write->path, true};
    }
    if (const auto* away = std::get_if<DeleteResults>(&effect)) {
      disk::forget_file(away->path);
      return ResultsDeleted{};
    }
    if (const auto* paper = std::get_if<MakeSheet>(&effect)) return make_sheet(*paper);
    if (const auto* fit = std::get_if<RunFit>(&effect)) {
      if (!fit->outlook) return FitFinished{explained(*fit), nullptr, fit->control};
      return FitFinished{nullptr,
                         std::make_shared<const labs::Fit>(labs::fit(fit->rows, fit->noise, {}, fit->control.get())),
                         fit->control};
    }
    if (const auto* list = std::get_if<ListFolder>(&effect)) return FolderListed{list_folder(list->path)};
    if (const auto* beside = std::get_if<RunBeside>(&effect)) {
      auto run = simulate(beside->story);
      auto account = run->started() ? account_with(run) : nullptr;
      return BesideFinished{std::move(run), beside->number, std::move(account)};
    }
    if (is_study(effect)) return carry_out_study(effect);
    if (const auto* sketch = std::get_if<SketchStory>(&effect)) return sketch_story(sketch->path);
    const auto& ask = std::get<RunStory>(effect);
    if (!body_ || body_->model != ask.story.model || !(body_->patient == ask.story.patient)) {
      body_ = body::make_body(ask.story.patient, ask.story.model);
    }
    SimulateOptions options;
    options.usual_levers = ask.usual_levers;
    if (latest != nullptr) options.keep_going = [&](double) { return latest->load() <= ask.number; };
    auto run = simulate(body_, ask.story, options);
    const bool cancelled = run->outcome().status == solve::Status::cancelled;
    const bool whole = run->started() && !cancelled;
    auto account = whole ? account_with(run) : nullptr;
    auto flows = whole ? flow_course(*run) : nullptr;
    return RunFinished{ask.number, std::move(run), std::move(account), std::move(flows)};
  } catch (const std::exception& error) {
    const auto* fit = std::get_if<RunFit>(&effect);
    if (const auto* sketch = std::get_if<SketchStory>(&effect)) return StorySketched{sketch->path, nullptr};
    if (const auto* ask = std::get_if<RunCircle>(&effect)) {
      // Without links: the page says so, and does not ask again for this day.
      return CircleFinished{{{ask->day, 0.0, ask->tissue, 0.0, {}}, ask->number}};
    }
    if (is_study(effect)) return StudyFailed{error.what(), fit != nullptr ? fit->control : nullptr};
    return ReportProblem{error.what()};
  }
}

std::shared_ptr<const labs::Explained> Executor::explained(const RunFit& ask) const {
  study::explain::BankOptions options;
  options.people = bank_people_;
  const auto bank = kept_bank(options, ask.control.get());
  labs::Explained why;
  why.weights.status = study::explain::Status::cancelled;
  if (bank) why = labs::explained(ask.rows, ask.titles, ask.noise, *bank, ask.control.get());
  return std::make_shared<const labs::Explained>(why);
}

AppState Executor::settle(AppState state, const Action& action) {
  Step step = reduce(std::move(state), action);
  for (const Effect& effect : step.effects) step.state = settle(std::move(step.state), carry_out(effect));
  return std::move(step.state);
}

Action Executor::make_sheet(const MakeSheet& ask) {
  const sheet::Content content{ask.own.reading, ask.own.judged, ask.own.noise, {}, ask.own.fit.get()};
  const look::WordBook words = look::WordBook::load(assets_ + "/" + ask.language + ".toml");
  const bool pdf = ask.paper == Paper::pdf;
  const char* home = std::getenv("HOME");
  const std::filesystem::path folder = home != nullptr ? home : ".";
  const std::string path = (folder / (pdf ? "my-complement-results.pdf" : "my-complement-results.html")).string();
  const std::string content_text = pdf ? sheet::pdf(content, words) : sheet::html(content, words);
  return WrittenDown{disk::write_new_file(path, content_text, disk::Who::person), false};
}

Action Executor::carry_out_study(const Effect& effect) {
  if (const auto* ask = std::get_if<RunTracer>(&effect)) {
    TracerShown shown;
    shown.story = ask->story;
    shown.protein = ask->protein;
    study::TracerOptions options;
    if (ask->counting_noise) options.counting_noise = 0.01;
    // Injected on the day, or ten days before the end where the story is over sooner.
    double last = 1e9;
    for (const KeptRun& person : ask->people) last = std::min(last, person.run->last_day());
    shown.day = std::max(0.0, std::min(std::floor(ask->day), last - options.days));
    for (const KeptRun& person : ask->people) {
      options.seed += 1;
      shown.people.push_back({person.name, study::tracer_study(*person.run, ask->protein, shown.day, options)});
    }
    return TracerFinished{std::move(shown)};
  }
  if (const auto* ask = std::get_if<RunEffects>(&effect)) {
    EffectsShown shown{ask->day, study::worth_showing(study::effects_of_steps(*ask->run, ask->day)), ask->story};
    return EffectsFinished{std::move(shown)};
  }
  if (const auto* ask = std::get_if<RunCircle>(&effect)) {
    return CircleFinished{{study::circle_of(*ask->run, ask->tissue, ask->day), ask->number}};
  }
  return TruthFinished{study::truth_ledger()};
}

Worker::Worker(std::string assets) : executor_(std::move(assets)), thread_([this] { work(); }) {}

Worker::~Worker() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    ending_ = true;
    latest_ = ~std::uint64_t{0};  // ends a run under way
  }
  wake_.notify_all();
  thread_.join();
}

void Worker::submit(Effect effect) {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    if (const auto* run = std::get_if<RunStory>(&effect)) {
      latest_ = run->number;
      waiting_.erase(std::remove_if(waiting_.begin(), waiting_.end(),
                                    [](const Effect& e) { return std::holds_alternative<RunStory>(e); }),
                     waiting_.end());
    }
    waiting_.push_back(std::move(effect));
  }
  wake_.notify_all();
}

std::vector<Action> Worker::take() {
  const std::lock_guard<std::mutex> lock(mutex_);
  return std::exchange(done_, {});
}

void Worker::work() {
  std::unique_lock<std::mutex> lock(mutex_);
  while (true) {
    wake_.wait(lock, [this] { return ending_ || !waiting_.empty(); });
    if (ending_) return;
    const Effect effect = std::move(waiting_.front());
    waiting_.pop_front();
    lock.unlock();
    Action answer = executor_.carry_out(effect, &latest_);
    lock.lock();
    const auto* finished = std::get_if<RunFinished>(&answer.any());
    const bool overtaken =
        finished != nullptr && finished->run && finished->run->outcome().status == solve::Status::cancelled;
    if (!overtaken) done_.push_back(std::move(answer));
  }
}

Folder list_folder(const std::string& path) {
  namespace fs = std::filesystem;
  Folder folder;
  std::error_code code;
  const char* home = std::getenv("HOME");
  fs::path at = path;
  if (at.empty()) at = home != nullptr ? fs::path(home) : fs::current_path(code);
  at = fs::weakly_canonical(at, code);
  folder.path = code ? path : at.string();
  for (const auto& file : fs::directory_iterator(at, code)) {
    const std::string name = file.path().filename().string();
    if (name.empty() || name.front() == '.') continue;
    std::error_code of_entry;
    const bool is_folder = file.is_directory(of_entry);
    const std::string ending = file.path().extension().string();
    if (!is_folder && ending != ".toml" && ending != ".csv" && ending != ".txt") continue;
    folder.entries.push_back({name, is_folder});
  }
  if (code) folder.problem = folder.path + ": " + code.message();
  std::sort(folder.entries.begin(), folder.entries.end(),
            [](const auto& a, const auto& b) { return std::tie(b.folder, a.name) < std::tie(a.folder, b.name); });
  return folder;
}

std::vector<StoryEntry> list_stories(const std::string& folder) {
  std::vector<StoryEntry> stories;
  std::error_code code;
  for (const auto& file : std::filesystem::directory_iterator(folder, code)) {
    if (file.path().extension() != ".toml") continue;
    StoryEntry entry;
    entry.path = file.path().string();
    try {
      const scenario::Scenario story = scenario::read_file(entry.path);
      entry.title = story.title;
      entry.message = story.message.plain;
      entry.question = story.question;
    } catch (const std::exception& error) {
      entry.title = file.path().filename().string();
      entry.problem = error.what();
    }
    stories.push_back(std::move(entry));
  }
  std::sort(stories.begin(), stories.end(), [](const auto& a, const auto& b) { return a.path < b.path; });
  return stories;
}

}  // namespace drawdown::work
