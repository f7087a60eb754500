// What the ledger's experiments run on: the standard model, or one altered, to see which figures hang on what.
#pragma once

#include <memory>
#include <string>
#include <utility>
#include <vector>

#include "simulate.hpp"
#include "study/truth.hpp"

namespace drawdown::study::truth {

// A lever's own unit, gene copies, what makes injury end at 1: no figure anybody measured, and never altered.
[[nodiscard]] bool is_definition(const network::Constant& constant);

class World {
 public:
  // The standard model.
  World();
  // What is altered, parted by ", ": a name ending in * stands for all that begin so.
  //   NAME x FACTOR         the constant of a reaction
  //   NAME/WHAT x FACTOR    the constants of its factors on that species or lever
  //   NAME.FIELD x FACTOR   of a protein or tissue (fcr, outside, liver_share, acute_gain, leak_gain, il6_share,
  //                         food_share, pregnancy_gain; to_igg)
  //   LEVER = VALUE         held so in every experiment, whatever it does with it
  // Throws std::invalid_argument for what cannot be read or names nothing, std::logic_error if no healthy body can be
  // made of it.
  // `only`: of the sampled groups those alone that these entries need; the rest is left out. Empty: all.
  explicit World(const std::string& altered, std::size_t people = sampled_people, std::vector<std::string> only = {});

  // A run of this model, with the levers held. Throws std::runtime_error if it does not finish.
  [[nodiscard]] std::shared_ptr<const Run> run(scenario::Scenario story) const;
  // The story as it is run here.
  [[nodiscard]] scenario::Scenario held(scenario::Scenario story) const;
  [[nodiscard]] const std::shared_ptr<const body::Body>& body() const { return body_; }
  [[nodiscard]] std::size_t people() const { return people_; }  // sampled of each group
  // Is one of these entries asked for, by the beginning of its id?
  [[nodiscard]] bool wanted(const std::vector<std::string>& ids) const;

 private:
  std::shared_ptr<const body::Body> body_;
  std::vector<std::pair<body::LeverId, double>> levers_;
  std::size_t people_ = sampled_people;
  std::vector<std::string> only_;
};

}  // namespace drawdown::study::truth
