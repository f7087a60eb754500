#include "panels/cascade_map.hpp"

#include <stdexcept>
#include <string>

namespace drawdown::panels {

const std::array<MapNode, node_count>& map_nodes() {
  static const std::array<MapNode, node_count> nodes{{{"C1", "C1", 0.06F, 0.24F, false, false},
                                                      {"C1_kidney", "C1*", 0.22F, 0.24F, false, true},
                                                      {"C4", "C4", 0.22F, 0.58F, false, false},
                                                      {"C2", "C2", 0.36F, 0.70F, false, false},
                                                      {"C4b2a_kidney", "C4b2a", 0.39F, 0.36F, false, true},
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
      {"wake", c1, c1_active, 0.0F, false, {"wake_*"}},
      {"hold_c1", c1_inhibitor, c1_active, 0.0F, true, {"catch_C1_*"}},
      {"cut_c4", c4, c4b2a, 0.0F, false, {"c4_convertase_*", "c4_lost_*", "c4_idle_*", "c4_sparse_*", "c4_fluid"}},
      {"c1_cuts", c1_active, c4, -0.25F, true, {"c4_lost_*", "c4_convertase_*"}},
      {"cut_c2", c2, c4b2a, 0.0F, false, {"c4_convertase_*", "c2_C1_*"}},
      {"hold_c4b2a", c4bp, c4b2a, 0.0F, true, {"decay_C4b2a_*"}},
      {"tick", c3, c3b, -0.22F, false, {"tick_over"}},
      {"classical_c3", c3, c3b, 0.0F, false, {"c3_bound_*", "c3_on_complex_*", "c3_free_*"}},
      {"loop_c3",
       c3,
       c3b,
       0.22F,
       false,
       {"c3_loop", "c3_loop_*", "c3_surface_bound", "c3_surface_free", "activator_works", "germs_work"}},
      {"c4b2a_cuts", c4b2a, c3, -0.2F, true, {"c3_bound_*", "c3_on_complex_*", "c3_free_*"}},
      {"take_b", factor_b, c3bbb, 0.0F, false, {"form_C3b*"}},
      {"form", c3b, c3bbb, -0.25F, false, {"form_C3b*"}},
      {"loop_cuts", c3bbb, c3, -0.42F, true, {"c3_loop", "c3_loop_*", "c3_surface_bound", "c3_surface_free"}},
      {"hold_loop", factor_h, c3bbb, 0.0F, true, {"undo_C3b*"}},
      {"stop", c3b, stopped, 0.15F, false, {"stop_C3b*", "stop_h_C3b*"}},
      {"hold_c3b", factor_i, stopped, 0.0F, true, {"stop_C3b*", "stop_h_C3b*"}},
      {"cut_c5", c5, attack, -0.2F, false, {"c5_*"}}};
  return arrows;
}

const MapFound& map_found(const std::shared_ptr<const body::Model>& model) {
  static MapFound found;
  if (found.model == model) return found;
  // A name that ends in * stands for all that begin so: every tissue has reactions of its own.
  const auto all = [&](const std::vector<const char*>& names) {
    std::vector<body::ReactionId> ids;
    for (const std::string name : names) {
      if (name.back() != '*') {
        ids.push_back(model->reaction(name));
        continue;
      }
      const auto& reactions = model->network().reactions;
      const std::size_t before = ids.size();
      for (std::size_t r = 0; r < reactions.size(); ++r) {
        if (reactions[r].name.compare(0, name.size() - 1, name, 0, name.size() - 1) == 0) ids.emplace_back(r);
      }
      if (ids.size() == before) throw std::logic_error("cascade map: no reaction begins with " + name);
    }
    return ids;
  };
  MapFound now;
  now.model = model;
  for (const MapNode& node : map_nodes()) now.nodes.push_back(model->species(node.species));
  for (const MapArrow& arrow : map_arrows()) now.reactions.push_back(all(arrow.reactions));
  // Not the enzyme on complexes: what it makes is none of what it is made of.
  now.loop = all({"c3_loop", "c3_surface_bound", "c3_surface_free"});
  now.all_c3b = all({"c3_loop", "c3_loop_*", "c3_surface_bound", "c3_surface_free", "tick_over", "c3_bound_*",
                     "c3_on_complex_*", "c3_free_*", "activator_works", "germs_work"});
  found = std::move(now);
  return found;
}

}  // namespace drawdown::panels
