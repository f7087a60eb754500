// `drawdown truth`: the ledger of published values as Markdown or CSV, and how far each constant can be moved.
#pragma once

#include <string>
#include <vector>

#include "study/truth.hpp"

namespace CLI {
class App;
}

namespace drawdown::command {

struct TruthOptions {
  bool csv = false;
  bool constants = false;
};
CLI::App* add_truth(CLI::App& app, TruthOptions& options);
// `done` if every figure is inside or told among the known limits with its present figure; `finding` if one is not.
int run_truth(const TruthOptions& options);

// The independent figures counted, the others apart; what is not met, who disagrees; all rows; what the model does not
// do.
[[nodiscard]] std::string truth_text(const std::vector<study::TruthEntry>& ledger);
// A row a figure.
[[nodiscard]] std::string truth_csv(const std::vector<study::TruthEntry>& ledger);
[[nodiscard]] int truth_exit(const std::vector<study::TruthEntry>& ledger);

}  // namespace drawdown::command
