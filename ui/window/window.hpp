// The window and the picture writer: the only places that open SFML and OpenGL.
#pragma once

#include <string>
#include <vector>

#include "stage/state.hpp"

namespace drawdown::window {

struct Start {
  stage::AppState state;  // as the program begins
  std::string assets;     // folder of words
  std::string session;    // file that remembers the session when the window closes; may be empty
  int width = 1600;
  int height = 900;
  double quit_after = 0;  // seconds; 0 = never (smoke tests)
};

// Opens the window and runs until it is closed. Returns an exit code. Throws std::runtime_error if no window opens.
int run(Start start);

struct Picture {
  stage::AppState state;  // with a finished run
  std::string assets;
  unsigned width = 1600;
  unsigned height = 900;
  std::string path;  // .png
};
// Draws one still off screen and writes it crash-safe. Throws std::runtime_error with the reason.
void save_picture(const Picture& picture);

}  // namespace drawdown::window
