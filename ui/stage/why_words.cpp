#include "stage/why_words.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "labs/dates.hpp"
#include "look/words.hpp"

namespace drawdown::stage {

namespace {

using study::explain::at;
using study::explain::Explanation;
using study::explain::Weights;

constexpr std::array<const char*, study::explain::columns> test_keys{
    "why.test.c3",  "why.test.c4",       "why.test.ch50", "why.test.ah50",       "why.test.c1q",
    "why.test.c4d", "why.test.factor_b", "why.test.crp",  "why.test.anti_dsdna", "why.test.urine_protein"};
constexpr double told_enough = 0.05;  // of what is open: less is not worth naming

std::string listed(const std::vector<Explanation>& all, const look::WordBook& words) {
  std::string text;
  for (const Explanation e : all) text += (text.empty() ? "" : "; ") + explanation_word(e, words);
  return text;
}

std::string test_sentence(const Weights& w, const look::WordBook& words) {
  std::array<std::size_t, study::explain::columns> order{};
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return w.information[a] > w.information[b]; });
  const auto part = [&](std::size_t place) {
    return w.undecided > 0.0 ? w.information[order[place]] / w.undecided : 0.0;
  };
  if (part(0) < told_enough) return words.at("why.no_test");
  const auto figure = [&](std::size_t place) { return look::number(100.0 * part(place), 0); };
  const auto name = [&](std::size_t place) { return words.at(test_keys[order[place]]); };
  if (part(1) < told_enough) return words.fill("why.one_test", {name(0), figure(0)});
  return words.fill("why.two_tests", {name(0), figure(0), name(1), figure(1)});
}

std::string next_sentence(const labs::Explained& why, const look::WordBook& words) {
  const Weights& w = why.weights;
  const auto range = [&](const std::optional<study::explain::Between>& b) {
    return b ? words.fill("why.range", {look::number(b->low, 2), look::number(b->high, 2)})
             : words.at("why.unmeasured");
  };
  const int day = why.first_day + static_cast<int>(std::floor(w.next_day + 0.5));
  return words.fill("why.next", {labs::iso_date(day), range(w.c3), range(w.c4)});
}

}  // namespace

const std::string& explanation_word(Explanation of, const look::WordBook& words) {
  return words.at("why.cause." + std::string(study::explain::explanation_names[at(of)]));
}

std::string share_text(double share, const look::WordBook& words) {
  if (share < 0.005) return words.at("why.under_one");
  return share > 0.995 ? words.at("why.over_99") : look::number(100.0 * share, 0);
}

WhyTold why_told(const labs::Explained& why, const look::WordBook& words) {
  using study::explain::Status;
  using study::explain::Verdict;
  const Weights& w = why.weights;
  WhyTold told;
  if (w.status != Status::done) {
    told.head = words.at(w.status == Status::cancelled ? "why.stopped" : "why.few");
    return told;
  }
  const double used = w.used_up();
  const std::string hundred = share_text(used, words);
  told.head =
      used > study::explain::said_from ? words.fill("why.used_up", {hundred}) : words.fill("why.not_said", {hundred});
  const std::vector<Explanation> fitting = w.fitting();
  std::vector<Explanation> order;
  for (std::size_t e = 0; e < study::explain::explanations; ++e) order.push_back(static_cast<Explanation>(e));
  const auto rank = [&](Explanation e) {
    return w.each[at(e)].verdict == Verdict::fits ? 1.0 + w.each[at(e)].share : w.each[at(e)].share;
  };
  std::stable_sort(order.begin(), order.end(), [&](Explanation a, Explanation b) { return rank(a) > rank(b); });
  for (const Explanation e : order) {
    const auto& one = w.each[at(e)];
    const bool fits = one.verdict == Verdict::fits;
    const auto verdict = static_cast<std::size_t>(one.verdict);
    told.bars.push_back({explanation_word(e, words),
                         words.at("why.verdict." + std::string(study::explain::verdict_names[verdict])), one.share,
                         fits && fitting.size() > 1, fits});
  }
  if (fitting.empty()) told.sentences.push_back(words.at("why.none"));
  if (fitting.size() == 1) told.sentences.push_back(words.fill("why.one", {listed(fitting, words)}));
  if (fitting.size() > 1) told.sentences.push_back(words.fill("why.together", {listed(fitting, words)}));
  std::vector<Explanation> open;
  for (const Explanation e : order) {
    if (w.each[at(e)].verdict == Verdict::cannot_tell) open.push_back(e);
  }
  if (!open.empty()) told.sentences.push_back(words.fill("why.open", {listed(open, words)}));
  told.sentences.push_back(test_sentence(w, words));
  told.sentences.push_back(next_sentence(why, words));
  if (why.treatment) told.sentences.push_back(words.at("why.treatment"));
  if (why.flares) told.sentences.push_back(words.at("why.flares"));
  if (w.hidden > 0) told.sentences.push_back(words.fill("why.hidden", {std::to_string(w.hidden)}));
  told.small.push_back(words.at("why.shares"));
  const auto of_hundred = [](double x) { return look::number(x, 0); };
  told.small.push_back(words.fill(
      "why.wrong", {of_hundred(how_often.healthy), of_hundred(how_often.flares), of_hundred(how_often.next)}));
  double least = 1e300;
  for (const auto& one : w.each) least = one.people && one.share > 0.01 ? std::min(least, *one.people) : least;
  const std::string effective = least < 1e299 ? look::number(least, 0) : "-";
  told.small.push_back(words.fill(
      "why.people", {std::to_string(w.visits), std::to_string(w.values), std::to_string(w.people), effective}));
  told.small.push_back(words.at("why.caution"));
  return told;
}

}  // namespace drawdown::stage
