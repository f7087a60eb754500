// fit_coverage [PEOPLE] [SEED]: prints the summary; the one of 200 people is kept in fit-coverage.txt.
#include <cstdio>
#include <cstdlib>

#include "labs/coverage.hpp"

int main(int argc, char** argv) {
  const int people = argc > 1 ? std::atoi(argv[1]) : 200;
  const unsigned seed = argc > 2 ? static_cast<unsigned>(std::atoi(argv[2])) : 1000;
  std::fputs(drawdown::tests::summary(drawdown::tests::fit_coverage(people, seed)).c_str(), stdout);
  return 0;
}
