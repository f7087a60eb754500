// The map of the cascade beside the network it stands for.
#include <doctest/doctest.h>

#include <string>

#include "look/words.hpp"
#include "panels/cascade_map.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE("the cascade's map is the network's: every arrow's reactions exist and touch what it joins") {
  const auto body = support::standard_body();
  const network::Network& network = body->network;
  for (const auto& node : panels::map_nodes())
    CHECK_MESSAGE(network.species_index(node.species) >= 0, std::string(node.species));
  const auto words = look::WordBook::load(support::source_folder() + "/assets/en.toml");
  for (const auto& arrow : panels::map_arrows()) {
    CHECK_MESSAGE(words.has(std::string("cascade.") + arrow.key), std::string(arrow.key));
    bool from = false;
    bool to = false;
    for (const std::string name : arrow.reactions) {
      std::size_t known = 0;
      for (const network::Reaction& reaction : network.reactions) {
        // A name that ends in * stands for all that begin so.
        const bool meant =
            name.back() == '*' ? reaction.name.rfind(name.substr(0, name.size() - 1), 0) == 0 : reaction.name == name;
        if (!meant) continue;
        known += 1;
        const auto touches = [&](int node) {
          const int species = network.species_index(panels::map_nodes()[static_cast<std::size_t>(node)].species);
          for (const auto& change : reaction.changes) {
            if (change.species == species) return true;
          }
          for (const auto& factor : reaction.factors) {
            if (!factor.symbol.is_input && factor.symbol.index == species) return true;
          }
          return false;
        };
        from = from || touches(arrow.from);
        to = to || touches(arrow.to);
      }
      CHECK_MESSAGE(known > 0, name);
    }
    CHECK_MESSAGE(from, std::string(arrow.key));
    CHECK_MESSAGE(to, std::string(arrow.key));
  }
}
