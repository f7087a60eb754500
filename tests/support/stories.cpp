#include "support/stories.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace drawdown::support {

std::shared_ptr<const body::Body> standard_body() {
  static const auto body = body::make_body({});
  return body;
}

std::string source_folder() {
  return DRAWDOWN_SOURCE_DIR;
}

std::vector<std::string> shipped_stories() {
  std::vector<std::string> paths;
  for (const auto& file : std::filesystem::directory_iterator(source_folder() + "/scenarios")) {
    if (file.path().extension() == ".toml") paths.push_back(file.path().string());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

scenario::Scenario story_with(const Levers& levers, double days, double from) {
  scenario::Scenario s;
  s.title = "test";
  s.days = days;
  for (const auto& [name, value] : levers) s.events.push_back({from, body::lever_at(name), value, 0.0, 0.0, ""});
  return s;
}

scenario::Scenario settled_with(const Levers& levers, double days) {
  scenario::Scenario s;
  s.title = "test";
  s.days = days;
  for (const auto& [name, value] : levers) s.levers[body::lever_at(name)] = value;
  return s;
}

std::shared_ptr<const Run> run_of(const scenario::Scenario& story, double rtol) {
  SimulateOptions options;
  options.rtol = rtol;
  if (story.patient == body::Patient{}) return simulate(standard_body(), story, options);
  return simulate(story, options);
}

std::vector<double> random_state(const network::Network& network, std::mt19937& random) {
  std::uniform_real_distribution<double> share(0.0, 3.0);
  std::bernoulli_distribution zero(0.1);
  std::vector<double> x;
  for (const network::Species& s : network.species) {
    double value = zero(random) ? 0.0 : s.scale * share(random);
    if (s.name.rfind("injury_", 0) == 0) value = std::min(value, 1.0);  // a fraction
    x.push_back(value);
  }
  return x;
}

std::vector<double> random_levers(std::mt19937& random) {
  std::vector<double> values;
  for (const body::Lever& lever : body::standard_model()->levers()) {
    std::uniform_real_distribution<double> within(lever.least, lever.most);
    const double drawn = within(random);
    const bool at_rest = lever.kind == body::LeverKind::dated || lever.group == body::LeverGroup::person;
    if (at_rest) {
      values.push_back(lever.rest);
    } else {
      values.push_back(lever.kind == body::LeverKind::counted ? std::round(drawn) : drawn);
    }
  }
  return values;
}

scenario::Scenario story_of_random_levers(std::mt19937& random) {
  scenario::Scenario story = story_with({}, 120.0);
  const std::vector<double> levers = random_levers(random);
  for (std::size_t i = 0; i < levers.size(); ++i) story.events.push_back({5.0, body::LeverId(i), levers[i], 0, 0, ""});
  for (std::size_t i = 0; i < levers.size(); ++i)
    story.events.push_back({60.0, body::LeverId(i), story.levers[i], 0, 0, ""});
  return story;
}

}  // namespace drawdown::support
