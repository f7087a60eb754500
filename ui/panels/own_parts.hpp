// The pages beside the charts of a person's own numbers.
#pragma once

#include "panels/frame.hpp"

namespace drawdown::panels {

void draw_own_page(Frame& f, stage::OwnPage page, const draw::Box& box);
void draw_own_why(Frame& f, const draw::Box& box);

}  // namespace drawdown::panels
