// Typed events and pasted text into the line of own results: whatever comes in whatever frame, the line is what was
// typed.
#include <cstdio>
#include <cstdlib>

#include "fuzz/fuzz.hpp"
#include "fuzz/typing.hpp"

int fuzz_one(const std::string& text) {
  const std::string said = drawdown::fuzz::type_out(text);
  if (!said.empty()) {
    (void)std::fprintf(stderr, "%s\n", said.c_str());
    std::abort();
  }
  return 0;
}
