// The playhead.
#include <algorithm>
#include <cmath>

#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const GoToDay& a) const {
  if (!std::isnan(a.day)) s.day = std::clamp(a.day, 0.0, last_day());
}
void Reducer::operator()(const StepDays& a) const {
  s.playing = false;
  if (!std::isnan(a.days)) s.day = std::clamp(s.day + a.days, 0.0, last_day());
}
void Reducer::operator()(const TogglePlay&) const {
  if (!s.playing && s.day >= last_day()) s.day = 0.0;
  s.playing = !s.playing;
}
void Reducer::operator()(const SetSpeed& a) const {
  if (!std::isnan(a.days_per_second)) s.speed = std::clamp(a.days_per_second, 1.0, 100.0);
}
void Reducer::operator()(const Tick& a) const {
  if (!s.playing || std::isnan(a.seconds)) return;
  s.day = std::min(s.day + s.speed * std::clamp(a.seconds, 0.0, 0.25), last_day());
  if (s.day >= last_day()) s.playing = false;
  first_minute::watch(s);
}

}  // namespace drawdown::stage
