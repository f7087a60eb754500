// Finding files.
#include "command/files.hpp"

#include <cstdlib>
#include <filesystem>

#include "disk/disk.hpp"

namespace drawdown::command {

std::string data_folder() {
  const char* set = std::getenv("DRAWDOWN_DATA");
  return set != nullptr && *set != '\0' ? set : DRAWDOWN_SOURCE_DIR;
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

std::string settings_file() {
  return in_state_folder("settings");
}

std::string own_numbers_file() {
  return in_state_folder("my-numbers.csv");
}

}  // namespace drawdown::command
