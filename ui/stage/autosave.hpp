// When the session is due to be written while the window is open: so often that a kill loses at most the last two
// seconds, and only when something changed. The clock is handed in.
#pragma once

#include <functional>
#include <optional>
#include <string>

namespace drawdown::stage {

class Autosave {
 public:
  // Seconds between looks; with the frame that comes late still under two.
  static constexpr double every = 1.5;

  // `kept` is what stands in the file at the start.
  explicit Autosave(std::string kept) : kept_(std::move(kept)) {}

  // Seconds since the start, never asked backwards. `text` makes the session's text and is called at most once every
  // `every` seconds. Returns what to write, if there is something new.
  [[nodiscard]] std::optional<std::string> due(double now, const std::function<std::string()>& text) {
    if (now < next_) return std::nullopt;
    next_ = now + every;
    std::string fresh = text();
    if (fresh == kept_) return std::nullopt;
    kept_ = fresh;
    return fresh;
  }

 private:
  std::string kept_;
  double next_ = every;
};

}  // namespace drawdown::stage
