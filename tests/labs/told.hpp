// Results as text, and what is made of them: read, judged, refused, told. For the tests of results.
#pragma once

#include <string>
#include <vector>

#include "labs/judge.hpp"
#include "labs/read.hpp"
#include "look/words.hpp"
#include "stage/own_words.hpp"
#include "support/stories.hpp"

namespace drawdown::tests {

using labs::Protein;
using labs::Reason;

inline std::vector<Reason> reasons(const labs::Reading& reading) {
  std::vector<Reason> out;
  for (const labs::Rejected& rejected : reading.rejected) out.push_back(rejected.reason);
  return out;
}

inline std::string error_of(const std::string& text) {
  try {
    (void)labs::read(text);
  } catch (const labs::ReadError& error) {
    return error.what();
  }
  return "taken";
}

inline labs::Judgement judged(const std::string& text, const labs::Noise& noise = {}) {
  return labs::judge(labs::read(text).rows, noise, {});
}

inline look::WordBook english() {
  return look::WordBook::load(support::source_folder() + "/assets/en.toml");
}

inline std::string said_of(const std::string& text, Protein p, const labs::Noise& noise = {}) {
  const labs::Reading reading = labs::read(text);
  const labs::Judgement of = labs::judge(reading.rows, noise, {});
  std::string all;
  const look::WordBook words = english();
  for (const stage::OwnSentence& s :
       stage::protein_sentences(p == Protein::c3 ? of.c3 : of.c4, p, reading.rows, reading.unit, words)) {
    all += s.text + "\n";
  }
  return all;
}

inline bool has(const std::string& text, const std::string& part) {
  return text.find(part) != std::string::npos;
}

}  // namespace drawdown::tests
