// Reading and checking a story.
#include "scenario/read.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <sstream>

#include "scenario/toml_text.hpp"
#include "scenario/visible.hpp"

namespace drawdown::scenario {

namespace {

// Characters of a name a message quotes.
constexpr std::size_t most_quoted = 80;

std::string joined(const std::string& file, const std::vector<Problem>& problems) {
  std::string text;
  for (const Problem& p : problems) {
    if (!text.empty()) text += '\n';
    text += visible(file);
    if (p.line > 0) text += ":" + std::to_string(p.line) + ":" + std::to_string(p.column);
    text += ": " + visible(p.message);
  }
  return text;
}

std::string plain_number(double value) {
  std::ostringstream out;
  out << value;
  return out.str();
}

// A file's name without folder and ending; a dot at its start begins no ending.
std::string stem_of(const std::string& path) {
  const std::string file = path.substr(path.find_last_of('/') + 1);
  const std::size_t dot = file.find_last_of('.');
  return dot == std::string::npos || dot == 0 || file == ".." ? file : file.substr(0, dot);
}

// Walks the parsed table and collects what is wrong.
class Reader {
 public:
  explicit Reader(const body::Model& model) : model_(&model) {}
  std::vector<Problem> problems;
  [[nodiscard]] const body::Model& model() const { return *model_; }

  void complain(const toml::node& node, const std::string& message) {
    problems.push_back({node.source().begin.line, node.source().begin.column, message});
  }

  void only_keys(const toml::table& table, const std::vector<std::string>& allowed, const std::string& where) {
    for (const auto& [key, node] : table) {
      if (std::find(allowed.begin(), allowed.end(), key.str()) != allowed.end()) continue;
      std::string message = "unknown key '" + shortened(key.str(), most_quoted) + "'" + where;
      const std::string near = nearest(key.str(), allowed);
      message += near.empty() ? "; allowed: " + list(allowed) : "; did you mean '" + near + "'?";
      problems.push_back({key.source().begin.line, key.source().begin.column, message});
    }
  }

  double number(const toml::table& table, const char* key, double fallback, double least, double most) {
    const toml::node* node = table.get(key);
    return node == nullptr ? fallback : number(*node, key, fallback, least, most);
  }

  double number(const toml::node& node, const std::string& key, double fallback, double least, double most) {
    const auto value = node.is_number() ? node.value<double>() : std::nullopt;
    if (!value || !std::isfinite(*value)) {
      complain(node, "'" + key + "' must be a number from " + plain_number(least) + " to " + plain_number(most));
      return fallback;
    }
    if (*value < least || *value > most) {
      complain(node, "'" + key + "' is " + plain_number(*value) + "; allowed: " + plain_number(least) + " to " +
                         plain_number(most));
      return fallback;
    }
    return *value;
  }

  std::string text(const toml::table& table, const char* key) {
    const toml::node* node = table.get(key);
    return node == nullptr ? std::string() : text(*node, key);
  }

  std::string text(const toml::node& node, const std::string& key) {
    const auto value = node.is_string() ? node.value<std::string>() : std::nullopt;
    if (!value) {
      complain(node, "'" + key + "' must be a text in quotes");
      return {};
    }
    if (value->size() > longest_text) {
      complain(node, "'" + key + "' is longer than " + std::to_string(longest_text) + " characters");
      return {};
    }
    return *value;
  }

  std::vector<std::string> texts(const toml::table& table, const char* key) {
    std::vector<std::string> result;
    const toml::node* node = table.get(key);
    if (node == nullptr) return result;
    const toml::array* array = node->as_array();
    if (array == nullptr || array->size() > 100) {
      complain(*node, std::string("'") + key + "' must be a list of at most 100 texts");
      return result;
    }
    for (const toml::node& item : *array) result.push_back(text(item, key));
    return result;
  }

  const toml::table* table(const toml::table& parent, const char* key) {
    const toml::node* node = parent.get(key);
    if (node == nullptr) return nullptr;
    if (!node->is_table()) complain(*node, std::string("'") + key + "' must be a table: [" + key + "]");
    return node->as_table();
  }

