// The title over the picture has words for every state and reason, short enough for a hall.
#include "stage/verdict_words.hpp"

#include <doctest/doctest.h>

#include <sstream>

#include "support/stories.hpp"

using namespace drawdown;
using readout::LevelState;
using readout::Verdict;
using readout::Why;

namespace {

std::size_t words_in(const std::string& text) {
  std::istringstream in(text);
  std::size_t n = 0;
  for (std::string word; in >> word;) n += 1;
  return n;
}

std::vector<Verdict> all() {
  std::vector<Verdict> verdicts{{LevelState::usual, false, Why::none},
                                {LevelState::hidden, false, Why::none},
                                {LevelState::usual_low, false, Why::none}};
  for (const LevelState state : {LevelState::falling, LevelState::filling, LevelState::below, LevelState::above}) {
    for (std::size_t why = 1; why < readout::why_names.size(); ++why) {
      verdicts.push_back({state, false, static_cast<Why>(why)});
      if (state == LevelState::falling || state == LevelState::filling) {
        verdicts.push_back({state, true, static_cast<Why>(why)});
      }
    }
  }
  return verdicts;
}

}  // namespace

TEST_CASE("every verdict has words: one line of at most nine words for both, of at most seven for one, in English") {
  const look::WordBook english = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  for (const Verdict& v : all()) {
    const auto both = stage::verdict_lines({v, v}, english);
    REQUIRE(both.size() == 1);
    CHECK_MESSAGE(words_in(both.front()) <= 9, both.front());
    Verdict other{LevelState::usual, false, Why::none};
    if (v == other) other.state = LevelState::usual_low;
    const auto each = stage::verdict_lines({v, other}, english);
    REQUIRE(each.size() == 2);
    CHECK_MESSAGE(words_in(each.front()) <= 7, each.front());
    CHECK(each.front().rfind("C3 ", 0) == 0);
    CHECK(each.back().rfind("C4 ", 0) == 0);
  }
  CHECK(words_in("one two three") == 3);
}

TEST_CASE("in Spanish a line for both or for one is at most 58 bytes long") {
  const look::WordBook spanish = look::WordBook::load(support::source_folder() + "/assets/es.toml");
  for (const Verdict& v : all()) {
    const auto both = stage::verdict_lines({v, v}, spanish);
    CHECK_MESSAGE(both.front().size() <= 58, both.front());
    Verdict other{LevelState::usual, false, Why::none};
    if (v == other) other.state = LevelState::usual_low;
    CHECK_MESSAGE(stage::verdict_lines({v, other}, spanish).front().size() <= 58, both.front());
  }
}
