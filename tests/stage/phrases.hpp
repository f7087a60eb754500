// The phrases the tests know, by language and depth. Slots stand in angle brackets.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "stage/own_account.hpp"

namespace drawdown::support {

enum class Stand { falling, slowly_falling, filling, slowly_filling, below, above, usual, near, hidden, usual_low };
enum class Tells {
  further_down,
  less_down,
  further_up,
  less_up,
  refills,
  recovers,
  again,
  eases,
  pulls,
  also_pulls,
  lifts,
  also_lifts,
  born,
  volume,
  both_below,
  c3_below,
  c4_below
};

struct Noun {
  Group group;
  bool without_complexes = false;
};
struct Tongue {
  std::string both, last, comma;  // "C3 and C4", " and ", ", "
  struct Lead {
    Stand stand;
    std::vector<std::string> patterns;  // plain; clinic; mechanism
  };
  std::vector<Lead> leads;
  std::vector<std::string> places;  // near, below, above
  std::string a_day, an_hour;       // with <pace>
  struct Sentence {
    Tells tells;
    std::string pattern;       // plain and clinic
    std::string in_mechanism;  // empty: the same
  };
  std::vector<Sentence> sentences;
  std::map<std::string, Noun> pulls, lifts;
  std::string owed, owed_a_day;        // " (<g> g/L)"
  std::map<std::string, char> births;  // g, l, s
};
const Tongue& tongue(const std::string& language);

// The slots of a pattern in a text, in order; false if it is not of that pattern.
bool matches(const std::string& pattern, const std::string& text, std::vector<std::string>& slots);

// Within what its last digit leaves open, and a little for another integration.
bool shown_as(const std::string& digits, double value, double slack);

// The items of a list: commas and the last "and" part them, but not within brackets.
std::vector<std::string> items_in(const std::string& list, const Tongue& tongue);

}  // namespace drawdown::support
