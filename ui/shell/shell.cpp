// Running the panels over the state.
#include "shell/shell.hpp"

#include <algorithm>
#include <cmath>

#include "draw/svg_canvas.hpp"
#include "shell/input_imgui.hpp"

namespace drawdown::shell {

float em_for(float width, float height, int text_percent) {
  const float fit = std::clamp(std::min(width / 1600.0F, height / 900.0F), 0.85F, 3.0F);
  return std::round(15.0F * fit * static_cast<float>(text_percent) / 100.0F * 2.0F) / 2.0F;
}

Shell::Shell(stage::AppState state, const std::string& assets)
    : state_(std::move(state)),
      library_(assets),
      shapes_(draw::Shapes::load(assets + "/shapes.toml")),
      views_(panels::standard_views()) {
  state_.page.languages = library_.names();
}

bool Shell::fit_fonts(float width, float height) {
  const float em = em_for(width, height, state_.look.text_percent);
  if (fonts_ready_ && em == fonts_.em) return false;
  fonts_ = draw::load_fonts(*ImGui::GetIO().Fonts, em);
  fonts_ready_ = true;
  return true;
}

void Shell::apply(const stage::Action& action, const std::function<void(stage::Effect)>& submit) {
  // What was typed or pasted of a person goes with the results.
  if (std::holds_alternative<stage::ForgetResults>(action.any())) interaction_.forget_typed();
  stage::Step step = stage::reduce(std::move(state_), action);
  state_ = std::move(step.state);
  for (stage::Effect& effect : step.effects) submit(std::move(effect));
}

bool Shell::moving() const {
  const bool hand = stage::first_minute_lever(state_).has_value() && !state_.look.reduced_motion;
  return motion_.under_way() || hand;
}

std::vector<stage::Action> Shell::draw(draw::Canvas& canvas, panels::Input input, float width, float height,
                                       double seconds) {
  std::vector<stage::Action> actions;
  interaction_.begin(std::move(input));
  canvas.silence(state_.look.bare);
  motion_.begin(seconds, state_.look.reduced_motion || state_.time.playing);
  panels::Frame f{
      state_, canvas, look::palette(state_.look.room), words(), terms(), shapes_, interaction_, motion_, actions,
      views_, seconds};
  panels::draw_screen(f, {0, 0, width, height});
  interaction_.finish();
  texts_ = canvas.texts();
  shortened_ = canvas.shortened();
  work_ = canvas.work();
  return actions;
}

void Shell::frame(float width, float height, double seconds, const std::function<void(stage::Effect)>& submit,
                  std::vector<panels::Typed> typed) {
  draw::ImGuiCanvas canvas(*ImGui::GetBackgroundDrawList(), fonts_, ImGui::GetForegroundDrawList());
  for (const stage::Action& action : draw(canvas, shell::input_from_imgui(std::move(typed)), width, height, seconds)) {
    apply(action, submit);
  }
}

std::string Shell::svg(float width, float height) {
  draw::SvgCanvas canvas(width, height, fonts_);
  (void)draw(canvas, {}, width, height, 0.0);
  const scenario::Scenario& story = state_.document.now.story;
  return canvas.document(
      words().told(story.name, "title", story.title),
      words().told(story.name, "message.plain", story.message.plain) + " " + words().at("caution.foot"));
}

}  // namespace drawdown::shell
