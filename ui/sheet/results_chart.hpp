// Serial results of one protein on a chart: points with their noise as error bars, over the laboratory's interval, the
// band in which a further value is usual for the person, and the model's course with what might follow. Drawn through
// the canvas, so that screen and paper agree.
#pragma once

#include "draw/canvas.hpp"
#include "labs/fit.hpp"
#include "labs/judge.hpp"
#include "look/palette.hpp"
#include "look/words.hpp"

namespace drawdown::sheet {

struct ResultsChart {
  labs::Protein protein = labs::Protein::c3;
  const std::vector<labs::Row>* rows = nullptr;  // in order of day
  const labs::OfProtein* judged = nullptr;
  study::Variation cv;
  std::optional<scenario::Interval> range;  // drawn as a band; nothing where the rows name different ones
  scenario::Unit unit = scenario::Unit::g_per_l;
  const labs::Fit* fit = nullptr;          // may be none
  const labs::Outlook* outlook = nullptr;  // of the fit's, drawn as a fan
};

void draw_results_chart(draw::Canvas& canvas, const look::Palette& palette, const look::WordBook& words,
                        const ResultsChart& chart, const draw::Box& box);

// The complex load the chart's fit found, over time, with its band; on the same days as the results' charts.
void draw_load_chart(draw::Canvas& canvas, const look::Palette& palette, const look::WordBook& words,
                     const ResultsChart& chart, const draw::Box& box);

}  // namespace drawdown::sheet
