// States and reasons to words.
#include "stage/verdict_words.hpp"

#include "stage/reading.hpp"

namespace drawdown::stage {

using readout::Verdict;
using readout::Why;

namespace {

std::string state_key(const Verdict& v) {
  return std::string("verdict.") + (v.slowly ? "slowly_" : "") +
         readout::level_state_names.at(static_cast<std::size_t>(v.state));
}

std::string line(const Verdict& v, const std::string& name, const look::WordBook& words) {
  const std::string ending = name.empty() ? "" : "_one";
  std::string said = words.at(state_key(v) + ending);
  if (!name.empty()) said = words.fill("verdict.one", {name, said});
  if (v.why == Why::none) return said;
  const std::string state = readout::level_state_names.at(static_cast<std::size_t>(v.state));
  const std::string why = readout::why_names.at(static_cast<std::size_t>(v.why));
  return words.fill("verdict.because", {said, words.at("verdict." + state + "_by." + why)});
}

}  // namespace

VerdictPair verdicts(const Run& run, const readout::Account& account, double day) {
  return {read_balance(run, account, day, Which::c3).verdict, read_balance(run, account, day, Which::c4).verdict};
}

std::vector<std::string> verdict_lines(const VerdictPair& pair, const look::WordBook& words) {
  if (pair.c3 == pair.c4) return {line(pair.c3, "", words)};
  return {line(pair.c3, "C3", words), line(pair.c4, "C4", words)};
}

}  // namespace drawdown::stage