  // Every table of [[key]].
  template <class Each>
  void tables(const toml::table& parent, const char* key, std::size_t most, Each each) {
    const toml::node* node = parent.get(key);
    if (node == nullptr) return;
    const toml::array* array = node->as_array();
    if (array == nullptr) {
      complain(*node, std::string("'") + key + "' must be written as [[" + key + "]]");
      return;
    }
    if (array->size() > most) {
      complain(*node, std::string("more than ") + std::to_string(most) + " [[" + key + "]]");
      return;
    }
    for (const toml::node& item : *array) {
      if (const toml::table* inner = item.as_table()) {
        each(*inner);
      } else {
        complain(item, std::string("'") + key + "' must be written as [[" + key + "]]");
      }
    }
  }

  std::optional<body::LeverId> lever(const toml::node& node, const std::string& name) {
    const auto found = model_->find_lever(name);
    if (found) return found;
    std::vector<std::string> names;
    for (const body::Lever& lever : model_->levers()) names.push_back(lever.name);
    const std::string near = nearest(name, names);
    complain(node, "unknown lever '" + shortened(name, most_quoted) + "'" +
                       (near.empty() ? "; `drawdown equations` lists them" : "; did you mean '" + near + "'?"));
    return std::nullopt;
  }

  double lever_value(const toml::node& node, body::LeverId id, double fallback) {
    const body::Lever& lever = model_->levers()[id];
    const double value = number(node, lever.name, fallback, lever.least, lever.most);
    if (lever.kind == body::LeverKind::counted && value != std::floor(value)) {
      complain(node, "'" + lever.name + "' counts whole " + lever.unit);
      return fallback;
    }
    return value;
  }

  static std::string list(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
    return text;
  }

