// What each figure of the ledger is worth: every one is judged, every calibrated one names what was tuned, and what is
// said to break it does. Nothing outside the program can check the judgement itself; that nothing counts as evidence
// which no change of the model can move, these tests do.
#include <doctest/doctest.h>

#include <cmath>
#include <fstream>
#include <functional>
#include <map>
#include <set>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "study/truth.hpp"
#include "study/truth/standing.hpp"
#include "study/truth/world.hpp"

using namespace drawdown::study;
using truth::World;

namespace {

constexpr TruthChapter all_chapters[] = {TruthChapter::kinetics,   TruthChapter::patterns,   TruthChapter::treatments,
                                         TruthChapter::wider,      TruthChapter::mechanisms, TruthChapter::groups,
                                         TruthChapter::calculators};
// Few people: a row counts as outside only with its whole interval, which is the wider for it.
constexpr std::size_t few = 256;

// What is wrong with how entries are judged, an id and a reason each.
std::vector<std::string> faults(const std::vector<TruthEntry>& ledger) {
  std::vector<std::string> found;
  for (const TruthEntry& e : ledger) {
    if (e.kind == TruthKind::unsaid) found.push_back(e.id + " has no kind");
    const bool names = e.kind == TruthKind::calibrated || e.kind == TruthKind::wiring;
    if (names && e.constant.empty()) found.push_back(e.id + " names nothing it was tuned with or restates");
    const bool evidence = e.kind == TruthKind::calibrated || e.kind == TruthKind::independent;
    if (evidence && e.inside() && e.breaks.empty()) found.push_back(e.id + " names nothing that breaks it");
    if (e.kind == TruthKind::wiring && e.breaks.empty() && e.constant.rfind("arithmetic", 0) != 0) {
      found.push_back(e.id + " runs the model and names nothing that breaks it");
    }
    if (e.kind == TruthKind::holds_anyway && e.breaks.empty()) found.push_back(e.id + " does not say what was tried");
  }
  return found;
}

// Runs each entry's break; those that do not leave their range by it, with the reason. What holds anyway must not.
std::vector<std::string> unbroken(TruthChapter chapter, const std::vector<TruthEntry>& entries) {
  std::map<std::string, std::vector<const TruthEntry*>> by_break;
  for (const TruthEntry& e : entries) {
    if (!e.breaks.empty()) by_break[e.breaks].push_back(&e);
  }
  std::vector<std::string> stayed;
  for (const auto& [altered, rows] : by_break) {
    std::vector<std::string> ids;
    for (const TruthEntry* e : rows) ids.push_back(e->id);
    std::map<std::string, TruthEntry> now;
    std::string trouble = " is not there";
    try {
      for (const TruthEntry& e : truth_chapter(chapter, World(altered, few, ids))) now[e.id] = e;
    } catch (const std::exception& error) {
      trouble = error.what();
    }
    for (const TruthEntry* e : rows) {
      const auto found = now.find(e->id);
      if (found == now.end()) {
        stayed.push_back(e->id + ": " + altered + ": " + trouble);
        continue;
      }
      const bool leaves = std::isfinite(found->second.model) && found->second.outside();
      if (leaves == (e->kind == TruthKind::holds_anyway)) {
        std::ostringstream said;
        said << e->id << ": " << altered << ": " << found->second.model;
        stayed.push_back(said.str());
      }
    }
  }
  return stayed;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& line : lines) text += line + "\n";
  return text;
}

void all_break(TruthChapter chapter) {
  const auto entries = truth_chapter(chapter, World("", few));
  for (const TruthEntry& e : entries) {
    // Of few people the whole interval may not be inside, but none is outside before anything is broken.
    CHECK_MESSAGE((e.people > 0 ? !e.outside() : e.inside() || !told_limit(e).empty()), e.id, " ", e.model);
  }
  const auto stayed = unbroken(chapter, entries);
  CHECK_MESSAGE(stayed.empty(), joined(stayed));
}

}  // namespace

