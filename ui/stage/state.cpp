// What is read off the state.
#include "stage/state.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::stage {

std::vector<Track> tracks_of(const body::Model& model) {
  std::vector<Track> tracks{{"none", {}, {}, 1}};
  for (std::size_t i = 0; i < model.readouts().size(); ++i) {
    const body::Readout& r = model.readouts()[i];
    if (r.track) tracks.push_back({r.key, body::ReadoutId(i), {}, r.decimals});
  }
  tracks.push_back({"hepatic_output", {}, model.known().hepatic_output, 1});
  return tracks;
}

std::shared_ptr<const Sketch> sketch_of(const Run& run, Against against) {
  constexpr int points = 61;
  auto sketch = std::make_shared<Sketch>();
  const body::Model& model = *run.body().model;
  const auto one = [&](body::ProteinId protein, double own) {
    return against == Against::own_usual ? own : model.standard_levels()[protein] / 1000.0;
  };
  const double c3 = one(model.known().c3, run.usual_c3());
  const double c4 = one(model.known().c4, run.usual_c4());
  for (int i = 0; i < points; ++i) {
    const double day = run.last_day() * i / (points - 1);
    sketch->c3.push_back(run.c3(day) / c3);
    sketch->c4.push_back(run.c4(day) / c4);
  }
  return sketch;
}

std::size_t tissue_shown(const AppState& state) {
  const auto tissues = state.runs.now->tissues(std::min(state.time.day, state.runs.now->last_day()));
  if (state.page.tissue && *state.page.tissue < tissues.size()) return *state.page.tissue;
  const auto most = std::max_element(tissues.begin(), tissues.end(),
                                     [](const auto& a, const auto& b) { return a.deposit < b.deposit; });
  return static_cast<std::size_t>(most - tissues.begin());
}

bool circle_is_current(const AppState& state) {
  const auto& shown = state.study.circle;
  if (!shown || !state.runs.now || shown->run != state.runs.shown) return false;
  return shown->circle.day == std::min(state.time.day, state.runs.now->last_day()) &&
         shown->circle.tissue == tissue_shown(state);
}

RunStop stop_of(const Run& run) {
  RunStop stop;
  stop.status = run.outcome().status;
  stop.settling = !run.started();
  stop.day = run.last_day();
  const auto& species = run.body().network.species;
  const int which = run.outcome().species;
  if (which >= 0 && static_cast<std::size_t>(which) < species.size()) {
    stop.species = species[static_cast<std::size_t>(which)].name;
  }
  return stop;
}

std::string banner_text(const AppState& state, const look::WordBook& words) {
  if (!state.problem.empty()) {
    // What went wrong with a person's file would name it.
    const std::string name = state.own.path.substr(state.own.path.rfind('/') + 1);
    const bool names_own = own_rests(state) && !name.empty() && state.problem.find(name) != std::string::npos;
    return names_own ? std::string() : state.problem;
  }
  if (!state.runs.stopped) return {};
  const RunStop& stop = *state.runs.stopped;
  const std::string why = words.at("stopped." + look::name_of(run_status_names, stop.status));
  std::string text = stop.settling ? words.fill("stopped.settling", {why})
                                   : words.fill("stopped.on_day", {look::number(std::floor(stop.day), 0), why});
  if (!stop.species.empty()) text += " (" + stop.species + ")";
  return text;
}

scenario::Scenario told(const Document& document) {
  return scenario::edited(document.story, document.edits);
}

double story_value(const AppState& state, body::LeverId lever) {
  return scenario::governing_value(state.document.now.story, lever, state.time.day);
}

double current_value(const AppState& state, body::LeverId lever) {
  for (const scenario::Edit& edit : state.document.now.edits) {
    if (edit.lever != lever) continue;
    // The slider shows the plateau being edited, also where the playhead stands on its ramp.
    const int governing = scenario::governing_edit(state.document.now.story, lever, state.time.day, 0.0).event;
    if (edit.from_day >= 0.0 ? state.time.day >= edit.from_day : edit.event == governing) return edit.value;
  }
  return story_value(state, lever);
}

bool own_rests(const AppState& state) {
  return state.talk.step.has_value() && !state.talk.shows_own && (state.own.any() || !state.own.typed.empty());
}

bool branched(const AppState& state) {
  return state.talk.step.has_value() && !state.document.now.edits.empty();
}

bool is_edited(const AppState& state, body::LeverId lever) {
  return std::any_of(state.document.now.edits.begin(), state.document.now.edits.end(),
                     [&](const auto& edit) { return edit.lever == lever; });
}

std::optional<look::LanguageName> next_language(const AppState& state) {
  if (state.page.languages.empty()) return std::nullopt;
  std::size_t next = 0;
  for (std::size_t i = 0; i < state.page.languages.size(); ++i) {
    if (state.page.languages[i].code == state.look.language) next = (i + 1) % state.page.languages.size();
  }
  return state.page.languages[next];
}

}  // namespace drawdown::stage
