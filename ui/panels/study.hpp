// The pages of the study view.
#pragma once

#include "panels/frame.hpp"

namespace drawdown::panels {

void draw_tracer_page(Frame& f, const draw::Box& box);
void draw_effects_page(Frame& f, const draw::Box& box);
void draw_truth_page(Frame& f, const draw::Box& box);

}  // namespace drawdown::panels