 private:
  const body::Model* model_;
};

Words read_words(Reader& r, const toml::table& table) {
  return {r.text(table, "plain"), r.text(table, "clinic"), r.text(table, "mechanism")};
}

void read_patient(Reader& r, const toml::table& table, body::Patient& patient) {
  r.only_keys(table, {"weight_kg", "plasma_volume_ml_per_kg", "usual_c3_g_per_l", "usual_c4_g_per_l", "usual_mg_per_l"},
              " in [patient]");
  patient.weight = r.number(table, "weight_kg", patient.weight, 2, 300);
  patient.plasma_volume = r.number(table, "plasma_volume_ml_per_kg", patient.plasma_volume, 25, 80);
  const auto usual = [&](const char* protein) -> double& { return patient.usual[r.model().protein(protein)]; };
  usual("C3") = 1000.0 * r.number(table, "usual_c3_g_per_l", usual("C3") / 1000.0, 0.3, 2.5);
  usual("C4") = 1000.0 * r.number(table, "usual_c4_g_per_l", usual("C4") / 1000.0, 0.05, 0.8);
  if (const toml::table* levels = r.table(table, "usual_mg_per_l")) {
    std::vector<std::string> names;
    for (const body::Protein& p : r.model().proteins()) {
      if (p.name != "C3" && p.name != "C4") names.push_back(p.name);
    }
    r.only_keys(*levels, names, " in [patient.usual_mg_per_l]");
    for (const std::string& name : names) {
      const double standard = usual(name.c_str());
      usual(name.c_str()) = r.number(*levels, name.c_str(), standard, 0.3 * standard, 3.0 * standard);
    }
  }
}

void read_interval(Reader& r, const toml::table& table, const char* key, Interval& interval) {
  const toml::node* node = table.get(key);
  if (node == nullptr) return;
  const toml::array* pair = node->as_array();
  if (pair == nullptr || pair->size() != 2) {
    r.complain(*node, std::string("'") + key + "' must be a pair, for instance [0.90, 1.80]");
    return;
  }
  const double low = r.number(*pair->get(0), key, interval.low, 0, 10);
  const double high = r.number(*pair->get(1), key, interval.high, 0, 10);
  if (!(low < high)) {
    r.complain(*node, std::string("'") + key + "': the lower limit must be below the upper");
    return;
  }
  interval = {low, high};
}

void read_laboratory(Reader& r, const toml::table& table, Laboratory& laboratory) {
  r.only_keys(table, {"c3_g_per_l", "c4_g_per_l", "unit"}, " in [laboratory]");
  read_interval(r, table, "c3_g_per_l", laboratory.c3);
  read_interval(r, table, "c4_g_per_l", laboratory.c4);
  if (const toml::node* node = table.get("unit")) {
    const std::string unit = r.text(*node, "unit");
    if (unit == "mg/dL") laboratory.unit = Unit::mg_per_dl;
    if (unit != "mg/dL" && unit != "g/L") r.complain(*node, "'unit' must be \"g/L\" or \"mg/dL\"");
  }
}

void read_levers(Reader& r, const toml::table& table, std::vector<double>& values) {
  for (const auto& [key, node] : table) {
    const auto id = r.lever(node, std::string(key.str()));
    if (!id) continue;
    values[*id] = r.lever_value(node, *id, values[*id]);
  }
}

void read_event(Reader& r, const toml::table& table, Scenario& s) {
  r.only_keys(table, {"day", "lever", "value", "ramp_days", "for_hours", "label"}, " in [[event]]");
  Event event;
  event.day = r.number(table, "day", 0.0, 0.0, s.days);
  event.ramp_days = r.number(table, "ramp_days", 0.0, 0.0, longest_story);
  event.for_hours = r.number(table, "for_hours", 0.0, 0.0, 24.0 * longest_story);
  event.label = r.text(table, "label");
  for (const char* key : {"day", "lever", "value"}) {
    if (table.get(key) == nullptr) r.complain(table, std::string("[[event]] lacks '") + key + "'");
  }
  const toml::node* lever_node = table.get("lever");
  const toml::node* value_node = table.get("value");
  if (lever_node == nullptr || value_node == nullptr) return;
  const auto id = r.lever(*lever_node, r.text(*lever_node, "lever"));
  if (!id) return;
  event.lever = *id;
  event.value = r.lever_value(*value_node, *id, 0.0);
  s.events.push_back(event);
}

// Where no step gives a claim its day it must name its days itself.
std::vector<Claim> read_claims(Reader& r, const toml::table& table, const Scenario& s, bool must_name_days) {
  std::vector<Claim> claims;
  const toml::node* node = table.get("claims");
  if (node == nullptr) return claims;
  const toml::array* list = node->as_array();
  if (list == nullptr || list->size() > most_claims) {
    r.complain(*node, "'claims' must be a list of at most " + std::to_string(most_claims) + " texts");
    return claims;
  }
  for (const toml::node& item : *list) {
    ClaimRead read = read_claim(r.text(item, "claims"), s.days);
    if (!read.claim) {
      r.complain(item, read.problem);
    } else if (must_name_days && read.claim->from_day < 0.0) {
      r.complain(item, "a claim of the message must name its days: 'on day 30' or 'from day 20 to day 40'");
    } else {
      read.claim->line = item.source().begin.line;
      read.claim->column = item.source().begin.column;
      claims.push_back(std::move(*read.claim));
    }
  }
  return claims;
}

void read_talk(Reader& r, const toml::table& table, Scenario& s) {
  r.only_keys(table, {"day", "look", "plain", "clinic", "mechanism", "ask", "reveal", "claims"}, " in [[talk]]");
  TalkStep step;
  step.day = r.number(table, "day", 0.0, 0.0, s.days);
  step.look = r.text(table, "look");
  static const std::vector<std::string> views{"balance", "course", "cascade", "tissues",
                                              "lab",     "levers", "compare", "study"};
  if (!step.look.empty() && std::find(views.begin(), views.end(), step.look) == views.end()) {
    r.complain(*table.get("look"), "'look' must be one of: " + Reader::list(views));
  }
  step.say = read_words(r, table);
  step.ask = r.text(table, "ask");
  step.reveal = r.text(table, "reveal");
  step.claims = read_claims(r, table, s, false);
  s.talk.push_back(step);
}

}  // namespace

ReadError::ReadError(const std::string& file, std::vector<Problem> problems)
    : std::runtime_error(joined(file, problems)), problems_(std::move(problems)) {}

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
  std::string best;
  std::size_t best_distance = std::max<std::size_t>(2, word.size() / 3) + 1;
  if (word.size() > 64) return best;
  for (const std::string& candidate : candidates) {
    // Levenshtein distance, one row at a time.
    std::vector<std::size_t> row(candidate.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= word.size(); ++i) {
      std::size_t diagonal = row[0];
      row[0] = i;
      for (std::size_t j = 1; j <= candidate.size(); ++j) {
        const std::size_t replaced = diagonal + (word[i - 1] == candidate[j - 1] ? 0U : 1U);
        diagonal = row[j];
        row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
      }
    }
    if (row.back() < best_distance) {
      best_distance = row.back();
      best = candidate;
    }
  }
  return best;
}

