// Screens on which everything is as large as the program lets in: what the bounds on a frame are tested and timed with.
#pragma once

#include <string>
#include <vector>

#include "stage/state.hpp"

namespace drawdown::support {

struct HostileScreen {
  std::string name;
  stage::AppState state;
};
// Every view and page, and the lists of files and stories, made of largest_story() with four kept runs, results with a
// note of 300 000 characters and 60 000 rows and as many that cannot be read, a folder of 100 000 entries, a problem of
// 5 million characters, and a talk.
std::vector<HostileScreen> hostile_screens();

}  // namespace drawdown::support
