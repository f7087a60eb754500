// What the opening picture and the tissues' page are put together from.
#pragma once

#include <string>
#include <vector>

#include "draw/shapes.hpp"
#include "panels/frame.hpp"

namespace drawdown::panels {

// A tissue on the screen: its name among the words, its shape, its place among the flows.
struct TissueLook {
  std::string key;
  draw::Figure figure;
  std::size_t place;
};
// In the order of the model's tissues.
[[nodiscard]] std::vector<TissueLook> tissue_looks(const body::Model& model);

// 0 (calm) to 1 (in full inflammation), and the ground that shows it.
[[nodiscard]] float warmth(const readout::Tissue& tissue);
[[nodiscard]] look::Colour warm_ground(const Frame& f, const readout::Tissue& tissue);
void draw_tissue_figure(Frame& f, const draw::Box& box, draw::Figure which, const look::Colour& ground);

void draw_vessel(Frame& f, const draw::Box& box);
void draw_tissue_box(Frame& f, const draw::Box& box, const TissueLook& which, const readout::Tissue& tissue);

}  // namespace drawdown::panels
