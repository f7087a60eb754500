// Groups of invented people, as rows: from which distributions a person of the group is drawn, and how the person's
// story goes. To add a group: a row in people_groups.cpp and, if no story in people_stories.cpp fits, a story.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace drawdown::study {

struct Person;
class StoryEvents;

// Every spread is cut at `least` and `most`: what falls outside is put on the limit.
struct Normal {
  double mean = 0.0, sd = 0.0, least = 0.0, most = 0.0;
};
struct LogNormal {
  double median = 0.0, log_sd = 0.0, least = 0.0, most = 0.0;
};
struct Uniform {
  double least = 0.0, most = 0.0;
};
// Shares of people with 2, 3, 4, 5 and 6 copies of the C4 genes; they sum to 1.
using C4Copies = std::array<double, 5>;

// What a person is before the illness. Units are the levers' (body/levers.cpp) unless given.
struct Constitution {
  C4Copies c4_copies{};
  Normal liver;                 // hepatic_output
  LogNormal response;           // acute_phase_response
  LogNormal quiet_drive;        // antibody_drive before the illness
  Normal kidney_share;          // of settling complexes; what is left goes to skin, joints and lining 45 : 35 : 20
  double anti_c1q_share = 0.0;  // of people who have antibodies to C1q
};

struct Illness {
  const char* lever = "";                // that the story moves to the severity
  LogNormal severity;                    // in its unit
  Uniform onset;                         // day it begins; 0 = it was there before
  LogNormal build_up;                    // days until it stands at its severity: its speed
  Uniform delay;                         // days from then to the treatment, or to what else ends it
  Uniform treatment;                     // how well that works, 0-1
  Normal synthesis{1.0, 0.0, 1.0, 1.0};  // share of the own hepatic output that is left while it lasts
};

struct Group {
  std::string id;  // English, kebab-case, for the command line
  Constitution person;
  Illness illness;
  void (*tell)(const Person&, StoryEvents&) = nullptr;
  double visit_every = 0.0;  // days between blood tests, on average (assumed)
  const char* source = "";   // what the levels of this group are judged by
};

// All groups, in the order in which they are offered.
[[nodiscard]] const std::vector<Group>& groups();
// By id. Throws std::invalid_argument naming the allowed ids.
[[nodiscard]] const Group& group_named(std::string_view id);

}  // namespace drawdown::study
