// A random sequence of actions on the state, from bytes, with what must hold along the way: every state sound
// (broken.hpp); undo of everything gives back the story as it was opened, redo of everything the last state; what was
// forgotten is nowhere; in the frames drawn (about one sequence in eight, every eighth action) no text lies on another.
// Used by the tests (fixed seeds), by the fuzzer and by the long run.
#pragma once

#include <array>
#include <functional>
#include <string>

#include "fuzz/painter.hpp"
#include "stage/action.hpp"

namespace drawdown::fuzz {

using Reduce = std::function<stage::Step(stage::AppState, const stage::Action&)>;

struct Rules {
  Reduce reduce = stage::reduce;  // a broken one in the negative controls
  bool real = true;               // some stories are run for real; under sanitizers that takes too long
  Painter* painter = nullptr;     // frames are drawn where there is one, and the bytes ask for it
  // How often each kind of action was done, by its place in the variant.
  std::array<std::size_t, std::variant_size_v<stage::AnyAction>>* counts = nullptr;
};

// Plays the bytes out, at most sixty actions. Empty if all held, else what did not and after which action.
//
// The first byte: 1 of 8 sequences runs its stories for real, another 1 of 8 is drawn, half get their answers late.
[[nodiscard]] std::string play(const std::string& bytes, const Rules& rules = {});

}  // namespace drawdown::fuzz
