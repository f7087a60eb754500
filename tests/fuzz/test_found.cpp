// Faults of the picture that random sequences of actions found, each drawn again.
#include <doctest/doctest.h>

#include "fuzz/painter.hpp"
#include "fuzz/world.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE("the two limits of a narrow range, or of a low vessel, are not written on each other") {
  fuzz::Painter painter(support::source_folder() + "/assets");
  stage::AppState state = fuzz::first_state();
  CHECK(fuzz::wrong_with(painter.draw(state, false, nullptr), false).empty());
  scenario::Scenario narrow = state.document.now.story;
  narrow.laboratory.c3 = {1.0, 1.02};
  state.document.now.story = narrow;
  state.runs.now = simulate(narrow);
  const auto texts = painter.draw(state, false, nullptr);
  CHECK(fuzz::wrong_with(texts, false) == "");
  bool upper = false;
  for (const auto& text : texts) upper = upper || text.text == "1.02";
  CHECK(upper);
  // The first minute with a banner over it, in very large letters in a small window.
  state = fuzz::first_state();
  state.first.step = stage::FirstMinute::raise_complexes;
  state.problem = "not now";
  state.look.text_percent = 200;
  CHECK(fuzz::wrong_with(painter.draw(state, true, nullptr), false) == "");
}
