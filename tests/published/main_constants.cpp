// How far each constant can be moved before a figure of the ledger leaves its range: writes
// tests/published/constants.txt. Takes minutes in a Release build, far longer in others. With numbers FIRST LAST only
// the constants from FIRST to before LAST, without the head: for several processes at a time.
#include <algorithm>
#include <cstdlib>
#include <iostream>
#include <string>

#include "study/truth/reach.hpp"

using namespace drawdown::study::truth;

int main(int argc, char** argv) {
  const auto all = written_constants();
  std::size_t first = 0;
  std::size_t last = all.size();
  if (argc == 3) {
    first = std::strtoul(argv[1], nullptr, 10);
    last = std::min(last, static_cast<std::size_t>(std::strtoul(argv[2], nullptr, 10)));
  } else {
    std::cout << reach_head() << '\n';
  }
  for (std::size_t i = first; i < last; ++i) std::cout << reach_line(all[i], reach_of(all[i])) << '\n' << std::flush;
  return std::cout ? 0 : 1;
}
