// The playhead.
#include <algorithm>
#include <cmath>

#include "stage/first_minute.hpp"
#include "stage/reducer.hpp"

namespace drawdown::stage {

void Reducer::operator()(const GoToDay& a) const {
  if (!std::isnan(a.day)) s.time.day = std::clamp(a.day, 0.0, last_day());
}
void Reducer::operator()(const StepDays& a) const {
  s.time.playing = false;
  if (!std::isnan(a.days)) s.time.day = std::clamp(s.time.day + a.days, 0.0, last_day());
}
void Reducer::operator()(const TogglePlay&) const {
  if (!s.time.playing && s.time.day >= last_day()) s.time.day = 0.0;
  s.time.playing = !s.time.playing;
}
void Reducer::operator()(const SetSpeed& a) const {
  if (!std::isnan(a.days_per_second)) s.time.speed = std::clamp(a.days_per_second, 1.0, 100.0);
}
void Reducer::operator()(const Tick& a) const {
  if (!s.time.playing || std::isnan(a.seconds)) return;
  s.time.day = std::min(s.time.day + s.time.speed * std::clamp(a.seconds, 0.0, 0.25), last_day());
  if (s.time.day >= last_day()) s.time.playing = false;
  first_minute::watch(s);
}

}  // namespace drawdown::stage
