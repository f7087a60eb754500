// Levers, undo and redo.
#include <algorithm>
#include <cmath>
#include <utility>

#include "stage/edits.hpp"
#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const MoveLever& a) const {
  if (a.lever >= s.document.now.story.lever_rows().size() || !std::isfinite(a.value)) return;
  if (a.dragging && !s.document.before_drag) {
    s.document.before_drag = s.document.now;
    s.levers.dragged = a.lever;
    s.levers.before = s.runs.account;
  }
  Document before = s.document.now;
  move_lever(s, a.lever, a.value);
  if (s.document.now.edits == before.edits) return;
  first_minute::pulled(s, a);
  if (!a.dragging) {
    if (s.document.before_drag) {
      end_drag(s);
    } else {
      remember(s, std::move(before));
    }
  }
  ask_run();
}
void Reducer::operator()(const PlaceDated& a) const {
  if (a.lever >= s.document.now.story.lever_rows().size() ||
      s.document.now.story.lever_rows()[a.lever].kind != body::LeverKind::dated)
    return;
  const body::Lever& lever = s.document.now.story.lever_rows()[a.lever];
  end_drag(s);
  remember(s, s.document.now);
  s.document.now.edits.push_back({a.lever, -1, s.time.day, lever.session_value, lever.session_hours});
  ask_run();
}
void Reducer::operator()(const EndDrag&) const {
  end_drag(s);
  first_minute::let_go(s);
}
void Reducer::operator()(const ResetLever& a) const {
  if (!is_edited(s, a.lever)) return;
  end_drag(s);
  remember(s, s.document.now);
  without_lever(s.document.now.edits, a.lever);
  ask_run();
}
void Reducer::operator()(const ResetAll&) const {
  if (s.document.now.edits.empty()) return;
  end_drag(s);
  remember(s, s.document.now);
  s.document.now.edits.clear();
  ask_run();
}
void Reducer::operator()(const Undo&) const {
  go(s.document.undo, s.document.redo, false);
}
void Reducer::operator()(const Redo&) const {
  go(s.document.redo, s.document.undo, true);
}
void Reducer::operator()(const LayEdits& a) const {
  s.document.now.edits = a.edits;
  ask_run();
}
void Reducer::go(std::vector<Document>& from, std::vector<Document>& to, bool again) const {
  end_drag(s);
  if (from.empty()) return;
  to.push_back(s.document.now);
  s.document.now = std::move(from.back());
  from.pop_back();
  s.time.day = std::min(s.time.day, last_day());
  s.document.undone = undone(to.back(), s.document.now, s.time.day, again);
  ask_run();
}

}  // namespace drawdown::stage
