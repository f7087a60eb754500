// elementary_errors COUNT: the program's own exp, log and power against the C library's long double ones.
#include <cstdio>
#include <cstdlib>

#include "network/elementary_errors.hpp"

int main(int argc, char** argv) {
  const long count = argc == 2 ? std::strtol(argv[1], nullptr, 10) : 0;
  if (count <= 0) {
    std::fputs("usage: elementary_errors COUNT (10000000 in full)\n", stderr);
    return 2;
  }
  bool within = true;
  for (const auto& e : drawdown::support::elementary_errors(static_cast<std::size_t>(count))) {
    std::printf(
        "%-5s %zu arguments: at most %ld doubles from the nearest, %.4f units in the last place (at %a); "
        "%zu not the nearest\n",
        e.name, e.arguments, e.most_steps, e.most, e.at, e.not_nearest);
    within = within && e.most_steps <= 1;
  }
  return within ? 0 : 1;
}
