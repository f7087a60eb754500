// Finding files.
#include "command/files.hpp"

#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <vector>

#include "disk/disk.hpp"
#include "look/library.hpp"

namespace drawdown::command {

std::string data_folder_of(const std::string& program) {
  namespace fs = std::filesystem;
  const fs::path home = fs::path(program).parent_path();
  std::vector<fs::path> places{home.parent_path() / "share" / "drawdown"};
  for (fs::path above = home; above.has_relative_path(); above = above.parent_path()) places.push_back(above);
  for (const fs::path& place : places) {
    std::error_code code;
    if (fs::exists(place / "assets" / "en.toml", code) && fs::is_directory(place / "scenarios", code)) {
      return fs::canonical(place / "assets").parent_path().string();
    }
  }
  throw std::runtime_error("the folders 'assets' and 'scenarios' were not found in " + places.front().string() +
                           ", in " + home.string() + " or above it; set DRAWDOWN_DATA to the folder that has them");
}

std::string data_folder() {
  const char* set = std::getenv("DRAWDOWN_DATA");
  if (set != nullptr && *set != '\0') return set;
  return data_folder_of(std::filesystem::canonical("/proc/self/exe").string());
}

namespace {

// $XDG_STATE_HOME or ~/.local/state, the program's own folder in it, made if need be; empty if neither is known.
std::filesystem::path state_folder() {
  const char* state = std::getenv("XDG_STATE_HOME");
  const char* home = std::getenv("HOME");
  std::filesystem::path folder;
  if (state != nullptr && *state != '\0') {
    folder = state;
  } else if (home != nullptr && *home != '\0') {
    folder = std::filesystem::path(home) / ".local" / "state";
  } else {
    return {};
  }
  (void)disk::make_private_folder((folder / "drawdown").string());
  return folder / "drawdown";
}

std::string in_state_folder(const char* name) {
  const std::filesystem::path folder = state_folder();
  return folder.empty() ? std::string() : (folder / name).string();
}

}  // namespace

std::vector<std::string> languages() {
  try {
    auto found = look::languages_in(data_folder() + "/assets");
    if (!found.empty()) return found;
  } catch (const std::exception&) {
    // whoever needs the words says what is missing
  }
  return {"en"};
}

std::string settings_file() {
  return in_state_folder("settings");
}

std::string own_numbers_file() {
  return in_state_folder("my-numbers.csv");
}

}  // namespace drawdown::command
