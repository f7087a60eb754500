// What the opening picture and the tissues' page are put together from.
#pragma once

#include <array>
#include <string>

#include "draw/shapes.hpp"
#include "panels/frame.hpp"

namespace drawdown::panels {

// The four tissues, in the order of body::tissues: their name among the words, their shape, where flows go.
struct TissueLook {
  const char* key;
  draw::Figure figure;
  readout::Place place;
};
inline constexpr std::array<TissueLook, 4> tissue_looks{
    {{"tissue.kidney", draw::Figure::kidney, readout::Place::kidney},
     {"tissue.skin", draw::Figure::skin, readout::Place::skin},
     {"tissue.joints", draw::Figure::joints, readout::Place::joints},
     {"tissue.serosa", draw::Figure::serosa, readout::Place::serosa}}};

// 0 (calm) to 1 (in full inflammation), and the ground that shows it.
[[nodiscard]] float warmth(const readout::Tissue& tissue);
[[nodiscard]] look::Colour warm_ground(const Frame& f, const readout::Tissue& tissue);
void draw_tissue_figure(Frame& f, const draw::Box& box, draw::Figure which, const look::Colour& ground);

void draw_vessel(Frame& f, const draw::Box& box);
void draw_tissue_box(Frame& f, const draw::Box& box, const TissueLook& which, const readout::Tissue& tissue);

}  // namespace drawdown::panels