Scenario read_text(std::string_view text, const std::string& name, const std::shared_ptr<const body::Model>& model) {
  toml::table root;
  try {
    root = parse_toml(text, name, {largest_file});
  } catch (const TomlError& error) {
    throw ReadError(name, {{error.line(), error.column(), error.message()}});
  }
  Reader r(*model);
  Scenario s;
  s.model = model;
  s.patient.usual = model->standard_levels();
  s.levers = model->resting_levers();
  s.name = stem_of(name);
  r.only_keys(root,
              {"title", "question", "message", "days", "patient", "laboratory", "levers", "beside", "event", "talk",
               "learn", "sources"},
              "");
  if (root.get("title") == nullptr) r.problems.push_back({1, 1, "'title' is missing"});
  s.title = r.text(root, "title");
  const toml::node* title = root.get("title");
  if (title != nullptr && title->is_string() && s.title.find_first_not_of(" \t\r\n") == std::string::npos) {
    r.problems.push_back({title->source().begin.line, title->source().begin.column, "'title' is empty"});
  }
  s.question = r.text(root, "question");
  if (const toml::node* question = root.get("question"); question != nullptr && question->is_string()) {
    const std::vector<std::string> allowed(questions.begin(), questions.end());
    if (std::find(allowed.begin(), allowed.end(), s.question) == allowed.end()) {
      r.complain(*question, "'question' must be one of: " + Reader::list(allowed));
    }
  }
  s.days = r.number(root, "days", s.days, 1.0, longest_story);
  if (const toml::table* message = r.table(root, "message")) {
    r.only_keys(*message, {"plain", "clinic", "mechanism", "claims"}, " in [message]");
    s.message = read_words(r, *message);
    s.claims = read_claims(r, *message, s, true);
  }
  if (const toml::table* patient = r.table(root, "patient")) read_patient(r, *patient, s.patient);
  if (const toml::table* laboratory = r.table(root, "laboratory")) read_laboratory(r, *laboratory, s.laboratory);
  if (const toml::table* levers = r.table(root, "levers")) read_levers(r, *levers, s.levers);
  if (const toml::table* levers = r.table(root, "beside")) {
    s.beside = model->resting_levers();
    read_levers(r, *levers, s.beside);
  }
  r.tables(root, "event", most_events, [&](const toml::table& table) { read_event(r, table, s); });
  r.tables(root, "talk", most_talk_steps, [&](const toml::table& table) { read_talk(r, table, s); });
  s.learn = r.texts(root, "learn");
  s.sources = r.texts(root, "sources");
  if (!r.problems.empty()) {
    std::stable_sort(r.problems.begin(), r.problems.end(), [](const Problem& a, const Problem& b) {
      return a.line != b.line ? a.line < b.line : a.column < b.column;
    });
    throw ReadError(name, std::move(r.problems));
  }
  std::stable_sort(s.events.begin(), s.events.end(), [](const Event& a, const Event& b) { return a.day < b.day; });
  return s;
}

}  // namespace drawdown::scenario
