// An action goes to its function.
#include <utility>

#include "stage/edits.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::ask_run() const {
  s.runs.asked += 1;
  step.effects.emplace_back(RunStory{s.runs.asked, told(s.document.now), usual_levers(s.document.now)});
}

namespace {

// Answers, the clock and the playhead leave what was said of undoing on the screen.
bool speaks(const AnyAction& action) {
  return !std::holds_alternative<Tick>(action) && !std::holds_alternative<RunFinished>(action) &&
         !std::holds_alternative<StorySketched>(action) && !std::holds_alternative<EndDrag>(action) &&
         !std::holds_alternative<TogglePlay>(action) && !std::holds_alternative<EffectsFinished>(action) &&
         !std::holds_alternative<TracerFinished>(action) && !std::holds_alternative<CircleFinished>(action);
}

}  // namespace

bool is_study(const Effect& effect) {
  return std::holds_alternative<RunTracer>(effect) || std::holds_alternative<RunEffects>(effect) ||
         std::holds_alternative<RunTruth>(effect) || std::holds_alternative<RunCircle>(effect) ||
         std::holds_alternative<RunFit>(effect);
}

Step reduce(AppState state, const Action& action) {
  Step step{std::move(state), {}};
  if (speaks(action.any())) step.state.document.undone.reset();
  const Reducer reducer{step, step.state};
  std::visit(reducer, action.any());
  reducer.ask_circle();
  return step;
}

}  // namespace drawdown::stage
