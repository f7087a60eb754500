// The explanations that are weighed against each other: mechanisms, never diseases. Those that act over time in the
// body are drawn as sampled people are (people.hpp), each with a course of the cause; the others are written down.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "scenario/scenario.hpp"

namespace drawdown::study::explain {

enum class Explanation : std::size_t {
  noise,      // nothing but noise about the own usual level
  complexes,  // used up more at complexes: antigen and antibody, cryoglobulins, cold antibodies
  fluid,      // used up more in the fluid, C1 being unchecked
  loop,       // used up more by the alternative loop alone
  less,       // made less
  hiding,     // used up more at complexes, and made more: what is made hides what is used
  diluted,    // more plasma
  inherited,  // the own level is another one, by genes
  sample      // one sample went wrong: warm or cold too long, or watered
};
inline constexpr std::size_t explanations = 9;
inline constexpr std::array<std::string_view, explanations> explanation_names{
    "noise", "complexes", "fluid", "loop", "less", "hiding", "diluted", "inherited", "sample"};
[[nodiscard]] constexpr std::size_t at(Explanation e) {
  return static_cast<std::size_t>(e);
}
// Of "used up more".
[[nodiscard]] constexpr bool is_use(Explanation e) {
  return e == Explanation::complexes || e == Explanation::fluid || e == Explanation::loop || e == Explanation::hiding;
}

// Those with people in the bank, in its order.
inline constexpr std::array<Explanation, 6> simulated{Explanation::complexes, Explanation::fluid,
                                                      Explanation::loop,      Explanation::less,
                                                      Explanation::hiding,    Explanation::inherited};

// The cause begins on this day of a person's story; before it the person is as usual. One inherited is compared with
// the same person without: the genes change on this day.
inline constexpr double begins = 1.0;

// The story of the person of this number, `days` long. A person is the same for the same seed, number and explanation.
// The explanation must be one of `simulated`.
[[nodiscard]] scenario::Scenario story(Explanation of, std::uint64_t seed, std::uint64_t number, double days);
// A healthy person to whom nothing happens.
[[nodiscard]] scenario::Scenario quiet_story(std::uint64_t seed, std::uint64_t number, double days);

// What is assumed of each explanation before a value is seen: its severity, pace and course, a line each, English,
// beginning with the explanation's name; "assumed" or its source at the end. Then the onset and the own levels.
[[nodiscard]] const std::vector<std::string>& priors();
// All that is drawn besides the sampler's own: names whose hashes are their places (random.hpp).
[[nodiscard]] std::vector<std::string> drawn_names();

// More plasma: it is so many times more, between these, on the logarithm uniform; reached in a fortnight, and it stays.
inline constexpr double least_dilution = 1.08;
inline constexpr double most_dilution = 1.48;
// Onsets: this share lies before the first visit, uniform over so many days; the rest from the first to the last.
inline constexpr double earlier_share = 0.4;
inline constexpr double earlier_days = 500.0;
// One sample that went wrong: shares of watered, in the fridge, and cold activation in the tube.
inline constexpr double watered_share = 0.5;
inline constexpr double fridge_share = 0.3;

}  // namespace drawdown::study::explain
