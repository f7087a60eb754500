// An action goes to its function.
#include <utility>

#include "stage/edits.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::ask_run() const {
  s.runs.asked += 1;
  step.effects.emplace_back(RunStory{s.runs.asked, told(s.document.now), usual_levers(s.document.now)});
}

bool is_study(const Effect& effect) {
  return std::holds_alternative<RunTracer>(effect) || std::holds_alternative<RunEffects>(effect) ||
         std::holds_alternative<RunTruth>(effect) || std::holds_alternative<RunFit>(effect);
}

Step reduce(AppState state, const Action& action) {
  Step step{std::move(state), {}};
  std::visit(Reducer{step, step.state}, action.any());
  return step;
}

}  // namespace drawdown::stage
