// `drawdown labs`: a person's own serial results on the command line.
#pragma once

#include <string>
#include <vector>

#include "labs/fit.hpp"
#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "look/words.hpp"

namespace CLI {
class App;
}

namespace drawdown::command {

struct LabsOptions {
  std::string file;
  std::string dates;  // day, month; empty = not said
  std::string unit;   // g/L, mg/dL; empty = not said
  std::string slip;   // keep, convert; empty = not said
  std::string language = "en";
  std::string sheet;          // .pdf or .html to write; empty = none
  bool overwrite = false;     // the sheet may take the place of a file
  bool fit = false;           // also the model's fit
  bool explain = false;       // which mechanisms could make it
  std::string csv;            // of these, to write; empty = none
  std::size_t people = 8000;  // of the bank, for each
  bool one_sided = false;
  bool newer_variation = false;      // the smaller published variation within a person
  std::vector<double> cv_c3, cv_c4;  // analytical, within; empty = the usual ones
};
CLI::App* add_labs(CLI::App& app, LabsOptions& options);

// Prints the results. Exit code 1 if there is something to look at: a level changed by more than noise, two results of
// one day differ by more than noise, the newest C3 or C4 is below its range, a line or value could not be read, no
// sample was, a question about a unit is open, or a date lies after today; 2 if the dates can be read two ways and
// nobody said which. What says itself that there is no result
// ("pending") is told first and is nothing to look at, as an empty cell is none. Throws labs::ReadError,
// std::runtime_error.
int run_labs(const LabsOptions& options);

// What the fit found, in words.
[[nodiscard]] std::string fit_text(const labs::Fit& fit, const look::WordBook& words);
// The results as a table, whether the levels changed and go with flares, the figures behind that, the pattern, and
// every line that was not read with its reason.
[[nodiscard]] std::string labs_text(const labs::Reading& reading, const labs::Judgement& judged,
                                    const labs::Noise& noise, const look::WordBook& words);

}  // namespace drawdown::command