TEST_CASE(
    "every figure of the ledger is judged, what is calibrated names the constant, and README's count is its own") {
  std::vector<TruthEntry> ledger;
  for (const TruthChapter chapter : all_chapters) {
    for (TruthEntry& e : truth_chapter(chapter, World("", few))) ledger.push_back(std::move(e));
  }
  const auto wrong = faults(ledger);
  CHECK_MESSAGE(wrong.empty(), joined(wrong));
  std::set<std::string> ids;
  for (const TruthEntry& e : ledger) ids.insert(e.id);
  std::set<std::string> judged;
  for (const truth::Standing& s : truth::standings()) {
    CHECK_MESSAGE(ids.count(s.id) == 1, s.id, " is judged and not in the ledger");
    CHECK_MESSAGE(judged.insert(s.id).second, s.id, " is judged twice");
  }
  // README has the same count; what is sampled is not counted as evidence, so few people do.
  const TruthCount count = counted(ledger);
  std::ostringstream said;
  said << count.inside << " of " << count.independent << " independent figures inside; " << count.calibrated
       << " calibrated and " << count.wiring << " wiring are listed apart";
  std::ifstream file(std::string(DRAWDOWN_SOURCE_DIR) + "/README.md");
  std::ostringstream text;
  text << file.rdbuf();
  CHECK_MESSAGE(text.str().find(said.str()) != std::string::npos, said.str());
  for (const TruthEntry* e : count.untold) CHECK_MESSAGE(e->people > 0, e->id, " is outside and not told");
  for (const TruthEntry& e : ledger) CHECK_FALSE((e.kind == TruthKind::independent && e.people > 0));
  // Each fault planted is found.
  const auto planted = [&](const std::function<void(TruthEntry&)>& spoil) {
    TruthEntry e{"X", "", "", 0.0, 1.0, "", "", 0.5, ""};
    e.kind = TruthKind::calibrated;
    e.constant = "C3.fcr";
    e.breaks = "C3.fcr x 2";
    REQUIRE(faults({e}).empty());
    spoil(e);
    return faults({e}).size();
  };
  CHECK(planted([](TruthEntry& e) { e.kind = TruthKind::unsaid; }) == 1);
  CHECK(planted([](TruthEntry& e) { e.constant = ""; }) == 1);
  CHECK(planted([](TruthEntry& e) { e.breaks = ""; }) == 1);
  CHECK(planted([](TruthEntry& e) {
          e.kind = TruthKind::independent;
          e.breaks = "";
        }) == 1);
  CHECK(planted([](TruthEntry& e) {
          e.kind = TruthKind::wiring;
          e.breaks = "";
        }) == 1);
  CHECK(planted([](TruthEntry& e) {
          e.kind = TruthKind::holds_anyway;
          e.breaks = "";
        }) == 1);
}

TEST_CASE("what is said to break a figure takes it out of its range: tracer studies, patterns, treatments") {
  all_break(TruthChapter::kinetics);
  all_break(TruthChapter::patterns);
  all_break(TruthChapter::treatments);
}

TEST_CASE("what is said to break a figure takes it out of its range: wider evidence, mechanisms") {
  all_break(TruthChapter::wider);
  all_break(TruthChapter::mechanisms);
}

TEST_CASE("what is said to break a figure takes it out of its range: groups of people, with their whole interval") {
  all_break(TruthChapter::groups);
}

TEST_CASE("a break that breaks nothing, names nothing or leaves no healthy body is found out") {
  std::vector<TruthEntry> rows = truth_chapter(TruthChapter::treatments, World());
  rows.erase(rows.begin() + 1, rows.end());
  REQUIRE(rows.front().id == "S8");
  const auto stays = [&](const char* altered) {
    rows.front().breaks = altered;
    return unbroken(TruthChapter::treatments, rows).size();
  };
  CHECK(stays("plasma_exchange = 0") == 0);
  CHECK(stays("C3.fcr x 1") == 1);
  CHECK(stays("no_such_reaction x 0") == 1);
  CHECK(stays("no_such_lever = 0") == 1);
  CHECK(stays("C3.no_such_field x 0") == 1);
  CHECK(stays("tick_over/no_such_species x 0") == 1);
  CHECK(stays("tick_over x zero") == 1);
  CHECK(stays("tick_over") == 1);
  CHECK(stays("tick_over x 100") == 1);  // uses more C3 than its turnover
  // What holds anyway is noticed when something breaks it after all.
  rows.front().kind = TruthKind::holds_anyway;
  CHECK(stays("plasma_exchange = 0") == 1);
  CHECK(stays("C3.fcr x 1") == 0);
}

TEST_CASE("only independent figures count, and a figure that is outside and not told is a finding") {
  const auto entry = [](TruthKind kind, double model) {
    TruthEntry e{"X", "", "", 0.0, 1.0, "%", "", model, ""};
    e.kind = kind;
    return e;
  };
  std::vector<TruthEntry> ledger{entry(TruthKind::independent, 0.5), entry(TruthKind::independent, 2.0),
                                 entry(TruthKind::calibrated, 0.5), entry(TruthKind::wiring, 0.5),
                                 entry(TruthKind::holds_anyway, 0.5)};
  ledger[2].disputed = "somebody";
  const TruthCount count = counted(ledger);
  CHECK(count.independent == 2);
  CHECK(count.inside == 1);
  CHECK(count.calibrated == 1);
  CHECK(count.wiring == 1);
  CHECK(count.anyway == 1);
  CHECK(count.disputed.size() == 1);
  CHECK(count.not_met.size() == 1);
  CHECK(count.untold.size() == 1);
  // Told by id and figure; with another figure it is not told any more.
  TruthEntry told = entry(TruthKind::calibrated, 63.97);
  told.id = "P9b";
  CHECK(counted({told}).untold.empty());
  told.model = 66.0;
  CHECK(counted({told}).untold.size() == 1);
}
