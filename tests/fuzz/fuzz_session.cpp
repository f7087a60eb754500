// A kept session over a fresh state: whatever the bytes, it is taken up or refused and the state is as it was; what is
// taken up is sound (broken.hpp) and, kept again, comes back the same. "@story@" in the bytes stands for the path of a
// story of one day; its run still takes long under sanitizers, so only one session in 37 (by the sum of its bytes,
// which no fuzzer learns to please) takes its story up.
#include <cstdlib>
#include <numeric>
#include <stdexcept>

#include "command/session.hpp"
#include "fuzz/broken.hpp"
#include "fuzz/fuzz.hpp"
#include "support/stories.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  static const std::string mark = "@story@";
  static const std::string path = support::source_folder() + "/tests/fuzz/one-day.toml";
  std::string told = text;
  for (std::size_t at = told.find(mark); at != std::string::npos; at = told.find(mark, at + path.size())) {
    told.replace(at, mark.size(), path);
  }
  const bool with_story = std::accumulate(text.begin(), text.end(), 0U,
                                          [](unsigned sum, char c) { return sum + static_cast<unsigned char>(c); }) %
                              37 ==
                          0;
  stage::AppState state;
  state.page.overlay = stage::Overlay::cautions;
  const std::string before = command::session_text(state);
  try {
    command::restore_session(state, told, "session", with_story);
  } catch (const std::runtime_error&) {
    if (command::session_text(state) != before) std::abort();
    return 0;
  }
  if (!fuzz::broken(state).empty()) std::abort();
  if (state.runs.now != nullptr) return 0;
  const std::string kept = command::session_text(state);
  stage::AppState again;
  again.page.overlay = stage::Overlay::cautions;
  command::restore_session(again, kept, "session", with_story);
  if (command::session_text(again) != kept) std::abort();
  return 0;
}
