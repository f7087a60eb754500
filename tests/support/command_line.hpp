// The command line without a process of its own: words in, what it printed and its exit code out.
#pragma once

#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>
#include <string>
#include <vector>

#include "command/command.hpp"

namespace drawdown::support {

struct Answer {
  int code = 0;
  std::string out;
  std::string err;
};

inline Answer drawdown_with(std::vector<std::string> words, const command::Screen& screen = {}) {
  words.insert(words.begin(), "drawdown");
  std::vector<char*> argv;
  argv.reserve(words.size());
  for (std::string& word : words) argv.push_back(word.data());
  std::ostringstream out;
  std::ostringstream err;
  std::streambuf* old_out = std::cout.rdbuf(out.rdbuf());
  std::streambuf* old_err = std::cerr.rdbuf(err.rdbuf());
  const int code = command::run(static_cast<int>(argv.size()), argv.data(), screen);
  std::cout.rdbuf(old_out);
  std::cerr.rdbuf(old_err);
  return {code, out.str(), err.str()};
}

// A text file, and what stands in one.
inline std::string file_with(const std::string& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
  return path;
}
inline std::string content_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

}  // namespace drawdown::support
