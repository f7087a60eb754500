// The cascade's parts, read from the network: which proteins it uses up, what opens each, what they turn into, and what
// holds them back. Nothing here names a protein; a chapter that uses up what the liver makes is part of the cascade.
#pragma once

#include <cstdint>
#include <memory>
#include <string>
#include <vector>

#include "body/model.hpp"

namespace drawdown::panels {

// A reaction that uses up a protein. Its cause is the first of what its rate is straight in (else what it saturates in)
// that is no protein and is not lost in it; none: by itself.
struct Use {
  body::ReactionId reaction;
  double count = 1.0;     // molecules lost an event
  network::Symbol cause;  // index -1: by itself
  // Inputs that strengthen it beside its cause: the rate is times 1 + a x.
  struct Stronger {
    int input = -1;
    double a = 0.0;
  };
  std::vector<Stronger> stronger;
};

// What opens a main protein: a trigger from outside, the enzyme of an earlier protein, its own loop, or an enzyme made
// of it that is not made by what it opens.
enum class Source { plate, side, trigger, loop };
struct Opener {
  std::string key;
  Source source = Source::trigger;
  network::Symbol symbol;  // of a trigger, or of one of the side's enzymes; index -1: by itself
  std::size_t main = 0;    // whose plate
  std::vector<std::size_t> uses;
  std::vector<std::size_t> strengthens;  // uses that this input makes larger: it has that part of them
};

struct Main {
  body::ProteinId protein;
  body::SpeciesId species;
  body::ReactionId made;
  std::string key;
  int column = 0;
  bool upper = false;    // opened by the first chapter alone
  std::size_t seat = 0;  // among those of its column and row
  bool loop = false;
  std::vector<Use> uses;
  std::vector<Opener> openers;
  std::vector<body::ReactionId> goes_on;  // make the form that the next one needs
  std::vector<body::SpeciesId> enzymes;   // made of it
  int block = -1;                         // the lever that stops its uses
};

// Joins a main protein and is never the one that is opened.
struct Helper {
  body::ProteinId protein;
  body::SpeciesId species;
  body::ReactionId made;
  std::string key;
  std::size_t main = 0;
  std::vector<Use> uses;
  int block = -1;  // a lever of its own
};

// Hastens the end of what is made of a main protein; an aide slows it, or is needed and not the one that is lost.
struct Guard {
  body::SpeciesId species;
  std::string key;
  std::size_t main = 0;
  bool on_loop = false;                   // of the loop's enzyme
  std::vector<body::SpeciesId> ended;     // enzymes if there are any, else forms
  std::vector<body::ReactionId> endings;  // all that end these, by whomever
  std::vector<body::ReactionId> own;      // in which it has a part
};
struct Aide {
  body::SpeciesId species;
  std::string key;
  std::size_t main = 0;
  std::vector<body::ReactionId> own;
};

struct CascadeParts {
  std::shared_ptr<const body::Model> model;
  std::vector<Main> mains;  // by column
  std::vector<Helper> helpers;
  std::vector<Guard> guards;
  std::vector<Aide> aides;
  std::vector<body::SpeciesId> forms;  // made of proteins
  int columns = 0;
};

// `healthy`: every reaction's rate in health (of two proteins that make one enzyme, the one used in fewer events
// helps).
[[nodiscard]] CascadeParts read_cascade(const std::shared_ptr<const body::Model>& model,
                                        const std::vector<double>& healthy);

}  // namespace drawdown::panels
