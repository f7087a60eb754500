// Laying what-ifs over a story.
#include "scenario/scenario.hpp"

#include <algorithm>

namespace drawdown::scenario {

bool operator==(const Edit& a, const Edit& b) {
  return a.lever == b.lever && a.event == b.event && a.from_day == b.from_day && a.value == b.value &&
         a.for_hours == b.for_hours;
}

Scenario beside_story(const Scenario& story) {
  Scenario other = story;
  other.levers = story.beside;
  other.events.clear();
  other.beside.clear();
  return other;
}

Scenario edited(const Scenario& story, const std::vector<Edit>& edits) {
  Scenario result = story;
  for (const Edit& edit : edits) {
    if (edit.event < 0 && edit.from_day < 0.0) result.levers[edit.lever] = edit.value;
    if (edit.event >= 0 && static_cast<std::size_t>(edit.event) < result.events.size()) {
      result.events[static_cast<std::size_t>(edit.event)].value = edit.value;
    }
  }
  // Values held from a day on end what the story planned for that lever afterwards.
  for (const Edit& edit : edits) {
    if (edit.from_day < 0.0) continue;
    auto& events = result.events;
    if (edit.for_hours > 0.0) {
      events.push_back({edit.from_day, edit.lever, edit.value, 0.0, edit.for_hours, ""});
      continue;
    }
    events.erase(std::remove_if(events.begin(), events.end(),
                                [&](const Event& e) { return e.lever == edit.lever && e.day >= edit.from_day; }),
                 events.end());
    events.push_back({edit.from_day, edit.lever, edit.value, 0.0, 0.0, ""});
  }
  std::stable_sort(result.events.begin(), result.events.end(),
                   [](const Event& a, const Event& b) { return a.day < b.day; });
  return result;
}

Edit governing_edit(const Scenario& story, body::LeverId lever, double day, double value) {
  Edit edit{lever, -1, -1.0, value, 0.0};
  for (std::size_t i = 0; i < story.events.size(); ++i) {
    const Event& event = story.events[i];
    const bool ended = event.for_hours > 0.0 && day >= event.day + event.for_hours / 24.0;
    if (event.lever == lever && event.day <= day && !ended) edit.event = static_cast<int>(i);
  }
  return edit;
}

double governing_value(const Scenario& story, body::LeverId lever, double day) {
  const int event = governing_edit(story, lever, day, 0.0).event;
  return event >= 0 ? story.events[static_cast<std::size_t>(event)].value : story.levers[lever];
}

}  // namespace drawdown::scenario
