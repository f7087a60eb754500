// The command line. Exit codes: 0 done, 1 a finding (a check failed), 2 misuse, 3 could not.
#pragma once

#include <functional>
#include <string>

#include "stage/state.hpp"

namespace drawdown::command {

enum Exit { done = 0, finding = 1, misuse = 2, could_not = 3 };

// What the command line cannot do itself: open windows and draw pictures. Handed in by main, so that everything else
// is tested without a screen.
struct Screen {
  // Opens the window on a state with a finished run; `session` is the file that remembers it, or empty.
  std::function<int(stage::AppState state, std::string session, int width, int height, double quit_after)> window;
  // Writes a still; throws with the reason.
  std::function<void(stage::AppState state, unsigned width, unsigned height, const std::string& path)> picture;
  // The file that remembers the last session, and the one of own numbers kept on request; may be empty.
  std::string session;
  std::string own_numbers;
};

int run(int argc, char** argv, const Screen& screen);

}  // namespace drawdown::command
