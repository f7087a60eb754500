// The cascade as a map: where each node stands and which reactions of the network each arrow stands for. Widths, fills,
// equations and sources are read from the network; the tests hold this table against it.
#pragma once

#include <array>
#include <memory>
#include <vector>

#include "body/model.hpp"
#include "draw/canvas.hpp"

namespace drawdown::panels {

struct MapNode {
  const char* species;  // of what each tissue has its own, the kidney's: a product's level is not drawn
  const char* name;
  float x, y;      // in the unit square
  bool regulator;  // drawn as a smaller, dashed guard
  bool product;    // made on the way; its level is not compared with the usual
};

// An arrow from one node to another; `bend` lifts its middle (fraction of its length).
struct MapArrow {
  const char* key;  // its words: cascade.<key>
  int from, to;
  float bend;
  bool acts;                           // an enzyme at work on a step, not a molecule on its way: dashed, no width
  std::vector<const char*> reactions;  // by name; one that ends in * stands for all that begin so
};

enum Node : int {
  c1,
  c1_active,
  c4,
  c2,
  c4b2a,
  c3,
  c3b,
  factor_b,
  c3bbb,
  stopped,
  c5,
  attack,
  c1_inhibitor,
  c4bp,
  factor_h,
  factor_i,
  node_count
};

const std::array<MapNode, node_count>& map_nodes();
const std::vector<MapArrow>& map_arrows();

// The map's names as places in a model's lists.
struct MapFound {
  std::shared_ptr<const body::Model> model;
  std::vector<body::SpeciesId> nodes;                    // by node
  std::vector<std::vector<body::ReactionId>> reactions;  // by arrow
  std::vector<body::ReactionId> loop;                    // that make C3b from C3b
  std::vector<body::ReactionId> all_c3b;                 // that make C3b at all
};
// Looked up when the model is another than the last time; throws std::logic_error for a name that is no reaction's.
// Not for two threads at once.
const MapFound& map_found(const std::shared_ptr<const body::Model>& model);

}  // namespace drawdown::panels
