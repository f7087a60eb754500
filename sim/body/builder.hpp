// A small vocabulary for writing the body's chapters: species and reactions by name, each constant with its unit and
// source in the same line. Wrong names throw std::logic_error when the body is built, so every test sees them.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "network/network.hpp"

namespace drawdown::body {

class Builder;

// A chapter may read species that a later chapter declares, so all chapters are written twice: once for the names,
// once for the reactions.
enum class Pass { names, reactions };

// Adds factors and changes to the reaction it was made for; used in one chained expression.
class ReactionBuilder {
 public:
  ReactionBuilder(Builder& builder, std::size_t reaction) : builder_(&builder), reaction_(reaction) {}
  ReactionBuilder& lose(const std::string& species, double count = 1.0);
  ReactionBuilder& gain(const std::string& species, double count = 1.0);
  // Factors on a species or a lever, whichever bears the name.
  ReactionBuilder& by(const std::string& name);
  ReactionBuilder& saturating(const std::string& name, double half, const char* unit, const char* source);
  ReactionBuilder& repressed(const std::string& name, double half, int exponent, const char* unit, const char* source);
  ReactionBuilder& rising(const std::string& name, double per_unit, const char* unit, const char* source);
  ReactionBuilder& floored(const std::string& name, double floor, double reference, const char* source);
  ReactionBuilder& divided_by(const std::string& lever);
  // 1 - x: what a blocker leaves.
  ReactionBuilder& unblocked(const std::string& lever);

 private:
  ReactionBuilder& add(network::FactorKind kind, const std::string& name, network::Constant a, network::Constant b);
  Builder* builder_;
  std::size_t reaction_;
};

class Builder {
 public:
  Builder(network::Network& network, Pass pass) : network_(&network), pass_(pass) {}
  // Species and reactions added from here on belong to this chapter.
  void chapter(const std::string& name) { chapter_ = name; }
  void species(const std::string& name, const std::string& label, const std::string& unit, double scale);
  void input(const std::string& name, const std::string& unit, double rest);
  ReactionBuilder reaction(const std::string& name, const std::string& label, double constant, const char* unit,
                           const std::string& source);
  void moiety(const std::string& name, const std::vector<std::pair<std::string, double>>& members);
  [[nodiscard]] network::Network& network() { return *network_; }
  [[nodiscard]] Pass pass() const { return pass_; }
  // Throws std::logic_error for a name nobody declared.
  [[nodiscard]] int species_of(const std::string& name) const;
  [[nodiscard]] network::Symbol symbol_of(const std::string& name) const;

 private:
  network::Network* network_;
  Pass pass_;
  std::string chapter_;
};

}  // namespace drawdown::body
