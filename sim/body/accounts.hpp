// What every reaction that touches a protein in the plasma counts for, as its chapter says where it is written: made,
// worn out, gone into tissue fluid, taken out, lost - or used up, at a place, or as what fed the enzyme that used it.
// Production and use (readout/flows.hpp) only add these up; nothing there knows a reaction by name.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "network/ids.hpp"
#include "network/network.hpp"

namespace drawdown::body {

// `lost` leaves the body whole, into the urine say, and is nobody's use.
enum class Term : std::uint8_t { made, wear, to_tissue, from_tissue, taken_out, given, used, lost };

// Where a use happens: at one of the model's places, or shared out as what fed a carrier.
struct Origin {
  enum class Kind : std::uint8_t { unsaid, place, carrier };
  Kind kind = Kind::unsaid;
  std::uint32_t index = 0;
};

struct Purpose {
  Term term = Term::used;
  Origin origin;      // of uses, and of what feeds a carrier
  bool said = false;  // false: the reaction touches no protein and feeds no carrier
};

// A carrier is an enzyme, or a pool of molecules that make each other: short-lived, one pool in the network whatever
// place woke it. Its share of a place is that place's part of what fed it.
struct Accounts {
  // Works out who feeds what. Throws std::logic_error naming a reaction that changes one of `proteins` and does not say
  // what it counts for, or that makes a carrier's member out of something else and does not say on whose account.
  Accounts() = default;
  Accounts(const network::Network& network, const std::vector<network::SpeciesId>& proteins,
           const std::vector<Purpose>& purposes, std::vector<network::Moiety> carriers,
           std::vector<std::string> places);

  struct Entry {
    network::ReactionId reaction;
    Term term;
    Origin origin;
    bool classical;  // the reaction stands in the classical pathway's chapter
    double count;    // molecules per event, positive
  };
  struct Feed {
    network::ReactionId reaction;
    std::uint32_t carrier;  // what is fed
    Origin origin;
    double count;
  };
  std::vector<std::string> places;  // the first two are the fluid and the red cells, then the tissues
  std::vector<network::Moiety> carriers;
  std::vector<Feed> feeds;
  std::vector<std::vector<Entry>> entries;  // by protein, in the network's order of reactions

  // Of each carrier (rows) the share of each place, at these rates. A carrier that
  // nothing feeds counts as the carriers among its makers, or else for the fluid.
  [[nodiscard]] std::vector<double> shares(const double* rates) const;
};

}  // namespace drawdown::body
