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

std::shared_ptr<const readout::Account> account_with(std::shared_ptr<const Run> run) {
  struct Both {
    std::shared_ptr<const Run> run;
    readout::Account account;
  };
  const body::Model& model = *run->body().model;
  readout::Account account = account_of(*run, {model.known().c3, model.known().c4});
  const auto both = std::make_shared<const Both>(Both{std::move(run), std::move(account)});
  return {both, &both->account};
}

}  // namespace drawdown
