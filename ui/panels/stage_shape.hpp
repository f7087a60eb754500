// Where the opening picture's parts stand and how large they are, from the account alone: what the tests measure.
//
// Two things are drawn to one measure, the unit: the width of tap and opening in the usual state, the same for both
// proteins.
//   opening  the share of the pool that leaves in a day / usual: drain
//   stream   what passes: drain x level x volume, so that all streams out together are `out`, and the stream in is `in`
// Of the opening, `ordinary` is what each way out takes up to its usual share (and what is too small to be drawn); the
// rest is extra, by where it goes.
// Widths are true up to `most_open` units, beyond they end in a marked break. Heights are shares of the usual level up
// to `most_high`, so that both usual lines stand at one height.
#pragma once

#include <algorithm>
#include <array>
#include <numeric>
#include <string>
#include <vector>

#include "draw/canvas.hpp"
#include "readout/account.hpp"

namespace drawdown::panels {

inline constexpr float most_open = 4.0F;   // units
inline constexpr float most_high = 1.8F;   // usual levels
inline constexpr double least_way = 0.02;  // of the usual opening: less is not drawn

// One protein's numbers as they are drawn, all against usual; `extra` by token.
struct SideNumbers {
  double level = 1.0;
  double made = 1.0;   // the tap
  double given = 0.0;  // comes with replacement plasma
  double volume = 1.0;
  double from_tissue = 0.0;
  double ordinary = 1.0;  // of the drain
  std::vector<double> extra;
  [[nodiscard]] double stream(double share) const { return share * level * volume; }
  [[nodiscard]] double in() const { return made + given; }
  [[nodiscard]] double drain() const { return std::accumulate(extra.begin(), extra.end(), ordinary); }
};
[[nodiscard]] SideNumbers side_numbers(const readout::Tokens& tokens, const readout::AccountOf& account);

// Where the extra goes: a plate in the middle. The tissues whose tokens it holds, or the one other token.
struct Plate {
  std::vector<std::size_t> tokens;
  bool tissue = false;
  draw::Box box;
};

// An opening in the floor and the stream that leaves through it.
struct Way {
  std::size_t plate = 0;   // of the extra; the ordinary one has none
  float from = 0, to = 0;  // x of the opening in the floor, from the outer side inwards
  float width = 0;         // of the stream
  float arrives = 0;       // y of the stream's middle at the plate
  bool broken = false;     // drawn narrower than it is
  [[nodiscard]] float opening() const { return to > from ? to - from : from - to; }
};

struct SideShape {
  bool mirrored = false;  // the outer side is the right one
  draw::Box vessel;       // inside of the walls, from the rim to the floor
  float usual_y = 0, surface_y = 0;
  bool above_scale = false;  // the level is over most_high
  float tap_width = 0;       // of the stream in
  float given_width = 0;
  bool tap_broken = false;           // wider than most_open
  float tick_from = 0, tick_to = 0;  // x of the pair of ticks, on tap and opening alike: one unit
  Way ordinary;
  std::vector<Way> extra;                  // by plate, those that are drawn
  float opening_from = 0, opening_to = 0;  // the whole
  bool opening_broken = false;
  // Where a level stands, as a share of usual; over most_high at the scale's end.
  [[nodiscard]] float y_of(double level) const {
    return vessel.bottom() - (vessel.bottom() - usual_y) * std::clamp(static_cast<float>(level), 0.0F, most_high);
  }
  // From the outer side inwards: 1 or -1.
  [[nodiscard]] float inwards() const { return mirrored ? -1.0F : 1.0F; }
};

struct StageShape {
  float unit = 0;
  draw::Box verdict, liver, pipes, note;
  std::array<draw::Box, 2> outer, beside;  // the columns of figures outside and inside the vessels
  std::array<SideShape, 2> side;           // C3 left, C4 right
  std::array<draw::Box, 2> wear;
  draw::Box heading;  // over the plates
  std::vector<Plate> plates;
};

// Which texts stand in the picture. In a hall there are at most twelve, large; where room is short they go in this
// order: the line under the picture, the width's label, limits of the range, what flows, wear, the heading over the
// plates. Title, names, levels, openings and plates stay.
struct StageTexts {
  bool hall = false;
  bool note = true;
  bool width = true;
  bool limits = true;
  bool flows = true;
  bool wear = true;
  bool heading = true;
};
struct StageRoom {
  float em = 16;
  float verdict = 40;  // height of the verdict
  StageTexts texts;
};
// `plates`: what they hold; their boxes are set.
[[nodiscard]] StageShape shape_of(const SideNumbers& c3, const SideNumbers& c4, std::vector<Plate> plates,
                                  const draw::Box& area, const StageRoom& room);

}  // namespace drawdown::panels
