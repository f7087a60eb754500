// What is read off the state.
#include "stage/state.hpp"

#include <algorithm>

namespace drawdown::stage {

scenario::Scenario told(const Document& document) {
  return scenario::edited(document.story, document.edits);
}

double story_value(const AppState& state, std::size_t lever) {
  return scenario::governing_value(state.document.story, lever, state.day);
}

double current_value(const AppState& state, std::size_t lever) {
  for (const scenario::Edit& edit : state.document.edits) {
    if (edit.lever != lever) continue;
    // The slider shows the plateau being edited, also where the playhead stands on its ramp.
    const int governing = scenario::governing_edit(state.document.story, lever, state.day, 0.0).event;
    if (edit.from_day >= 0.0 ? state.day >= edit.from_day : edit.event == governing) return edit.value;
  }
  return story_value(state, lever);
}

bool branched(const AppState& state) {
  return state.talk.has_value() && !(state.document.edits == state.talk_edits);
}

bool is_edited(const AppState& state, std::size_t lever) {
  return std::any_of(state.document.edits.begin(), state.document.edits.end(),
                     [&](const auto& edit) { return edit.lever == lever; });
}

}  // namespace drawdown::stage
