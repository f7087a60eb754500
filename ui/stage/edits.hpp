// What-ifs laid over the story, and the documents undo goes back to. Each changes the state in place.
#pragma once

#include <vector>

#include "stage/state.hpp"

namespace drawdown::stage {

// The levers that stand otherwise in `now` than in `before`: on the day, or where that is the same anywhere else.
[[nodiscard]] Undone undone(const Document& before, const Document& now, double day, bool again);

// Usual means the person of the story as told, with the inherited levers as they are now.
[[nodiscard]] std::vector<double> usual_levers(const Document& document);
// The document before a change becomes what undo goes back to.
void remember(AppState& state, Document before);
// Ends a drag: one step of undo, if it moved anything.
void end_drag(AppState& state);
void without_lever(std::vector<scenario::Edit>& edits, body::LeverId lever);
// Lays the lever's value over what governs the playhead's day, or from that day on.
void move_lever(AppState& state, body::LeverId lever, double value);

}  // namespace drawdown::stage
