// What a level's account means today, in words made from it: never canned, so it is right under every lever setting.
#pragma once

#include <string>
#include <vector>

#include "look/words.hpp"
#include "stage/reading.hpp"

namespace drawdown::stage {

// A share of the pool used a day: "49 %", and from 100 % on as so many times a day.
[[nodiscard]] std::string share_text(double share, int decimals, const look::WordBook& words);

// Decimals with which two figures that a sentence says differ are seen to differ: at least `least`, at most five.
[[nodiscard]] int decimals_to_differ(double a, double b, int least);

// A few sentences for both proteins, together where they agree: where each stands and where it goes; what moves it;
// what pulls it down and what holds it up; what usual genes and a usual liver would give; the laboratory's range.
[[nodiscard]] std::string balance_sentence(const Run& run, const readout::Account& account, double day,
                                           const look::WordBook& words, look::Depth depth);
// Makes the account for it: slow, for tests and tables.
[[nodiscard]] std::string balance_sentence(const Run& run, double day, const look::WordBook& words, look::Depth depth);

// "a, b and c".
[[nodiscard]] std::string in_a_row(const std::vector<std::string>& items, const look::WordBook& words);
// A cause as what pulls down, or as what lifts: "use at complexes", "more being made".
[[nodiscard]] std::string cause_text(Cause cause, bool lifts, const look::WordBook& words);
// "usual genes and a usual liver": what is put right in the usual level. Empty: nothing.
[[nodiscard]] std::string born_text(const readout::Born& born, const look::WordBook& words);

// What kept run and present run differ in: the levers that differ up to that day, the levels on it as a difference of
// usuals and of debts, what was changed apart from what follows from it, and the lowest of the whole story.
[[nodiscard]] std::string difference_in_words(const KeptRun& kept, const Run& now, const readout::Account& account,
                                              double day, const look::WordBook& words, scenario::Unit unit);
// On the last day; makes the account for it.
[[nodiscard]] std::string difference_in_words(const KeptRun& kept, const Run& now, const look::WordBook& words,
                                              scenario::Unit unit);

// "0.73" g/L or "73" mg/dL.
[[nodiscard]] std::string level_text(double grams_per_litre, Which which, scenario::Unit unit);
// The same beside its range: a level that is not at a limit is not printed as the limit either.
[[nodiscard]] std::string level_text_beside(double level, const scenario::Interval& range, Which which,
                                            scenario::Unit unit);
[[nodiscard]] const char* unit_text(scenario::Unit unit);

}  // namespace drawdown::stage
