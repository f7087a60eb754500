// libFuzzer on the reader of stories: whatever the bytes, it answers or refuses with its own error, and a story it
// takes has levers inside their ranges and can be laid out in time. Replayed over tests/fuzz/scenario/ in every test
// run.
#include <cmath>
#include <cstdlib>

#include "fuzz/fuzz.hpp"
#include "scenario/read.hpp"
#include "scenario/timeline.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  try {
    const scenario::Scenario story = scenario::read_text(text, "fuzz");
    const auto& levers = body::standard_model()->levers();
    for (std::size_t i = 0; i < levers.size(); ++i) {
      if (!(story.levers.at(i) >= levers[i].least && story.levers.at(i) <= levers[i].most)) std::abort();
    }
    for (const solve::Segment& segment : scenario::Timeline(story).segments()) {
      if (!std::isfinite(segment.end)) std::abort();
    }
  } catch (const scenario::ReadError&) {
    return 0;
  }
  return 0;
}
