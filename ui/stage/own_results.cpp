// Reading and judging own results.
#include "stage/own_results.hpp"

#include <algorithm>
#include <utility>

namespace drawdown::stage::own_results {

void stop_fit(AppState& state) {
  if (state.own.fitting) state.own.fitting->cancel = true;
  state.own.fitting.reset();
}

void judge_again(AppState& state) {
  stop_fit(state);
  state.own.fit.reset();
  state.own.why.reset();
  state.own.judged = labs::judge(state.own.reading.rows, state.own.noise, {});
}

void read_again(AppState& state) {
  OwnResults& own = state.own;
  own.problem.clear();
  own.reading = {};
  own.asked.today = state.today;
  own.asked.name = own.path.empty() ? "results" : own.path;
  if (own.any()) {
    try {
      own.reading = labs::read(own.text, own.asked);
    } catch (const labs::ReadError& error) {
      own.problem = error.what();
    }
  }
  judge_again(state);
}

void take(AppState& state, const ResultsText& results) {
  OwnResults fresh;
  fresh.noise = state.own.noise;
  fresh.text = results.text;
  fresh.path = results.path;
  fresh.kept = results.kept;
  stop_fit(state);
  state.own = std::move(fresh);
  read_again(state);
  if (state.own.any()) state.page.unit = state.own.reading.unit;
  if (!results.kept) state.page.view = View::own;
  if (state.page.overlay == Overlay::files) state.page.overlay = Overlay::none;
}

void add(AppState& state, const std::string& text) {
  if (std::all_of(text.begin(), text.end(), [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }))
    return;
  std::string& all = state.own.text;
  if (!all.empty() && all.back() != '\n') all += '\n';
  all += text;
  if (all.back() != '\n') all += '\n';
  state.own.done.clear();
  state.own.kept = false;
  read_again(state);
}

void paste(AppState& state, const std::string& text) {
  const std::size_t end = text.find_last_not_of(" \t\r\n");
  const bool table = end != std::string::npos && text.find('\n') < end;
  if (table && state.own.any()) {
    state.own.pending = text;
  } else {
    add(state, text);
  }
}

void settle_pending(AppState& state, bool same_person) {
  const std::string text = std::exchange(state.own.pending, {});
  if (text.empty()) return;
  if (same_person) {
    add(state, text);
    return;
  }
  take(state, {"", text, false});
}

void edit_line(AppState& state, std::size_t line) {
  std::string& text = state.own.text;
  std::size_t from = 0;
  for (std::size_t i = 1; i < line && from != std::string::npos; ++i) {
    from = text.find('\n', from);
    if (from != std::string::npos) from += 1;
  }
  if (line == 0 || from == std::string::npos || from >= text.size()) return;
  const std::size_t end = std::min(text.find('\n', from), text.size());
  std::string taken = text.substr(from, end - from);
  if (!taken.empty() && taken.back() == '\r') taken.pop_back();
  text.erase(from, end - from + (end < text.size() ? 1 : 0));
  state.own.typed = std::move(taken);
  state.own.kept = false;
  read_again(state);
}

namespace {
// Not only let go of: written over first.
void wipe(std::string& text) {
  std::fill(text.begin(), text.end(), '\0');
  text.clear();
  text.shrink_to_fit();
}
}  // namespace

void forget(AppState& state) {
  stop_fit(state);
  OwnResults& own = state.own;
  const std::string name = own.path.substr(own.path.rfind('/') + 1);
  if (!name.empty() && state.problem.find(name) != std::string::npos) state.problem.clear();
  for (std::string* text : {&own.text, &own.path, &own.typed, &own.pending, &own.problem, &own.done}) wipe(*text);
  state.own = {};
  state.files.results_asked += 1;
}

}  // namespace drawdown::stage::own_results
