#include "command/session.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <sstream>
#include <stdexcept>
#include <string_view>

#include "body/levers.hpp"
#include "command/files.hpp"
#include "command/stories.hpp"
#include "disk/disk.hpp"
#include "scenario/toml_text.hpp"
#include "stage/action.hpp"
#include "work/worker.hpp"

namespace drawdown::command {

namespace {

class Reader {
 public:
  Reader(const toml::table& table, std::string name) : table_(table), name_(std::move(name)) {}

  // One of the allowed names, or the name to take where the key is missing.
  [[nodiscard]] std::string one_of(const char* key, const std::vector<std::string>& allowed,
                                   const std::string& or_else) const {
    const auto node = table_[key];
    if (!node) return or_else;
    std::string value(node.value_or(std::string_view{}));
    std::string list;
    for (const std::string& word : allowed) {
      if (word == value) return value;
      list += (list.empty() ? "" : ", ") + word;
    }
    fail(*node.node(), std::string(key) + " must be one of " + list);
  }
  // The first one where the key is missing.
  template <class Enum, std::size_t N>
  [[nodiscard]] Enum one_of(const char* key, const look::Names<N>& allowed) const {
    const std::vector<std::string> names(allowed.begin(), allowed.end());
    return look::named<Enum>(allowed, one_of(key, names, names.front())).value_or(Enum{});
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
  const auto lever = story.model->find_lever((*table)["lever"].value_or(std::string_view{}));
  if (!lever) reader.fail(node, "an edit needs a known lever");
  const body::Lever& row = story.lever_rows()[*lever];
  scenario::Edit edit;
  edit.lever = *lever;
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
  table.insert("room", look::name_of(look::room_names, state.look.room));
  table.insert("language", state.look.language);
  table.insert("depth", look::name_of(look::depth_names, state.page.depth));
  table.insert("cautions_read", state.page.overlay != stage::Overlay::cautions);
  toml::array recent;
  for (const stage::StoryEntry& s : state.files.recent) {
    recent.push_back(
        toml::table{{"path", std::filesystem::absolute(s.path).string()}, {"title", s.title}, {"message", s.message}});
  }
  table.insert("recent", std::move(recent));
  if (!state.document.path.empty()) {
    table.insert("story", std::filesystem::absolute(state.document.path).string());
    table.insert("day", state.time.day);
    table.insert("view", look::name_of(stage::view_names, state.page.view));
    toml::array edits;
    for (const scenario::Edit& edit : state.document.now.edits) {
      edits.push_back(toml::table{{"lever", state.document.now.story.lever_rows()[edit.lever].name},
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
  const toml::table table = scenario::parse_toml(text, name, {most_session_bytes});
  const Reader reader(table, name);
  stage::AppState next = state;
  const std::string story = table["story"].value_or(std::string{});
  if (with_story && !story.empty()) {
    next = opened(std::move(next), story);
    next = stage::reduce(std::move(next), stage::GoToDay{reader.number(table, "day", 0, 3650, 0)}).state;
    next.page.view = reader.one_of<stage::View>("view", stage::view_names);
    std::vector<scenario::Edit> edits;
    if (const toml::array* left = table["edits"].as_array()) {
      for (const toml::node& node : *left) edits.push_back(edit_of(reader, node, next.document.now.story));
    }
    if (!edits.empty()) next = work::Executor().settle(std::move(next), stage::LayEdits{std::move(edits)});
  }
  if (const toml::array* recent = table["recent"].as_array()) {
    // Newest first; what opening the session's story has put there already stays in front.
    for (const toml::node& node : *recent) {
      const toml::table* one = node.as_table();
      if (one == nullptr || !one->contains("path")) reader.fail(node, "a recent story needs a path");
      stage::StoryEntry entry{(*one)["path"].value_or(std::string{}), (*one)["title"].value_or(std::string{}),
                              (*one)["message"].value_or(std::string{}), ""};
      std::error_code code;
      const bool known = std::any_of(next.files.recent.begin(), next.files.recent.end(),
                                     [&](const auto& e) { return e.path == entry.path; });
      if (!known && std::filesystem::exists(entry.path, code)) next.files.recent.push_back(std::move(entry));
    }
  }
  next = stage::reduce(std::move(next),
                       stage::SetTextPercent{static_cast<int>(reader.number(table, "text", 80, 200, 100))})
             .state;
  next.look.room = reader.one_of<look::Room>("room", look::room_names);
  next.look.language = reader.one_of("language", languages(), next.look.language);
  next.page.depth = reader.one_of<look::Depth>("depth", look::depth_names);
  if (table["cautions_read"].value_or(false)) next.page.overlay = stage::Overlay::none;
  state = std::move(next);
}

void take_up_session(stage::AppState& state, std::string& file, bool with_story) {
  std::string problem;
  try {
    const auto text = disk::read_file_if_there(file, most_session_bytes);
    if (text) restore_session(state, *text, file, with_story);
    return;
  } catch (const std::exception& error) {
    problem = error.what();
  }
  const auto words = look::WordBook::load(data_folder() + "/assets/" + state.look.language + ".toml");
  std::string aside;
  try {
    aside = disk::set_aside(file, "unreadable");
  } catch (const std::exception&) {
    file.clear();
    throw std::runtime_error(words.fill("session.left", {problem}));
  }
  throw std::runtime_error(words.fill("session.set_aside", {aside, problem}));
}

}  // namespace drawdown::command
