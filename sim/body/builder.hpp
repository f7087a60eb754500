// A small vocabulary for writing the body's chapters: species and reactions by name, each constant with its unit and
// source in the same line, and for what takes or gives a circulating protein, what that counts for. Wrong names throw
// std::logic_error when a model is made, so every test sees them.
#pragma once

#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "body/accounts.hpp"
#include "body/catalogue.hpp"
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
  ReactionBuilder& rising(const std::string& name, double per_unit, const char* unit, const std::string& source);
  ReactionBuilder& floored(const std::string& name, double floor, double reference, const std::string& source);
  ReactionBuilder& divided_by(const std::string& lever);
  // 1 - x: what a medicine against this protein (its row says which) leaves of it.
  ReactionBuilder& unblocked(const std::string& protein);

  // What it counts for, if it takes or gives a protein of the plasma: a term of the turnover,
  ReactionBuilder& counts(Term term);
  // or a use, at a place ("fluid", "red_cells" or a tissue),
  ReactionBuilder& at(const std::string& place);
  // or a use by an enzyme, shared out as what fed it.
  ReactionBuilder& as(const std::string& carrier);

 private:
  ReactionBuilder& add(network::FactorKind kind, const std::string& name, network::Constant a, network::Constant b);
  Builder* builder_;
  std::size_t reaction_;
};

class Builder {
 public:
  // Appends to `network`, and to `purposes` (one a reaction) and `carriers`.
  Builder(network::Network& network, const Catalogue& catalogue, Pass pass, std::vector<Purpose>& purposes,
          std::vector<network::Moiety>& carriers, const std::vector<std::string>& places)
      : network_(&network),
        catalogue_(&catalogue),
        pass_(pass),
        purposes_(&purposes),
        carriers_(&carriers),
        places_(&places) {}
  [[nodiscard]] const Catalogue& catalogue() const { return *catalogue_; }
  // Species and reactions added from here on belong to this chapter.
  void chapter(const std::string& name) { chapter_ = name; }
  // A unit of nmol per litre of plasma makes it one that a growing plasma volume dilutes (network.hpp).
  // `carries`: the protein whose molecules sit in it, one each, wherever they go ("C3", "C4", "factor B", "C5"): the
  // conserved sums of these are read from here. Empty: none of them.
  void species(const std::string& name, const std::string& label, const std::string& unit, double scale,
               const std::vector<std::string>& carries = {});
  void input(const std::string& name, const std::string& unit, double rest);
  // The plasma volume is the usual one times this lever, or times 1 + per_unit * lever. What is made in grams is then
  // divided by the same.
  void volume_by(const std::string& lever);
  void volume_rising(const std::string& lever, double per_unit, const char* unit, const std::string& source);
  ReactionBuilder reaction(const std::string& name, const std::string& label, double constant, const char* unit,
                           const std::string& source);
  // An enzyme, or molecules that make each other, on whose account uses are shared out.
  void carrier(const std::string& name, const std::vector<std::string>& members);
  // Every reaction written so far is shown to `change`, which may alter its constants: for experiments on the model, in
  // a chapter put after the others.
  void revise(const std::function<void(network::Reaction&)>& change);
  [[nodiscard]] Pass pass() const { return pass_; }
  // Throws std::logic_error for a name nobody declared.
  [[nodiscard]] network::SpeciesId species_of(const std::string& name) const;
  [[nodiscard]] network::Symbol symbol_of(const std::string& name) const;

 private:
  friend class ReactionBuilder;
  network::Network* network_;
  const Catalogue* catalogue_;
  Pass pass_;
  std::vector<Purpose>* purposes_;
  std::vector<network::Moiety>* carriers_;
  const std::vector<std::string>* places_;
  std::string chapter_;
};

}  // namespace drawdown::body
