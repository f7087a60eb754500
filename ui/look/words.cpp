// Loading the words and filling their gaps.
#include "look/words.hpp"

#include <cmath>
#include <cstdio>
#include <sstream>
#include <stdexcept>

#include "disk/disk.hpp"
#include "scenario/toml_text.hpp"

namespace drawdown::look {

namespace {

void flatten(const toml::table& table, const std::string& prefix, std::map<std::string, std::string>& out) {
  for (const auto& [key, node] : table) {
    const std::string name = prefix.empty() ? std::string(key.str()) : prefix + "." + std::string(key.str());
    if (const toml::table* inner = node.as_table()) {
      flatten(*inner, name, out);
    } else if (const auto text = node.value<std::string>()) {
      out[name] = *text;
    }
  }
}

}  // namespace

WordBook WordBook::load(const std::string& path) {
  return read(disk::read_whole_file(path, most_bytes), path);
}

WordBook WordBook::read(std::string_view text, const std::string& name) {
  WordBook book;
  flatten(scenario::parse_toml(text, name, {most_bytes}), "", book.texts_);
  return book;
}

bool WordBook::has(const std::string& key) const {
  return texts_.count(key) > 0;
}

const std::string& WordBook::at(const std::string& key) const {
  const auto found = texts_.find(key);
  if (found != texts_.end()) return found->second;
  return missing_.emplace(key, "<" + key + ">").first->second;
}

const std::string& WordBook::at(const std::string& key, Depth depth) const {
  const auto found = texts_.find(key + "." + name_of(depth_names, depth));
  return found != texts_.end() ? found->second : at(key);
}

const std::string& WordBook::told(const std::string& story, const std::string& part,
                                  const std::string& as_written) const {
  const auto found = texts_.find("story." + story + "." + part);
  return found != texts_.end() ? found->second : as_written;
}

std::string WordBook::fill(const std::string& key, std::initializer_list<std::string> parts) const {
  return filled(at(key), parts);
}

std::string WordBook::fill(const std::string& key, Depth depth, std::initializer_list<std::string> parts) const {
  return filled(at(key, depth), parts);
}

std::vector<std::string> WordBook::keys() const {
  std::vector<std::string> all;
  for (const auto& [key, text] : texts_) all.push_back(key);
  return all;
}

std::string filled(std::string_view pattern, const std::vector<std::string>& parts) {
  std::string out;
  for (std::size_t i = 0; i < pattern.size(); ++i) {
    if (pattern[i] == '{' && i + 2 < pattern.size() && pattern[i + 2] == '}') {
      const auto which = static_cast<std::size_t>(pattern[i + 1] - '0');
      if (which < parts.size()) {
        out += parts[which];
        i += 2;
        continue;
      }
    }
    out += pattern[i];
  }
  return out;
}

std::string number(double value, int decimals) {
  char buffer[64];
  const double zero_free = std::abs(value) < 0.5 * std::pow(10.0, -decimals) ? 0.0 : value;
  (void)std::snprintf(buffer, sizeof buffer, "%.*f", decimals, zero_free);
  return buffer;
}

}  // namespace drawdown::look
