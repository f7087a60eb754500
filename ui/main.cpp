// Wiring: the command line on one side, window and pictures on the other.
#include <fcntl.h>
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <iostream>
#include <stdexcept>
#include <vector>

#include "command/command.hpp"
#include "command/files.hpp"
#include "window/display.hpp"
#include "window/window.hpp"

namespace {

// A standard stream that is closed would lend its number to the next file opened, and what is printed would land there.
void hold_standard_streams() {
  for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO}) {
    if (::fcntl(stream, F_GETFD) == -1) (void)::open("/dev/null", O_RDONLY);  // a write to it fails, and is told
  }
}

// Drawing needs an OpenGL context, and that needs a display: where there is none, the program starts itself again under
// a virtual one. Returns only if that cannot be done.
void restart_under_virtual_display(int argc, char** argv) {
  if (std::getenv("DRAWDOWN_VIRTUAL_DISPLAY") != nullptr) return;
  (void)::setenv("DRAWDOWN_VIRTUAL_DISPLAY", "1", 1);
  std::vector<char*> words;
  for (const char* word : {"xvfb-run", "-a", "-s", "-screen 0 1280x800x24"}) words.push_back(const_cast<char*>(word));
  for (int i = 0; i < argc; ++i) words.push_back(argv[i]);
  words.push_back(nullptr);
  (void)::execvp("xvfb-run", words.data());
}

}  // namespace

int main(int argc, char** argv) {
  hold_standard_streams();
  (void)std::signal(SIGPIPE, SIG_IGN);  // a reader that left is an error to be told, not the end
  using drawdown::stage::AppState;
  drawdown::command::Screen screen;
  screen.session = drawdown::command::settings_file();
  screen.own_numbers = drawdown::command::own_numbers_file();
  screen.window = [&](AppState state, std::string session, int width, int height, double quit_after) {
    if (!drawdown::window::display_answers()) {
      std::cerr << "drawdown: there is no display to open a window on, or it does not answer; `drawdown picture` and "
                   "`drawdown course` work without one\n";
      return static_cast<int>(drawdown::command::could_not);
    }
    drawdown::window::Start start;
    start.state = std::move(state);
    start.assets = drawdown::command::data_folder() + "/assets";
    start.session = std::move(session);
    start.width = width;
    start.height = height;
    start.quit_after = quit_after;
    return drawdown::window::run(std::move(start));
  };
  screen.picture = [&](AppState state, unsigned width, unsigned height, const std::string& path) {
    if (!drawdown::window::display_answers()) {
      restart_under_virtual_display(argc, argv);
      throw std::runtime_error("no display answers, and no virtual one could be started");
    }
    drawdown::window::Picture picture;
    picture.state = std::move(state);
    picture.assets = drawdown::command::data_folder() + "/assets";
    picture.width = width;
    picture.height = height;
    picture.path = path;
    drawdown::window::save_picture(picture);
  };
  return drawdown::command::run(argc, argv, screen);
}
