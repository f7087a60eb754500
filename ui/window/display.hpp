// Is there a screen to open a window on? Asked before SFML is, because SFML ends the program where there is none.
#pragma once

namespace drawdown::window {

// True if the display named by DISPLAY answers.
[[nodiscard]] bool display_answers();

}  // namespace drawdown::window
