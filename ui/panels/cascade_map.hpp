// The cascade laid out as a river, by rule from its parts and the day's flows: columns by what opens what, one row for
// what the first chapter opens, one where the beds meet. No name of a protein stands here. Widths are shares of what
// the healthy body makes times `full`; nothing here is drawn.
#pragma once

#include <optional>
#include <vector>

#include "draw/canvas.hpp"
#include "panels/cascade_flows.hpp"

namespace drawdown::panels {

struct MapSetting {
  draw::Box box;
  float em = 16.0F;
  float triggers = 100.0F;  // how wide their names are
  float words = 60.0F;      // how high what is written over a reach stands
  float plate = 60.0F;      // how wide the plates are; 0: none, nor helpers, and triggers as one
};

// Something that can be pointed at.
struct MapPart {
  enum class Kind { opener, triggers, main, helper, guard, aide };
  Kind kind = Kind::main;
  std::size_t main = 0;
  std::size_t index = 0;  // of the opener, helper, guard or aide
  draw::Point at;
};

struct Stream {
  enum class Kind { cause, used, seeps, helper };
  Kind kind = Kind::used;
  std::vector<draw::Point> centre;
  Amount from, to;  // widths at its ends, pixels
  body::ProteinId protein;
  std::size_t part = 0;
};

struct MapPlate {
  draw::Box box;
  std::size_t main = 0;
  bool of_loop = false;
};
struct Narrows {
  draw::Point at;
  float half = 0;  // of the water there
  std::size_t guard = 0;
};
struct Dam {
  draw::Box box;
  int block = -1;
  float free = 0;  // of its height is open
};
// Where a trigger's name stands (right-aligned, middle of its line).
struct TriggerName {
  draw::Point at;
  std::size_t part = 0;
  bool dry = false;
};
struct Reach {
  draw::Point at;   // begins: its bar, on the water's middle line
  float bar = 0;    // the bar's height
  float end = 0;    // where its column ends
  float words = 0;  // how far what is written over it may go
  std::size_t part = 0;
};

struct CascadeMap {
  float full = 0;  // pixels: all of a protein that the healthy body makes
  std::vector<MapPart> parts;
  std::vector<Stream> streams;
  std::vector<Reach> reaches;  // by main
  std::vector<MapPlate> plates;
  std::vector<Narrows> narrows;
  std::vector<Dam> dams;
  std::vector<TriggerName> triggers;
  std::vector<TriggerName> helpers;  // where their words begin
  std::vector<TriggerName> aides;
  std::optional<draw::Box> loop;  // the middle of the ring
  std::size_t ring = 0;           // its stream
};

[[nodiscard]] CascadeMap lay_out(const CascadeFlows& flows, const MapSetting& setting);

}  // namespace drawdown::panels
