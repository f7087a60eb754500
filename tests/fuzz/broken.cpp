#include "fuzz/broken.hpp"

#include <cmath>

#include "command/session.hpp"
#include "fuzz/world.hpp"
#include "scenario/read.hpp"

namespace drawdown::fuzz {

using stage::AppState;
using stage::Document;

namespace {

bool within(double value, double least, double most) {
  return value >= least && value <= most;  // false for what is not a number
}

std::string of_document(const Document& d, const char* where) {
  const auto& levers = body::standard_model()->levers();
  for (const scenario::Edit& edit : d.edits) {
    if (edit.lever >= levers.size()) return std::string(where) + ": a what-if of no lever";
    const body::Lever& l = levers[edit.lever];
    if (!within(edit.value, l.least, l.most)) return std::string(where) + ": " + l.name + " out of its range";
    if (edit.event >= static_cast<int>(d.story.events.size())) return std::string(where) + ": a what-if of no event";
    if (!within(edit.from_day, -1, d.story.days)) return std::string(where) + ": a what-if from a day outside";
    if (!within(edit.for_hours, 0, 1e5)) return std::string(where) + ": a what-if for no time";
  }
  return {};
}

std::string of_run(const AppState& s) {
  if (!s.runs.now) return {};
  const double day = std::min(s.time.day, s.runs.now->last_day());
  for (const double value :
       {s.runs.now->c3(day), s.runs.now->c4(day), s.runs.now->usual_c3(), s.runs.now->usual_c4()}) {
    if (!within(value, -1e-9, 100)) return "a level on the playhead's day is no number";
  }
  return {};
}

void add(std::string& all, const std::string& text) {
  all += text;
  all += '\n';
}

void add(std::string& all, const Document& d) {
  add(all, d.story.name);
  add(all, scenario::write_text(d.story));
}

// Every text the state holds outside `own`.
std::string texts_of(const AppState& s) {
  std::string all;
  add(all, s.document.now);
  for (const Document& d : s.document.undo) add(all, d.story.title);
  for (const Document& d : s.document.redo) add(all, d.story.title);
  for (const auto& kept : s.runs.kept) {
    add(all, kept.name);
    if (kept.run) add(all, kept.run->story().title);
  }
  for (const auto* list : {&s.files.stories, &s.files.recent}) {
    for (const auto& entry : *list) add(all, entry.path + entry.title + entry.message + entry.problem);
  }
  for (const auto& entry : s.files.folder.entries) add(all, entry.name);
  for (const std::string& text :
       {s.document.path, s.problem, s.files.folder.path, s.files.folder.problem, s.files.example}) {
    add(all, text);
  }
  return all;
}

}  // namespace

std::string broken(const AppState& s) {
  if (!within(s.time.day, 0, s.document.now.story.days)) return "the day lies outside the story";
  if (!within(s.time.speed, 1, 100)) return "the speed is out of its range";
  if (!within(s.look.text_percent, 80, 200)) return "the text size is out of its range";
  if (static_cast<std::size_t>(s.page.view) >= stage::view_names.size()) return "no such view";
  if (static_cast<std::size_t>(s.page.overlay) >= stage::overlay_names.size()) return "no such page over the screen";
  if (s.page.track >= stage::tracks_of(*s.document.now.story.model).size()) return "no such track";
  if (s.talk.step && *s.talk.step >= s.document.now.story.talk.size()) return "the talk is past its last step";
  if (s.own.outlook != 0 && (!s.own.fit || s.own.outlook >= s.own.fit->outlooks.size())) return "no such outlook";
  if (s.runs.kept.size() > 4) return "more than four runs are kept";
  for (const auto& kept : s.runs.kept) {
    if (!kept.run || kept.name.empty()) return "a kept run without a run or a name";
    if (kept.run->story().name != s.document.now.story.name && s.runs.shown == s.runs.asked)
      return "a run of another story is kept";
  }
  if (s.files.recent.size() > 6) return "more than six recent stories";
  if (s.document.undo.size() > 200) return "more than two hundred steps of undo";
  if (s.runs.shown > s.runs.asked) return "a run nobody asked for";
  for (const labs::Row& row : s.own.reading.rows) {
    if (row.c3 && !within(row.c3->value, 0, 6)) return "an impossible C3 was taken";
    if (row.c4 && !within(row.c4->value, 0, 2)) return "an impossible C4 was taken";
  }
  std::string said = of_document(s.document.now, "now");
  for (const Document& d : s.document.undo) said = said.empty() ? of_document(d, "undo") : said;
  for (const Document& d : s.document.redo) said = said.empty() ? of_document(d, "redo") : said;
  return said.empty() ? of_run(s) : said;
}

bool same(const Document& a, const Document& b) {
  return a.edits == b.edits && a.story.name == b.story.name &&
         scenario::write_text(a.story) == scenario::write_text(b.story);
}

bool marked(const std::string& text) {
  for (const std::string_view mark : {mark_word, mark_c3, mark_c4}) {
    if (text.find(mark) != std::string::npos) return true;
  }
  return false;
}

std::string remembered(const AppState& s) {
  const stage::OwnResults& own = s.own;
  if (own.any() || !own.path.empty() || !own.typed.empty() || !own.problem.empty() || marked(own.done)) {
    return "a text of the results is left";
  }
  if (!own.reading.rows.empty() || !own.reading.rejected.empty() || !own.reading.ignored_columns.empty()) {
    return "a row of the results is left";
  }
  if (!own.judged.c3.changes.empty() || !own.judged.c4.changes.empty() || own.judged.any_beyond) {
    return "a judgement of the results is left";
  }
  if (own.fit || own.fitting) return "a fit of the results is left";
  if (marked(texts_of(s))) return "the state still names the results";
  if (marked(command::session_text(s))) return "the session still names the results";
  return {};
}

}  // namespace drawdown::fuzz
