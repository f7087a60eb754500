// A story from a file. Apart from the reader of texts, which needs no file system.
#include <filesystem>
#include <fstream>
#include <sstream>

#include "scenario/read.hpp"

namespace drawdown::scenario {

Scenario read_file(const std::string& path) {
  std::error_code code;
  if (!std::filesystem::is_regular_file(path, code)) {
    throw ReadError(path, {{0, 0, "no such file, or not a plain file"}});
  }
  const auto size = std::filesystem::file_size(path, code);
  if (code || size > largest_file) {
    throw ReadError(path, {{0, 0, "larger than " + std::to_string(largest_file / 1024) + " KiB, or unreadable"}});
  }
  std::ifstream in(path, std::ios::binary);
  std::ostringstream content;
  content << in.rdbuf();
  if (!in) throw ReadError(path, {{0, 0, "cannot be read"}});
  return read_text(content.str(), path);
}

}  // namespace drawdown::scenario
