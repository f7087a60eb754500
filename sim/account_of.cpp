// A run's parts handed to its account.
#include "account_of.hpp"

namespace drawdown {

readout::Account account_of(const Run& run) {
  const body::Model& model = *run.body().model;
  std::vector<body::ProteinId> proteins;
  for (const body::Readout& readout : model.readouts()) {
    for (std::size_t p = 0; p < model.proteins().size(); ++p) {
      const body::Protein& protein = model.proteins()[p];
      if (protein.in_grams && protein.reading == readout.name) proteins.emplace_back(p);
    }
  }
  return account_of(run, std::move(proteins));
}

readout::Account account_of(const Run& run, std::vector<body::ProteinId> proteins) {
  return {run.body(),         run.course(),      scenario::Timeline(run.story()).segments(),
          run.story().levers, run.usual_state(), run.usual_levers(),
          std::move(proteins)};
}

}  // namespace drawdown
