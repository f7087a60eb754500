// The circle in a tissue: antibody and debris make complexes, these settle, inflame and injure, and injury releases
// debris. Each of its links and exits with its flow, and with what a tenth of it would have changed: where the circle
// is easiest to break is found by that, from the variational equations, not by the size of a flow.
#pragma once

#include <array>
#include <string_view>
#include <vector>

#include "simulate.hpp"

namespace drawdown::study {

// In the order they follow each other: the links, then the exits.
enum class Link {
  antibody_made,
  debris_released,  // by whatever else, not by this circle
  forms,
  settles,
  inflames,
  injures,
  returns,  // injury releases debris
  antibody_ages,
  debris_cleared,
  complexes_cleared,
  removed,  // settled complexes
  calms,
  heals
};
inline constexpr std::array<std::string_view, 13> link_names{
    "antibody_made",  "debris_released",   "forms",   "settles", "inflames", "injures", "returns", "antibody_ages",
    "debris_cleared", "complexes_cleared", "removed", "calms",   "heals"};
inline constexpr std::size_t first_exit = 7;

struct LinkEffect {
  Link link = Link::forms;
  double flow = 0.0;  // on the day, in the network's relative units a day
  // Per cent by which the tissue's injury on the day would be less, in a straight line, had this link been a tenth
  // weaker (an exit a tenth stronger) over the days before; negative: more.
  double eases = 0.0;
};

struct Circle {
  double day = 0.0;
  double days_back = 0.0;  // the stretch over which links are thought weaker
  std::size_t tissue = 0;  // in the model's order
  double injury = 0.0;     // on the day, 0 to 1
  std::vector<LinkEffect> links;
  // The one that eases most; nothing where next to no injury is there (least_injury) or none eases by least_ease.
  [[nodiscard]] const LinkEffect* weakest() const;
};
inline constexpr double least_injury = 0.01;
inline constexpr double least_ease = 0.5;  // per cent
inline constexpr double circle_days = 28.0;

// Links are found in the network by what a reaction turns into what. Throws std::logic_error for a tissue that is not
// there. circle_flows leaves out what the links ease (`days_back` 0): quick enough for a frame. circle_of throws
// std::runtime_error if the variation cannot be followed.
[[nodiscard]] Circle circle_flows(const Run& run, std::size_t tissue, double day);
[[nodiscard]] Circle circle_of(const Run& run, std::size_t tissue, double day, double days_back = circle_days);

}  // namespace drawdown::study
