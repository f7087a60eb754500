// libFuzzer on the reader of serial results: whatever the bytes, it answers or refuses with its own error, and
// what it takes can be judged. Replayed over tests/fuzz/results/ in every test run.
#include <cstdlib>

#include "fuzz/fuzz.hpp"
#include "labs/judge.hpp"
#include "labs/read.hpp"

using namespace drawdown;

int fuzz_one(const std::string& text) {
  try {
    const labs::Reading r = labs::read(text);
    for (const labs::Row& row : r.rows) {
      if (row.c3 && !(row.c3->value >= 0.0 && row.c3->value <= 6.0)) std::abort();
      if (row.c4 && !(row.c4->value >= 0.0 && row.c4->value <= 2.0)) std::abort();
    }
    for (std::size_t i = 1; i < r.rows.size(); ++i) {
      if (r.rows[i].day < r.rows[i - 1].day) std::abort();
    }
    (void)labs::judge(r.rows, {}, {});
  } catch (const labs::ReadError&) {
    return 0;
  }
  return 0;
}
