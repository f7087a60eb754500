#include "published/holds.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <stdexcept>
#include <string>

using namespace drawdown::study;

namespace published {

namespace {

constexpr TruthChapter all[] = {TruthChapter::kinetics, TruthChapter::patterns,   TruthChapter::treatments,
                                TruthChapter::wider,    TruthChapter::mechanisms, TruthChapter::calculators,
                                TruthChapter::groups};  // people last: they take longest

const TruthEntry& entry(const std::string& id) {
  for (const TruthChapter which : all) {
    for (const TruthEntry& e : chapter(which)) {
      if (e.id == id) return e;
    }
  }
  FAIL("no entry ", id);
  throw std::logic_error("unreached");
}

const TruthEntry& as_stated(const char* id, double low, double high, const char* source) {
  const TruthEntry& e = entry(id);
  CHECK_MESSAGE(std::abs(e.low - low) < 1e-6 * (1 + std::abs(low)), id, " low ", e.low);
  CHECK_MESSAGE(std::abs(e.high - high) < 1e-6 * (1 + std::abs(high)), id, " high ", e.high);
  CHECK_MESSAGE(e.source.find(source) != std::string::npos, id, " source ", e.source);
  return e;
}

}  // namespace

const std::vector<TruthEntry>& chapter(TruthChapter which) {
  static std::map<TruthChapter, std::vector<TruthEntry>> chapters;
  auto& entries = chapters[which];
  if (entries.empty()) entries = truth_chapter(which);
  return entries;
}

void holds(const char* id, double low, double high, const char* source) {
  const TruthEntry& e = as_stated(id, low, high, source);
  CHECK_MESSAGE(e.inside(), id, ": ", e.situation, ": model ", e.model, ", published ", e.published);
}

void known_limit(const char* id, double low, double high, const char* source) {
  const TruthEntry& e = as_stated(id, low, high, source);
  CHECK_FALSE(e.inside());
  CHECK_MESSAGE(!told_limit(e).empty(), id, " is told among the known limits, with its figure ", e.model);
}

}  // namespace published
