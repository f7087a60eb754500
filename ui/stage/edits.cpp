// Laying and taking back what-ifs.
#include "stage/edits.hpp"

#include <algorithm>
#include <cmath>

namespace drawdown::stage {

namespace {
constexpr std::size_t most_undo = 200;
}

std::vector<double> usual_levers(const Document& document) {
  std::vector<double> values = quiet_levers(document.story);
  const scenario::Scenario now = told(document);
  const auto& levers = document.story.lever_rows();
  for (std::size_t i = 0; i < levers.size(); ++i) {
    if (levers[i].group == body::LeverGroup::inherited) values[i] = now.levers[i];
  }
  return values;
}

Undone undone(const Document& before, const Document& now, double day, bool again) {
  Undone said{again, {}};
  const scenario::Scenario was = told(before);
  const scenario::Scenario is = told(now);
  // On the day, then at the start, then at each event: the first that differs is told.
  const auto differs = [](double a, double b) { return std::abs(a - b) > 1e-12; };
  for (std::size_t i = 0; i < now.story.lever_rows().size(); ++i) {
    const body::LeverId lever(i);
    const auto tell = [&](double at) {
      const double from = scenario::governing_value(was, lever, at);
      const double to = scenario::governing_value(is, lever, at);
      if (!differs(from, to)) return false;
      said.moved.push_back({lever, from, to});
      return true;
    };
    if (tell(day) || tell(0.0)) continue;
    bool told_of = false;
    for (const scenario::Scenario* story : {&was, &is}) {
      for (const scenario::Event& event : story->events) {
        if (told_of || event.lever != lever) continue;
        told_of = tell(event.day);
      }
    }
    const auto edits_of = [&](const Document& document) {
      std::vector<scenario::Edit> edits;
      for (const scenario::Edit& e : document.edits) {
        if (e.lever == lever) edits.push_back(e);
      }
      return edits;
    };
    if (!told_of && !(edits_of(before) == edits_of(now))) said.moved.push_back({lever, std::nan(""), std::nan("")});
  }
  return said;
}

void remember(AppState& s, Document before) {
  s.document.undo.push_back(std::move(before));
  if (s.document.undo.size() > most_undo) s.document.undo.erase(s.document.undo.begin());
  s.document.redo.clear();
}

void end_drag(AppState& s) {
  s.levers.dragged.reset();
  s.levers.before.reset();
  if (!s.document.before_drag) return;
  if (!(s.document.before_drag->edits == s.document.now.edits)) remember(s, std::move(*s.document.before_drag));
  s.document.before_drag.reset();
}

void without_lever(std::vector<scenario::Edit>& edits, body::LeverId lever) {
  edits.erase(std::remove_if(edits.begin(), edits.end(), [&](const auto& e) { return e.lever == lever; }), edits.end());
}

void move_lever(AppState& s, body::LeverId index, double value) {
  const body::Lever& lever = s.document.now.story.lever_rows()[index];
  value = std::clamp(value, lever.least, lever.most);
  if (lever.kind == body::LeverKind::counted) value = std::round(value);
  auto& edits = s.document.now.edits;
  scenario::Edit edit = scenario::governing_edit(s.document.now.story, index, s.time.day, value);
  if (s.levers.from_today) edit = {index, -1, s.time.day, value, 0.0};
  for (scenario::Edit& old : edits) {
    if (old.lever != index) continue;
    // While one drag or a run of key presses goes on, the same place is edited again.
    const bool same = old.event == edit.event && (old.from_day < 0.0) == (edit.from_day < 0.0);
    if (same) {
      old.value = value;
      if (!s.document.before_drag) old.from_day = edit.from_day;
      return;
    }
  }
  edits.push_back(edit);
}

}  // namespace drawdown::stage
