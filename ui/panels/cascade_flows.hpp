// How much of each protein the cascade takes on a day: as a share of what the healthy body makes of it, whatever the
// protein, so that parts add up and all stand on one scale. Health is the person's body with every lever at rest.
#pragma once

#include "panels/cascade_parts.hpp"
#include "simulate.hpp"

namespace drawdown::panels {

struct Amount {
  double now = 0.0, health = 0.0;
};

class CascadeFlows {
 public:
  struct Given {
    std::vector<double> state, levers, rates;
    std::vector<double> ends;  // rates when there is the same small amount of every form: how fast each is ended
  };
  CascadeFlows(const CascadeParts& parts, Given now, Given health, std::vector<double> usual);
  [[nodiscard]] static Given given(const CascadeParts& parts, const body::Body& body, const std::vector<double>& state,
                                   const std::vector<double>& levers);

  [[nodiscard]] const CascadeParts& parts() const { return *parts_; }
  [[nodiscard]] const Given& now() const { return now_; }
  [[nodiscard]] const Given& health() const { return health_; }

  [[nodiscard]] Amount used(const Main& main) const { return of(main.uses, main.made); }
  [[nodiscard]] Amount used(const Helper& helper) const { return of(helper.uses, helper.made); }
  [[nodiscard]] Amount opened(const Main& main, const Opener& opener) const;
  // What of its use becomes the form that the next one needs.
  [[nodiscard]] Amount goes_on(const Main& main) const;
  // What the loop opens of all that is opened.
  [[nodiscard]] Amount gain(const Main& main) const;
  // In the blood, against this person's usual.
  [[nodiscard]] double level(body::SpeciesId species) const;
  // The same against the healthy body: of guards, whose work is compared with health too.
  [[nodiscard]] double of_healthy(body::SpeciesId species) const;
  // How long what the guard ends lasts, against health.
  [[nodiscard]] double lasts(const Guard& guard) const;
  // What a block leaves free, 0 to 1.
  [[nodiscard]] double free(int block) const;
  // Molecules opened for each that opens them: of a main for each made of the one whose plate opens it.
  [[nodiscard]] double opened_by_one(const Main& main, const Opener& opener) const;
  // Of all these reactions, an hour.
  [[nodiscard]] Amount events(const std::vector<body::ReactionId>& reactions) const;

 private:
  [[nodiscard]] Amount of(const std::vector<Use>& uses, body::ReactionId made) const;
  // The part of a use that its cause has, the rest being its strengtheners'.
  [[nodiscard]] static double part(const Use& use, const std::vector<double>& levers, int input);

  const CascadeParts* parts_;
  Given now_, health_;
  std::vector<double> usual_;
};

// Of a run's day; worked out when run or day is another than the last time. Not for two threads at once.
[[nodiscard]] const CascadeFlows& cascade_flows(const std::shared_ptr<const Run>& run, double day);

}  // namespace drawdown::panels
