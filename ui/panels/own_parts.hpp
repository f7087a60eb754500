// The pages beside the charts of a person's own numbers.
#pragma once

#include "labs/judge.hpp"
#include "panels/frame.hpp"

namespace drawdown::panels {

// The picture of a verdict: what is usual for the person and the laboratory's range as bars on one scale, and across
// both a line with the last value: filled and round for C3, an open square for C4. Drawn only where a usual level is
// known.
struct OwnGauge {
  labs::Protein protein = labs::Protein::c3;
  const labs::OfProtein* of = nullptr;
};
[[nodiscard]] float own_gauge_height(const Frame& f);
void draw_own_gauge(Frame& f, const OwnGauge& gauge, const draw::Box& box);

void draw_own_page(Frame& f, stage::OwnPage page, const draw::Box& box);
void draw_own_why(Frame& f, const draw::Box& box);

}  // namespace drawdown::panels
