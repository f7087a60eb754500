#include "command/session.hpp"

#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <sstream>
#include <stdexcept>
#include <string_view>

#include "body/levers.hpp"
#include "command/command.hpp"
#include "stage/action.hpp"

namespace drawdown::command {

namespace {

constexpr std::array<std::string_view, 3> room_names{"bright", "dark", "print"};
constexpr std::array<std::string_view, 3> depth_names{"plain", "clinic", "mechanism"};
constexpr std::array<std::string_view, 2> language_names{"en", "es"};
constexpr std::array<std::string_view, 9> view_names{"balance", "words",   "course",  "levers", "compare",
                                                     "study",   "cascade", "tissues", "lab"};

class Reader {
 public:
  Reader(const toml::table& table, std::string name) : table_(table), name_(std::move(name)) {}

  template <std::size_t N>
  [[nodiscard]] int one_of(const char* key, const std::array<std::string_view, N>& allowed) const {
    const auto node = table_[key];
    if (!node) return 0;
    const auto text = node.value<std::string_view>();
    const auto found = text ? std::find(allowed.begin(), allowed.end(), *text) : allowed.end();
    if (found != allowed.end()) return static_cast<int>(found - allowed.begin());
    std::string list;
    for (const std::string_view word : allowed) list += (list.empty() ? "" : ", ") + std::string(word);
    fail(*node.node(), std::string(key) + " must be one of " + list);
  }

  [[nodiscard]] double number(const toml::table& from, const char* key, double least, double most,
                              double or_else) const {
    const auto node = from[key];
    if (!node) return or_else;
    const auto value = node.value<double>();
    if (value && std::isfinite(*value) && *value >= least && *value <= most) return *value;
    std::ostringstream out;
    out << key << " must be a number from " << least << " to " << most;
    fail(*node.node(), out.str());
  }

  [[noreturn]] void fail(const toml::node& at, const std::string& what) const {
    std::ostringstream out;
    out << name_ << ":" << at.source().begin.line << ": " << what;
    throw std::runtime_error(out.str());
  }

 private:
  const toml::table& table_;
  std::string name_;
};

scenario::Edit edit_of(const Reader& reader, const toml::node& node, const scenario::Scenario& story) {
  const toml::table* table = node.as_table();
  if (table == nullptr) reader.fail(node, "an edit must be a table");
  const int lever = body::lever_index((*table)["lever"].value_or(std::string_view{}));
  if (lever < 0) reader.fail(node, "an edit needs a known lever");
  const body::Lever& row = body::levers()[static_cast<std::size_t>(lever)];
  scenario::Edit edit;
  edit.lever = static_cast<std::size_t>(lever);
  edit.value = reader.number(*table, "value", row.least, row.most, row.rest);
  edit.event = static_cast<int>(reader.number(*table, "event", -1, static_cast<double>(story.events.size()) - 1, -1));
  edit.from_day = reader.number(*table, "from_day", -1, story.days, -1);
  edit.for_hours = reader.number(*table, "for_hours", 0, 24 * 3650.0, 0);
  return edit;
}

}  // namespace

std::string session_text(const stage::AppState& state) {
  toml::table table;
  table.insert("text", state.look.text_percent);
  table.insert("room", room_names.at(static_cast<std::size_t>(state.look.room)));
  table.insert("language", language_names.at(state.look.spanish ? 1 : 0));
  table.insert("depth", depth_names.at(static_cast<std::size_t>(state.depth)));
  table.insert("cautions_read", state.overlay != stage::Overlay::cautions);
  if (!state.story_path.empty()) {
    table.insert("story", std::filesystem::absolute(state.story_path).string());
    table.insert("day", state.day);
    table.insert("view", view_names.at(static_cast<std::size_t>(state.view)));
    toml::array edits;
    for (const scenario::Edit& edit : state.document.edits) {
      edits.push_back(toml::table{{"lever", body::levers()[edit.lever].name},
                                  {"value", edit.value},
                                  {"event", edit.event},
                                  {"from_day", edit.from_day},
                                  {"for_hours", edit.for_hours}});
    }
    table.insert("edits", std::move(edits));
  }
  std::ostringstream out;
  out << table << '\n';
  return out.str();
}

void restore_session(stage::AppState& state, const std::string& text, const std::string& name, bool with_story) {
  toml::table table;
  try {
    table = toml::parse(text, name);
  } catch (const toml::parse_error& error) {
    std::ostringstream out;
    out << name << ":" << error.source().begin.line << ": " << error.description();
    throw std::runtime_error(out.str());
  }
  const Reader reader(table, name);
  stage::AppState next = state;
  const std::string story = table["story"].value_or(std::string{});
  if (with_story && !story.empty()) {
    next = state_for(story, reader.number(table, "day", 0, 3650, 0));
    next.overlay = state.overlay;
    next.view = static_cast<stage::View>(reader.one_of("view", view_names));
    if (const toml::array* edits = table["edits"].as_array()) {
      for (const toml::node& node : *edits) next.document.edits.push_back(edit_of(reader, node, next.document.story));
    }
    if (!next.document.edits.empty()) finish_run(next);
  }
  next = stage::reduce(std::move(next),
                       stage::SetTextPercent{static_cast<int>(reader.number(table, "text", 80, 200, 100))})
             .state;
  next.look.room = static_cast<look::Room>(reader.one_of("room", room_names));
  next.look.spanish = reader.one_of("language", language_names) == 1;
  next.depth = static_cast<look::Depth>(reader.one_of("depth", depth_names));
  if (table["cautions_read"].value_or(false)) next.overlay = stage::Overlay::none;
  state = std::move(next);
}

}  // namespace drawdown::command
