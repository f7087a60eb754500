// Asking the X library that SFML itself uses, found when the program runs: its headers are not needed to build.
#include "window/display.hpp"

#include <dlfcn.h>

#include <cstdlib>

namespace drawdown::window {

bool display_answers() {
  const char* name = std::getenv("DISPLAY");
  if (name == nullptr || *name == '\0') return false;
  void* library = ::dlopen("libX11.so.6", RTLD_LAZY);
  if (library == nullptr) return false;
  using Open = void* (*)(const char*);
  const auto open = reinterpret_cast<Open>(::dlsym(library, "XOpenDisplay"));
  // Left open: a server whose last client leaves may begin anew, and refuse whoever comes in that moment.
  return open != nullptr && open(nullptr) != nullptr;
}

}  // namespace drawdown::window
