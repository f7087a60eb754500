// `drawdown clinic`: a group's people by the thousand, counted; in one run, or in parts that are added up.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

namespace CLI {
class App;
}

namespace drawdown::command {

struct ClinicOptions {
  std::string group;
  double people = 10000;
  double seed = 1;
  double days = 365;
  double threads = 0;  // 0 = as many as the machine has
  std::string out;
  std::string part;  // "3/16"
  std::vector<std::string> merge;
  bool each = false;
  bool daily = false;
  bool overwrite = false;
};
CLI::App* add_clinic(CLI::App& app, ClinicOptions& options);
int run_clinic(const ClinicOptions& options);

}  // namespace drawdown::command
