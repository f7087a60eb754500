// Draws a state as the window would, without a window, at sizes and text scales it keeps fonts for, and says what is
// wrong with the picture.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "draw/canvas.hpp"
#include "stage/state.hpp"

namespace drawdown::fuzz {

// Texts lying on each other (as tests/panels/test_text_fits.cpp has it), words missing from the list of words, numbers
// that are none; empty = nothing wrong. `pages` = a page lies over the screen: then what is under it may be written
// over.
[[nodiscard]] std::string wrong_with(const std::vector<draw::TextRecord>& texts, bool pages);

class Painter {
 public:
  // Reads words and figures from the folder. Throws std::runtime_error if they cannot be read.
  explicit Painter(const std::string& assets);
  Painter(const Painter&) = delete;
  Painter(Painter&&) = delete;
  Painter& operator=(const Painter&) = delete;
  Painter& operator=(Painter&&) = delete;
  ~Painter();
  // The texts on a frame; drawing what nobody touches must ask for nothing: `acted` says whether it did.
  [[nodiscard]] std::vector<draw::TextRecord> draw(const stage::AppState& state, bool small, bool* acted);

 private:
  struct Held;
  std::unique_ptr<Held> held_;
};

}  // namespace drawdown::fuzz
