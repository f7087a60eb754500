// The title over the picture has words for every state and reason, short enough for a hall.
#include "stage/verdict_words.hpp"

#include <doctest/doctest.h>

#include <sstream>

#include "account_of.hpp"
#include "stage/reading.hpp"
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

TEST_CASE("the title's reason is what the sentence says moves a level, or first of what pulls it down or holds it up") {
  std::size_t compared = 0;
  std::size_t surfaces = 0;
  std::size_t off = 0;  // days on which C3's reason would not do for C4
  for (const std::string& path : support::shipped_stories()) {
    const auto run = support::run_of(scenario::read_file(path));
    const auto account = account_with(run);
    for (double day = 0.0; day <= run->last_day(); day += 3.0) {
      const stage::VerdictPair pair = stage::verdicts(*run, *account, day);
      for (const stage::Which which : {stage::Which::c3, stage::Which::c4}) {
        const Verdict& title = which == stage::Which::c3 ? pair.c3 : pair.c4;
        const stage::Reading said = stage::read_balance(*run, *account, day, which);
        if (title.why == Why::none) {
          CHECK_MESSAGE(!said.moves(), path, " day ", day);
          continue;
        }
        compared += 1;
        surfaces += title.why == Why::surfaces ? 1U : 0U;
        off += pair.c3.why != pair.c4.why ? 1U : 0U;
        const Why why = title.why == Why::again ? Why::made : title.why;
        if (said.moves()) {
          CHECK_MESSAGE(said.mover.cause == why, path, " day ", day);
        } else {
          const auto& first = title.state == LevelState::below ? said.down : said.up;
          REQUIRE_MESSAGE(!first.empty(), path, " day ", day);
          CHECK_MESSAGE(first.front().cause == why, path, " day ", day);
        }
      }
    }
  }
  CHECK(compared > 800);
  CHECK(surfaces >= 3);
  CHECK(off > 100);
}

TEST_CASE("a title that says the drain is open stands over an opening wider than usual") {
  std::size_t open = 0;
  for (const std::string& path : support::shipped_stories()) {
    const auto run = support::run_of(scenario::read_file(path));
    const auto account = account_with(run);
    for (double day = 0.0; day <= run->last_day(); day += 3.0) {
      const stage::VerdictPair pair = stage::verdicts(*run, *account, day);
      for (const std::size_t p : {c3_in_account, c4_in_account}) {
        const Verdict& title = p == c3_in_account ? pair.c3 : pair.c4;
        if (title.why != Why::complexes) continue;
        const bool said = title.state == LevelState::below || title.state == LevelState::falling;
        if (!said) continue;
        open += 1;
        CHECK_MESSAGE(account->at(p, 24.0 * day).drain > 1.0, path, " day ", day);
      }
    }
  }
  CHECK(open > 200);
}
