// Reading and judging own results.
#include "stage/own_results.hpp"

#include <algorithm>

namespace drawdown::stage::own_results {

void stop_fit(AppState& state) {
  if (state.own.fitting) state.own.fitting->cancel = true;
  state.own.fitting.reset();
}

void judge_again(AppState& state) {
  stop_fit(state);
  state.own.fit.reset();
  state.own.judged = labs::judge(state.own.reading.rows, state.own.noise, {});
}

void read_again(AppState& state) {
  OwnResults& own = state.own;
  own.problem.clear();
  own.reading = {};
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
  if (state.own.any()) state.unit = state.own.reading.unit;
  if (!results.kept) state.view = View::own;
  if (state.overlay == Overlay::files) state.overlay = Overlay::none;
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

}  // namespace drawdown::stage::own_results
