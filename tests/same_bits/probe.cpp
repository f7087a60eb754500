// Does the compiler build for the machine it is asked to?
#include <cstdio>
#include <map>
#include <string>

int main() {
  const std::map<std::string, double> numbers{{"one", 1.0}};
  std::printf("%g\n", numbers.at("one"));
}
