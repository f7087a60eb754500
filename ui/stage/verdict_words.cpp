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
  const scenario::Laboratory& laboratory = run.story().laboratory;
  const auto of = [&](std::size_t p, double lowest) {
    return readout::verdict_of(account.tokens(), account.at(p, 24.0 * day), lowest);
  };
  VerdictPair pair{of(c3_in_account, laboratory.c3.low), of(c4_in_account, laboratory.c4.low)};
  if (pair.c3.why == Why::complexes && without_complexes(run, day)) pair.c3.why = Why::surfaces;
  return pair;
}

std::vector<std::string> verdict_lines(const VerdictPair& pair, const look::WordBook& words) {
  if (pair.c3 == pair.c4) return {line(pair.c3, "", words)};
  return {line(pair.c3, "C3", words), line(pair.c4, "C4", words)};
}

}  // namespace drawdown::stage
