// Two hundred random sequences of actions in every test run, and for each thing that must hold a planted fault that is
// found.
#include <doctest/doctest.h>

#include <cmath>

#include "fuzz/bytes.hpp"
#include "fuzz/play.hpp"
#include "fuzz/typing.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using namespace drawdown::stage;

namespace {

// Under the sanitizers a study takes most of a minute: there the runs are ready-made ones.
#ifdef __SANITIZE_ADDRESS__
constexpr bool runs_are_real = false;
#else
constexpr bool runs_are_real = true;
#endif

std::string assets() {
  return support::source_folder() + "/assets";
}

// The first finding with a broken reducer; empty = nothing was found.
std::string found_with(const fuzz::Reduce& broken, fuzz::Painter* painter = nullptr) {
  fuzz::Rules rules;
  rules.reduce = broken;
  rules.real = false;
  rules.painter = painter;
  for (unsigned seed = 0; seed < 200; ++seed) {
    std::string said = fuzz::play(fuzz::seeded(seed, 300), rules);
    if (!said.empty()) return said;
  }
  return {};
}

template <class Kind, class Spoil>
fuzz::Reduce spoilt(Spoil spoil) {
  return [spoil](AppState state, const Action& action) {
    const AppState before = state;
    Step step = reduce(std::move(state), action);
    if (std::holds_alternative<Kind>(action.any())) spoil(before, step.state);
    return step;
  };
}

bool says(const std::string& said, const char* part) {
  return said.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("after two hundred random sequences of actions every state and every frame is sound") {
  fuzz::Painter painter(assets());
  fuzz::Rules rules;
  rules.real = runs_are_real;
  rules.painter = &painter;
  std::array<std::size_t, std::variant_size_v<AnyAction>> counts{};
  rules.counts = &counts;
  for (unsigned seed = 0; seed < 200; ++seed) {
    const std::string said = fuzz::play(fuzz::seeded(seed, 300), rules);
    CHECK_MESSAGE(said.empty(), "seed ", seed, ": ", said);
  }
  std::size_t done = 0;
  for (const std::size_t count : counts) done += count > 0 ? 1 : 0;
  CHECK_MESSAGE(done + 3 >= counts.size(), "only ", done, " kinds of action were tried of ", counts.size());
}

TEST_CASE("the same bytes play out the same way") {
  const auto dull = spoilt<Undo>([](const AppState&, AppState& s) { s.time.speed = 0.0; });
  CHECK(found_with(dull) == found_with(dull));
  CHECK(says(found_with(dull), "speed"));
}

TEST_CASE("an undo that loses a what-if, or a redo that does, is found by the sequences") {
  CHECK(says(found_with(spoilt<Undo>([](const AppState&, AppState& s) {
               if (!s.document.now.edits.empty()) s.document.now.edits.pop_back();
             })),
             "of everything does not give back"));
  CHECK(says(found_with(spoilt<MoveLever>(
                 [](const AppState& before, AppState& s) { s.document.undo = before.document.undo; })),
             "undo of everything"));
  CHECK(says(found_with(spoilt<Redo>([](const AppState&, AppState& s) { s.document.now.edits.clear(); })),
             "redo of everything"));
}

TEST_CASE("a number that is none, and an index past its end, is found by the sequences") {
  const auto no_number = [](const AppState&, AppState& s) { s.time.day = std::nan(""); };
  CHECK(says(found_with(spoilt<Tick>(no_number)), "day lies outside"));
  CHECK(says(found_with(spoilt<MoveLever>([](const AppState&, AppState& s) {
               if (!s.document.now.edits.empty()) s.document.now.edits.back().value = std::nan("");
             })),
             "out of its range"));
  CHECK(says(found_with(spoilt<StartTalk>([](const AppState&, AppState& s) { s.talk.step = 99; })),
             "past its last step"));
  CHECK(says(found_with(spoilt<KeepRun>([](const AppState& before, AppState& s) {
               if (before.runs.now) s.runs.kept.resize(5, {"Z", before.runs.now});
             })),
             "more than four"));
  CHECK(says(found_with(spoilt<SetView>([](const AppState&, AppState& s) { s.page.view = static_cast<View>(77); })),
             "no such view"));
  CHECK(
      says(found_with(spoilt<StoryOpened>([](const AppState& before, AppState& s) { s.runs.kept = before.runs.kept; })),
           "a run of another story"));
}

TEST_CASE("results that are forgotten but for one text are found by the sequences") {
  CHECK(
      says(found_with(spoilt<ForgetResults>([](const AppState& before, AppState& s) { s.problem = before.own.text; })),
           "still names the results"));
  CHECK(says(found_with(spoilt<ForgetResults>([](const AppState& before, AppState& s) {
               if (before.own.any()) s.files.recent.push_back({"/x.csv", before.own.text, "", ""});
             })),
             "the results"));
  CHECK(says(
      found_with(spoilt<ForgetResults>([](const AppState& before, AppState& s) { s.own.judged = before.own.judged; })),
      "judgement of the results"));
}

TEST_CASE("texts on each other, missing words and numbers that are none are found on a frame") {
  const draw::Box screen{0, 0, 100, 100};
  const draw::TextRecord one{"made", {10, 10, 40, 12}, screen};
  draw::TextRecord two{"used", {30, 14, 40, 12}, screen};
  CHECK(says(fuzz::wrong_with({one, two}, false), "'made' lies on 'used'"));
  CHECK(fuzz::wrong_with({one, two}, true).empty());
  two.box.y = 30;
  CHECK(fuzz::wrong_with({one, two}, false).empty());
  two.text = "C3 -nan g/L";
  CHECK(says(fuzz::wrong_with({one, two}, false), "no number"));
  two.text = "<lever.unheard_of>";
  CHECK(says(fuzz::wrong_with({one, two}, true), "no words"));
  two.text = "information, nanogram";
  CHECK(fuzz::wrong_with({one, two}, false).empty());
  // And in a whole sequence: a level that is none, shown.
  fuzz::Painter painter(assets());
  CHECK(says(found_with(spoilt<SetView>([](const AppState&, AppState& s) { s.problem = "level nan"; }), &painter),
             "no number"));
}

TEST_CASE("five hundred random runs of typed events: the line is what was typed, and a line that drops one is found") {
  for (unsigned seed = 0; seed < 500; ++seed) {
    const std::string said = fuzz::type_out(fuzz::seeded(seed, 120));
    CHECK_MESSAGE(said.empty(), "seed ", seed, ": ", said);
  }
  fuzz::TypingRules rules;
  rules.reduce = [](AppState state, const Action& action) {
    Step step = reduce(std::move(state), action);
    if (std::holds_alternative<TypeResult>(action.any()) && step.state.own.typed.size() == 5)
      step.state.own.typed.pop_back();
    return step;
  };
  std::string found;
  for (unsigned seed = 0; seed < 50 && found.empty(); ++seed) found = fuzz::type_out(fuzz::seeded(seed, 120), rules);
  CHECK(says(found, "in the line stands"));
}
