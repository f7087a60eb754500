// Values on their way: what a panel shows of a figure that has just jumped (another day, a moved lever, another step of
// a talk) goes there within half a second, so that the eye can follow. Only what is drawn; the state has jumped.
#pragma once

#include <map>
#include <string>

namespace drawdown::panels {

class Motion {
 public:
  // Starts a frame at `seconds` since the program's start. `still` = everything is where it belongs at once.
  void begin(double seconds, bool still);
  // What to show for the value of that name, whose state is `goal`. Seen for the first time, it is there.
  [[nodiscard]] double towards(const std::string& name, double goal);
  // Something moved in this frame: another one is wanted soon.
  [[nodiscard]] bool under_way() const { return under_way_ || lively(); }
  // Something moved in the last three seconds: streams flow until then.
  [[nodiscard]] bool lively() const { return !still_ && last_ - moved_ < 3.0; }

 private:
  std::map<std::string, double> shown_;
  double last_ = 0.0;
  double share_ = 1.0;  // of the way left that this frame covers
  double moved_ = -10.0;
  bool still_ = false;
  bool under_way_ = false;
};

}  // namespace drawdown::panels
