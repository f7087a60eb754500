#include "panels/cascade_map.hpp"

namespace drawdown::panels {

const std::array<MapNode, node_count>& map_nodes() {
  static const std::array<MapNode, node_count> nodes{{{"C1", "C1", 0.06F, 0.24F, false, false},
                                                      {"C1_surface", "C1*", 0.22F, 0.24F, false, true},
                                                      {"C4", "C4", 0.22F, 0.58F, false, false},
                                                      {"C2", "C2", 0.36F, 0.70F, false, false},
                                                      {"C4b2a", "C4b2a", 0.39F, 0.36F, false, true},
                                                      {"C3", "C3", 0.55F, 0.12F, false, false},
                                                      {"C3b", "C3b", 0.62F, 0.45F, false, true},
                                                      {"FB", "B", 0.62F, 0.86F, false, false},
                                                      {"C3bBb", "C3bBb", 0.78F, 0.66F, false, true},
                                                      {"iC3b", "iC3b", 0.50F, 0.66F, false, true},
                                                      {"C5", "C5", 0.80F, 0.16F, false, false},
                                                      {"attack", "C5b-9", 0.95F, 0.36F, false, true},
                                                      {"C1INH", "C1-INH", 0.14F, 0.06F, true, false},
                                                      {"C4BP", "C4BP", 0.34F, 0.14F, true, false},
                                                      {"FH", "H", 0.93F, 0.84F, true, false},
                                                      {"FI", "I", 0.46F, 0.88F, true, false}}};
  return nodes;
}

const std::vector<MapArrow>& map_arrows() {
  static const std::vector<MapArrow> arrows{
      {"wake",
       c1,
       c1_active,
       0.0F,
       false,
       {"wake_alone", "wake_kidney", "wake_skin", "wake_joints", "wake_serosa", "wake_red_cells", "wake_cryoglobulin",
        "wake_circulating", "wake_infused"}},
      {"hold_c1", c1_inhibitor, c1_active, 0.0F, true, {"catch_C1_surface", "catch_C1_fluid"}},
      {"cut_c4",
       c4,
       c4b2a,
       0.0F,
       false,
       {"c4_convertase", "c4_surface_lost", "c4_bound_idle", "c4_sparse", "c4_fluid"}},
      {"c1_cuts", c1_active, c4, -0.25F, true, {"c4_surface_lost", "c4_convertase"}},
      {"cut_c2", c2, c4b2a, 0.0F, false, {"c4_convertase", "c2_C1_surface", "c2_C1_fluid"}},
      {"hold_c4b2a", c4bp, c4b2a, 0.0F, true, {"decay_C4b2a"}},
      {"tick", c3, c3b, -0.22F, false, {"tick_over"}},
      {"classical_c3", c3, c3b, 0.0F, false, {"c3_classical_bound", "c3_classical_free"}},
      {"loop_c3", c3, c3b, 0.22F, false, {"c3_loop", "c3_surface_bound", "c3_surface_free", "activator_works"}},
      {"c4b2a_cuts", c4b2a, c3, -0.2F, true, {"c3_classical_bound", "c3_classical_free"}},
      {"take_b", factor_b, c3bbb, 0.0F, false, {"form_C3bBb", "form_C3bBb_surface"}},
      {"form", c3b, c3bbb, -0.25F, false, {"form_C3bBb", "form_C3bBb_surface"}},
      {"loop_cuts", c3bbb, c3, -0.42F, true, {"c3_loop", "c3_surface_bound", "c3_surface_free"}},
      {"hold_loop", factor_h, c3bbb, 0.0F, true, {"decay_C3bBb", "decay_C3bBb_surface"}},
      {"stop", c3b, stopped, 0.15F, false, {"stop_C3b", "stop_C3b_surface"}},
      {"hold_c3b", factor_i, stopped, 0.0F, true, {"stop_C3b", "stop_C3b_surface"}},
      {"cut_c5",
       c5,
       attack,
       -0.2F,
       false,
       {"c5_classical_sC5b9", "c5_classical_attack", "c5_classical_idle", "c5_host_sC5b9", "c5_host_attack",
        "c5_host_idle", "c5_activator_sC5b9", "c5_activator_attack", "c5_activator_idle"}}};
  return arrows;
}

const MapFound& map_found(const std::shared_ptr<const body::Model>& model) {
  static MapFound found;
  if (found.model == model) return found;
  const auto all = [&](const std::vector<const char*>& names) {
    std::vector<body::ReactionId> ids;
    ids.reserve(names.size());
    for (const char* name : names) ids.push_back(model->reaction(name));
    return ids;
  };
  MapFound now;
  now.model = model;
  for (const MapNode& node : map_nodes()) now.nodes.push_back(model->species(node.species));
  for (const MapArrow& arrow : map_arrows()) now.reactions.push_back(all(arrow.reactions));
  now.loop = all({"c3_loop", "c3_surface_bound", "c3_surface_free"});
  now.all_c3b = all({"c3_loop", "c3_surface_bound", "c3_surface_free", "tick_over", "c3_classical_bound",
                     "c3_classical_free", "activator_works"});
  found = std::move(now);
  return found;
}

}  // namespace drawdown::panels
