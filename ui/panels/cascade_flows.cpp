#include "panels/cascade_flows.hpp"

#include <algorithm>
#include <memory>

namespace drawdown::panels {

namespace {
constexpr double small = 1e-3;  // nmol/L
}

CascadeFlows::CascadeFlows(const CascadeParts& parts, Given now, Given health, std::vector<double> usual)
    : parts_(&parts), now_(std::move(now)), health_(std::move(health)), usual_(std::move(usual)) {}

CascadeFlows::Given CascadeFlows::given(const CascadeParts& parts, const body::Body& body,
                                        const std::vector<double>& state, const std::vector<double>& levers) {
  Given g{state, levers, body::reaction_rates(body, state, levers), {}};
  std::vector<double> probe = state;
  for (const body::SpeciesId form : parts.forms) probe[form] = small;
  g.ends = body::reaction_rates(body, probe, levers);
  return g;
}

Amount CascadeFlows::of(const std::vector<Use>& uses, body::ReactionId made) const {
  Amount sum;
  for (const Use& use : uses) {
    sum.now += std::max(0.0, now_.rates[use.reaction]) * use.count;
    sum.health += std::max(0.0, health_.rates[use.reaction]) * use.count;
  }
  const double all = health_.rates[made];
  if (!(all > 0.0)) return {};
  return {sum.now / all, sum.health / all};
}

double CascadeFlows::part(const Use& use, const std::vector<double>& levers, int input) {
  double more = 0.0;
  double asked = 0.0;
  for (const Use::Stronger& s : use.stronger) {
    const double by = s.a * std::max(0.0, levers[static_cast<std::size_t>(s.input)]);
    more += by;
    if (s.input == input) asked += by;
  }
  // Several would multiply; each is given its part of what they add together.
  return (input < 0 ? 1.0 : asked) / (1.0 + more);
}

Amount CascadeFlows::opened(const Main& main, const Opener& opener) const {
  Amount sum;
  const auto add = [&](std::size_t u, int input) {
    const Use& use = main.uses[u];
    sum.now += std::max(0.0, now_.rates[use.reaction]) * use.count * part(use, now_.levers, input);
    sum.health += std::max(0.0, health_.rates[use.reaction]) * use.count * part(use, health_.levers, input);
  };
  for (const std::size_t u : opener.uses) add(u, -1);
  for (const std::size_t u : opener.strengthens) add(u, opener.symbol.index);
  const double all = health_.rates[main.made];
  if (!(all > 0.0)) return {};
  return {sum.now / all, sum.health / all};
}

Amount CascadeFlows::events(const std::vector<body::ReactionId>& reactions) const {
  Amount sum;
  for (const body::ReactionId r : reactions) {
    sum.now += std::max(0.0, now_.rates[r]);
    sum.health += std::max(0.0, health_.rates[r]);
  }
  return sum;
}

Amount CascadeFlows::goes_on(const Main& main) const {
  const Amount made = events(main.goes_on);
  const Amount all = used(main);
  const double one = health_.rates[main.made];
  if (!(one > 0.0)) return {};
  return {std::min(all.now, made.now / one), std::min(all.health, made.health / one)};
}

Amount CascadeFlows::gain(const Main& main) const {
  const Amount all = used(main);
  Amount loop;
  for (const Opener& opener : main.openers) {
    if (opener.source != Source::loop) continue;
    const Amount o = opened(main, opener);
    loop.now += o.now;
    loop.health += o.health;
  }
  return {all.now > 0.0 ? loop.now / all.now : 0.0, all.health > 0.0 ? loop.health / all.health : 0.0};
}

double CascadeFlows::level(body::SpeciesId species) const {
  return usual_[species] > 0.0 ? now_.state[species] / usual_[species] : 0.0;
}

double CascadeFlows::of_healthy(body::SpeciesId species) const {
  return health_.state[species] > 0.0 ? now_.state[species] / health_.state[species] : 0.0;
}

double CascadeFlows::lasts(const Guard& guard) const {
  double now = 0.0;
  double health = 0.0;
  for (const body::ReactionId r : guard.endings) {
    now += std::max(0.0, now_.ends[r]);
    health += std::max(0.0, health_.ends[r]);
  }
  return now > 0.0 ? health / now : 1.0;
}

double CascadeFlows::free(int block) const {
  return block < 0 ? 1.0 : std::clamp(1.0 - now_.levers[static_cast<std::size_t>(block)], 0.0, 1.0);
}

double CascadeFlows::opened_by_one(const Main& main, const Opener& opener) const {
  const Main& from = parts_->mains[opener.main];
  const double made = events(from.goes_on).now;
  double cut = 0.0;
  for (const std::size_t u : opener.uses) cut += std::max(0.0, now_.rates[main.uses[u].reaction]);
  return made > 1e-9 ? cut / made : 0.0;
}

const CascadeFlows& cascade_flows(const std::shared_ptr<const Run>& run, double day) {
  static std::shared_ptr<const Run> of;
  static double on = -1.0;
  static CascadeParts parts;
  static std::unique_ptr<CascadeFlows> flows;
  if (flows != nullptr && of == run && on == day) return *flows;
  const body::Body& body = run->body();
  const std::vector<double> rest = body.model->resting_levers();
  if (flows == nullptr || parts.model != body.model) {
    parts = read_cascade(body.model, body::reaction_rates(body, body.rest, rest));
  }
  CascadeFlows::Given health = flows != nullptr && of != nullptr && &of->body() == &body
                                   ? flows->health()
                                   : CascadeFlows::given(parts, body, body.rest, rest);
  flows = std::make_unique<CascadeFlows>(parts, CascadeFlows::given(parts, body, run->state(day), run->levers(day)),
                                         std::move(health), run->usual_state());
  of = run;
  on = day;
  return *flows;
}

}  // namespace drawdown::panels
