// The parts of the opening picture that have a file of their own.
#pragma once

#include <string>

#include "draw/shapes.hpp"
#include "panels/frame.hpp"

namespace drawdown::panels {

void draw_vessel(Frame& f, const draw::Box& box);
// `key` names the tissue in the words.
void draw_tissue_box(Frame& f, const draw::Box& box, const std::string& key, const readout::Tissue& tissue,
                     draw::Figure which);

}  // namespace drawdown::panels
