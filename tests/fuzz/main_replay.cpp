// Tries every file of the folders given: the corpus that fuzzing left behind, in every test run.
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "fuzz/fuzz.hpp"

int main(int argc, char** argv) {
  std::size_t count = 0;
  for (int i = 1; i < argc; ++i) {
    for (const auto& file : std::filesystem::directory_iterator(argv[i])) {
      const std::ifstream in(file.path(), std::ios::binary);
      std::ostringstream text;
      text << in.rdbuf();
      (void)fuzz_one(text.str());
      count += 1;
    }
  }
  std::printf("%zu inputs replayed\n", count);
  return count > 0 ? 0 : 1;
}
