#include "fuzz/play.hpp"

#include <utility>

#include "fuzz/broken.hpp"
#include "fuzz/bytes.hpp"
#include "fuzz/make_action.hpp"
#include "fuzz/world.hpp"

namespace drawdown::fuzz {

using namespace stage;

namespace {

constexpr int most_actions = 60;

class Play {
 public:
  Play(const std::string& data, const Rules& rules)
      : rules_(rules),
        bytes_(data),
        mode_(bytes_.byte()),
        world_(rules.real && mode_ % 8 == 1),
        late_(mode_ / 64 % 2 == 1),
        drawn_(rules.painter != nullptr && mode_ / 8 % 8 == 1),
        state_(first_state()),
        base_(state_.document.now) {}

  std::string all() {
    for (int i = 0; i < most_actions && !bytes_.over() && said_.empty(); ++i) {
      const auto action = make_action(bytes_, state_);
      if (action) {
        act(*action);
      } else {
        deliver(bytes_.flag());
      }
      if (!late_) deliver_all();
      if (drawn_ && i % 8 == 7) look();
    }
    if (said_.empty()) there_and_back();
    deliver_all();
    if (drawn_) look();
    return said_;
  }

 private:
  void act(const Action& action) {
    if (!said_.empty()) return;
    if (rules_.counts != nullptr) rules_.counts->at(action.any().index()) += 1;
    Step step = rules_.reduce(std::move(state_), action);
    state_ = std::move(step.state);
    for (Effect& effect : step.effects) world_.submit(std::move(effect));
    last_ = name_of(action);
    if (std::holds_alternative<StoryOpened>(action.any())) base_ = state_.document.now;
    if (std::holds_alternative<ForgetResults>(action.any())) forgotten_ = true;
    for (const bool again :
         {std::holds_alternative<PasteResults>(action.any()), std::holds_alternative<TypeResult>(action.any()),
          std::holds_alternative<AddTypedResult>(action.any()), std::holds_alternative<ResultsText>(action.any())}) {
      if (again) forgotten_ = false;
    }
    say(broken(state_));
    if (forgotten_) say(remembered(state_));
  }

  void say(const std::string& what) {
    if (said_.empty() && !what.empty()) {
      said_ = what + " (view " + std::to_string(static_cast<int>(state_.page.view)) + ", text " +
              std::to_string(state_.look.text_percent) + ", after " + last_ + ")";
    }
  }

  void deliver(bool of_studies) {
    if (const auto answer = world_.answer(of_studies)) act(*answer);
  }
  void deliver_all() {
    while (world_.waiting() && said_.empty()) {
      deliver(false);
      deliver(true);
    }
  }

  // On a copy: all the way back, and on again.
  void there_and_back() {
    AppState s = rules_.reduce(state_, EndDrag{}).state;
    const Document last = s.document.now;
    const std::size_t steps = s.document.undo.size();
    for (std::size_t i = 0; i < steps; ++i) s = rules_.reduce(std::move(s), Undo{}).state;
    say(s.document.undo.empty() ? "" : "undo of everything comes to no end");
    if (!same(s.document.now, base_)) say("undo of everything does not give back the first state");
    say(broken(s));
    for (std::size_t i = 0; i < steps; ++i) s = rules_.reduce(std::move(s), Redo{}).state;
    if (!same(s.document.now, last)) say("redo of everything does not give back the last state");
    say(broken(s));
  }

  void look() {
    if (!said_.empty()) return;
    bool acted = false;
    const auto texts = rules_.painter->draw(state_, mode_ >= 128, &acted);
    if (acted) say("drawing alone did something");
    say(wrong_with(texts, state_.page.overlay != Overlay::none));
    if (!forgotten_) return;
    for (const auto& text : texts) {
      if (marked(text.text)) say("the screen still shows the results: " + text.text);
    }
  }

  const Rules& rules_;
  Bytes bytes_;
  std::size_t mode_;
  World world_;
  bool late_;
  bool drawn_;
  AppState state_;
  Document base_;
  bool forgotten_ = false;
  std::string last_;
  std::string said_;
};

}  // namespace

std::string play(const std::string& bytes, const Rules& rules) {
  return Play(bytes, rules).all();
}

}  // namespace drawdown::fuzz
