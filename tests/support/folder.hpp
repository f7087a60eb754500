// A temporary folder of a test's own, gone afterwards.
#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <filesystem>
#include <string>

namespace drawdown::support {

class Folder {
 public:
  Folder() {
    std::string pattern = (std::filesystem::temp_directory_path() / "drawdown.XXXXXX").string();
    REQUIRE(::mkdtemp(pattern.data()) != nullptr);
    path = std::filesystem::canonical(pattern).string();
  }
  Folder(const Folder&) = delete;
  Folder(Folder&&) = delete;
  Folder& operator=(const Folder&) = delete;
  Folder& operator=(Folder&&) = delete;
  ~Folder() {
    std::error_code code;
    std::filesystem::remove_all(path, code);
  }
  std::string path;
};

// Entries of a folder that exist (a dead link does not).
inline std::size_t files_in(const std::string& folder) {
  std::size_t count = 0;
  for (const auto& file : std::filesystem::directory_iterator(folder)) count += file.exists() ? 1U : 0U;
  return count;
}

}  // namespace drawdown::support
