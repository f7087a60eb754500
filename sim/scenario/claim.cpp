// Reading a claim.
#include "scenario/claim.hpp"

#include <algorithm>
#include <sstream>
#include <vector>

#include "scenario/decimal.hpp"

namespace drawdown::scenario {

namespace {

constexpr const char* form =
    "a claim is 'C4 out > 1.1' or 'C4 level < C3 level', then, if need be, 'on day N' or 'from day A to day B'; "
    "quantities: level, in, out, share, slope, g/L";

class Words {
 public:
  explicit Words(const std::string& text) {
    std::istringstream in(text);
    for (std::string word; in >> word;) words_.push_back(word);
  }
  [[nodiscard]] bool done() const { return at_ >= words_.size(); }
  [[nodiscard]] std::string peek() const { return done() ? std::string() : words_[at_]; }
  bool take(std::string_view word) {
    if (peek() != word) return false;
    at_ += 1;
    return true;
  }
  template <std::size_t N>
  std::optional<std::size_t> one_of(const std::array<std::string_view, N>& names) {
    const auto found = std::find(names.begin(), names.end(), peek());
    if (done() || found == names.end()) return std::nullopt;
    at_ += 1;
    return static_cast<std::size_t>(found - names.begin());
  }
  std::optional<double> number() {
    if (done()) return std::nullopt;
    const auto value = read_decimal(words_[at_]);
    if (value) at_ += 1;
    return value;
  }
  std::optional<Measured> measured() {
    const std::size_t start = at_;
    const bool c4 = peek() == "C4";
    if (!take("C3") && !take("C4")) return std::nullopt;
    if (const auto quantity = one_of(quantity_names)) return Measured{c4, static_cast<Quantity>(*quantity)};
    at_ = start;
    return std::nullopt;
  }

 private:
  std::vector<std::string> words_;
  std::size_t at_ = 0;
};

}  // namespace

ClaimRead read_claim(const std::string& text, double last_day) {
  if (text.size() > longest_claim) return {std::nullopt, "a claim has at most 120 characters"};
  Words words(text);
  Claim claim;
  claim.text = text;
  const auto left = words.measured();
  if (!left) return {std::nullopt, form};
  claim.left = *left;
  const auto relation = words.one_of(relation_names);
  if (!relation) return {std::nullopt, form};
  claim.relation = static_cast<Relation>(*relation);
  if (const auto number = words.number()) {
    claim.number = *number;
  } else if (const auto right = words.measured()) {
    claim.right = right;
  } else {
    return {std::nullopt, form};
  }
  const auto day = [&]() -> std::optional<double> {
    if (!words.take("day")) return std::nullopt;
    const auto value = words.number();
    return value && *value >= 0.0 && *value <= last_day ? value : std::nullopt;
  };
  std::ostringstream days;
  days << "days of a claim go from 0 to " << last_day << ", the story's last";
  if (words.take("on")) {
    const auto on = day();
    if (!on) return {std::nullopt, days.str()};
    claim.from_day = claim.to_day = *on;
  } else if (words.take("from")) {
    const auto from = day();
    const auto to = from && words.take("to") ? day() : std::nullopt;
    if (!from || !to || *to < *from) return {std::nullopt, days.str()};
    claim.from_day = *from;
    claim.to_day = *to;
  }
  if (!words.done()) return {std::nullopt, form};
  return {claim, {}};
}

}  // namespace drawdown::scenario
