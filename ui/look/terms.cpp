// Finding the words of the trade.
#include "look/terms.hpp"

#include <algorithm>
#include <cctype>

namespace drawdown::look {

namespace {

constexpr std::string_view forms_at = "glossary.forms.";

// Letters, digits and every byte of a letter with an accent.
bool in_word(char c) {
  const auto u = static_cast<unsigned char>(c);
  return std::isalnum(u) != 0 || u >= 0x80;
}

std::string small(std::string_view text) {
  std::string out(text);
  for (char& c : out) {
    if (static_cast<unsigned char>(c) < 0x80) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  }
  return out;
}

}  // namespace

Terms::Terms(const WordBook& words) {
  for (const std::string& key : words.keys()) {
    if (key.rfind(forms_at, 0) != 0) continue;
    const std::string list = words.at(key) + "|";
    for (std::size_t from = 0, bar = list.find('|'); bar != std::string::npos;
         from = bar + 1, bar = list.find('|', from)) {
      if (bar == from) continue;
      std::string form = small(list.substr(from, bar - from));
      std::vector<Form>& of = forms_[static_cast<unsigned char>(form.front())];
      of.push_back({std::move(form), key.substr(forms_at.size())});
    }
  }
  for (std::vector<Form>& of : forms_) {
    std::stable_sort(of.begin(), of.end(), [](const Form& a, const Form& b) { return a.text.size() > b.text.size(); });
  }
}

std::vector<Terms::Found> Terms::in(std::string_view text) const {
  const std::string low = small(text);
  std::vector<Found> found;
  for (std::size_t i = 0; i < low.size();) {
    const bool begins = in_word(low[i]) && (i == 0 || !in_word(low[i - 1]));
    const Form* hit = nullptr;
    if (!begins) {
      i += 1;
      continue;
    }
    for (const Form& form : forms_[static_cast<unsigned char>(low[i])]) {
      const std::size_t end = i + form.text.size();
      if (end > low.size() || low.compare(i, form.text.size(), form.text) != 0) continue;
      if (end < low.size() && in_word(low[end])) continue;
      hit = &form;
      break;
    }
    if (hit == nullptr) {
      i += 1;
      continue;
    }
    found.push_back({i, hit->text.size(), hit->key});
    i += hit->text.size();
  }
  return found;
}

std::vector<std::string> Terms::keys_in(std::string_view text) const {
  std::vector<std::string> keys;
  for (const Found& one : in(text)) {
    if (std::find(keys.begin(), keys.end(), one.key) == keys.end()) keys.push_back(one.key);
  }
  return keys;
}

Meaning meaning_of(const WordBook& words, const std::string& key) {
  const std::string& text = words.at("glossary." + key);
  const std::size_t bar = text.find('|');
  return {text.substr(0, bar), bar == std::string::npos ? std::string() : text.substr(bar + 1)};
}

}  // namespace drawdown::look
