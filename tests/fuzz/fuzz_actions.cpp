// Random sequences of actions on the state: whatever is done, in whatever order and with answers however late, what
// play.hpp names holds. Its corpus is replayed in every test run.
#include <cstdio>
#include <cstdlib>

#include "fuzz/fuzz.hpp"
#include "fuzz/play.hpp"
#include "support/stories.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  static fuzz::Painter painter(support::source_folder() + "/assets");
  fuzz::Rules rules;
  rules.real = false;
  rules.painter = &painter;
  const std::string said = fuzz::play(text, rules);
  if (!said.empty()) {
    (void)std::fprintf(stderr, "%s\n", said.c_str());
    std::abort();
  }
  return 0;
}
