// Carries out what the state asks for, away from the frame: runs and files. Answers come back as actions through one
// queue; a run that a later one has overtaken is cancelled.
#pragma once

#include <atomic>
#include <condition_variable>
#include <deque>
#include <map>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

#include "stage/action.hpp"

namespace drawdown::work {

using stage::Action;
using stage::AppState;
using stage::Effect;

// Carries out one effect here and now (pictures, tests). `latest` is the number of the newest run asked for; an older
// run stops early.
class Executor {
 public:
  // `assets`: the folder of words, for what is written on paper.
  // `bank_people`: sampled for each explanation of a person's results.
  explicit Executor(std::string assets = {}, std::size_t bank_people = study::explain::usual_people)
      : assets_(std::move(assets)), bank_people_(bank_people) {}
  [[nodiscard]] Action carry_out(const Effect& effect, const std::atomic<std::uint64_t>* latest = nullptr);
  // The state after an action and all it asks for.
  [[nodiscard]] AppState settle(AppState state, const Action& action);

 private:
  [[nodiscard]] static Action carry_out_study(const Effect& effect);
  [[nodiscard]] std::shared_ptr<const labs::Explained> explained(const stage::RunFit& ask) const;
  [[nodiscard]] Action make_sheet(const stage::MakeSheet& ask);
  std::string assets_;
  std::size_t bank_people_;
  // The body of the last person: dragging a lever does not need a new one.
  std::shared_ptr<const body::Body> body_;
};

class Worker {
 public:
  explicit Worker(std::string assets = {});
  Worker(const Worker&) = delete;
  Worker(Worker&&) = delete;
  Worker& operator=(const Worker&) = delete;
  Worker& operator=(Worker&&) = delete;
  ~Worker();
  void submit(Effect effect);
  // Answers since the last call.
  [[nodiscard]] std::vector<Action> take();

 private:
  void work();
  std::mutex mutex_;
  std::condition_variable wake_;
  std::deque<Effect> waiting_;
  std::vector<Action> done_;
  std::atomic<std::uint64_t> latest_{0};
  bool ending_ = false;
  Executor executor_;
  std::thread thread_;
};

// A folder's folders and story files; empty = the person's home. Hidden ones are left out.
[[nodiscard]] stage::Folder list_folder(const std::string& path);

// The stories of a folder, in order of name; one that cannot be read keeps its place with the reason.
[[nodiscard]] std::vector<stage::StoryEntry> list_stories(const std::string& folder);

}  // namespace drawdown::work
