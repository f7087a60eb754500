// What the opening picture and the tissues' page are put together from.
#pragma once

#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "draw/shapes.hpp"
#include "panels/frame.hpp"
#include "panels/stage_shape.hpp"
#include "readout/verdict.hpp"
#include "stage/narrate.hpp"

namespace drawdown::panels {

// A tissue on the screen: its name among the words, its shape, its place among the flows.
struct TissueLook {
  std::string key;
  draw::Figure figure;
  std::size_t place;
};
// In the order of the model's tissues.
[[nodiscard]] std::vector<TissueLook> tissue_looks(const body::Model& model);

// The colour that shows how inflamed it is.
[[nodiscard]] look::Colour warm_ground(const Frame& f, const readout::Tissue& tissue);
[[nodiscard]] const std::string& tissue_state(const Frame& f, const readout::Tissue& tissue);
// The plate a tissue stands on: warm as it is inflamed.
void draw_tissue_ground(Frame& f, const draw::Box& box, const readout::Tissue& tissue);
void draw_tissue_figure(Frame& f, const draw::Box& box, draw::Figure which, const look::Colour& ground);
void draw_tissue_box(Frame& f, const draw::Box& box, const TissueLook& which, const readout::Tissue& tissue);

[[nodiscard]] StageTexts stage_texts(const Frame& f, const draw::Box& area);

// One protein's side of the opening picture: what is drawn, and in which numbers it is told.
struct Side {
  const Run* run;
  stage::Which which;
  readout::AccountOf account;  // the day's: told
  SideNumbers numbers;         // on their way there: drawn
  const char* name;
  look::Colour colour;
  scenario::Interval range;  // g/L
};
// The vessel's wall, and how far the opening goes on below the floor at its whole width, so that it is seen before
// streams grow narrower.
[[nodiscard]] inline float wall_of(const Frame& f) {
  return std::max(3.0F, 0.34F * f.em());
}
[[nodiscard]] inline float throat_of(const Frame& f) {
  return wall_of(f) + 0.75F * f.em();
}
// Streams first, so that vessels and plates lie on them.
void draw_streams(Frame& f, const StageShape& shape, const Side& side, std::size_t i);
void draw_side(Frame& f, const StageShape& shape, const Side& side, std::size_t i, const StageTexts& texts);
// The columns of figures outside and inside the vessel.
void draw_figures(Frame& f, const StageShape& shape, const Side& side, std::size_t i, const StageTexts& texts);

// What plates there are for a run at this depth: a tissue of its own, or several together, and the other ways out that
// take more than usual today.
// `most`: plates there is room for; more than these are put together as at plain depth.
[[nodiscard]] std::vector<Plate> plates_for(const Frame& f, const Run& run, const readout::Tokens& tokens,
                                            const SideNumbers& c3, const SideNumbers& c4, std::size_t most);
void draw_plates(Frame& f, const Run& run, const StageShape& shape, const readout::Tokens& tokens,
                 const StageTexts& texts);
// What each part of the picture says when it is pointed at or reached by Tab: its number in words, and where it comes
// from.
void tell_parts(Frame& f, const StageShape& shape, const std::array<Side, 2>& sides, const readout::Tokens& tokens,
                const std::string& name);
// What stood before a lever was dragged, as outlines: surface, tap and opening.
void draw_before(Frame& f, const StageShape& now, const StageShape& before, std::size_t i);
// The opening picture of a run and its account; what moves is kept under `name`.
void draw_stage(Frame& f, const draw::Box& box, const Run& run, const readout::Account& account,
                const std::string& name);

}  // namespace drawdown::panels
