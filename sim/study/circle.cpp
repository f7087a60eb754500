// Links by rule, and one linear run each.
#include "study/circle.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>

#include "study/variation.hpp"

namespace drawdown::study {

namespace {

bool changes(const network::Reaction& r, std::size_t species, double sign) {
  return std::any_of(r.changes.begin(), r.changes.end(), [&](const network::Change& c) {
    return static_cast<std::size_t>(c.species) == species && sign * c.count > 0.0;
  });
}

bool reads(const network::Reaction& r, std::size_t species) {
  return std::any_of(r.factors.begin(), r.factors.end(), [&](const network::Factor& factor) {
    return !factor.symbol.is_input && static_cast<std::size_t>(factor.symbol.index) == species;
  });
}

// What a reaction is in this tissue's circle; nothing for one outside it.
std::optional<Link> link_of(const body::Model& model, std::size_t tissue, const network::Reaction& r) {
  const body::Model::Known& known = model.known();
  const body::Model::TissueIds& ids = model.tissue_ids()[tissue];
  const auto gains = [&](std::size_t s) { return changes(r, s, 1.0); };
  const auto loses = [&](std::size_t s) { return changes(r, s, -1.0); };
  if (gains(known.complexes)) return Link::forms;
  if (gains(ids.deposit)) return Link::settles;
  if (gains(ids.inflammation)) return Link::inflames;
  if (gains(ids.injury)) return Link::injures;
  if (gains(known.antigen)) return reads(r, ids.injury) ? Link::returns : Link::debris_released;
  if (gains(known.antibody)) return Link::antibody_made;
  if (loses(known.antibody)) return Link::antibody_ages;
  if (loses(known.antigen)) return Link::debris_cleared;
  if (loses(ids.deposit)) return Link::removed;
  if (loses(ids.inflammation)) return Link::calms;
  if (loses(ids.injury)) return Link::heals;
  if (!loses(known.complexes)) return std::nullopt;
  // Settling in another tissue is no exit of the circle in this one: it feeds the same debris.
  const bool elsewhere = std::any_of(model.tissue_ids().begin(), model.tissue_ids().end(),
                                     [&](const body::Model::TissueIds& other) { return gains(other.deposit); });
  return elsewhere ? std::nullopt : std::optional(Link::complexes_cleared);
}

// The reactions of each link, by index.
using ByLink = std::array<std::vector<std::size_t>, link_names.size()>;
ByLink reactions_of(const body::Body& body, std::size_t tissue) {
  if (tissue >= body.model->tissue_ids().size()) throw std::logic_error("circle: no such tissue");
  ByLink reactions;
  for (std::size_t r = 0; r < body.network.reactions.size(); ++r) {
    const auto link = link_of(*body.model, tissue, body.network.reactions[r]);
    if (link) reactions.at(static_cast<std::size_t>(*link)).push_back(r);
  }
  return reactions;
}

// The injury's slope on a link's strength, over [from, to] hours.
double slope(const Run& run, const std::vector<std::size_t>& reactions, std::size_t injury, double from, double to) {
  const body::Model& model = *run.body().model;
  const auto& all = run.body().network.reactions;
  const Variation variation(run, {}, [&](double, const Variation::Point& at, std::vector<double>& push) {
    std::fill(push.begin(), push.end(), 0.0);
    for (const std::size_t r : reactions) {
      for (const network::Change& c : all[r].changes)
        push[static_cast<std::size_t>(c.species)] += c.count * at.rates[r];
    }
  });
  solve::Options options;
  options.rtol = 1e-4;
  for (const double scale : model.scales()) options.atol.push_back(1e-5 * scale);
  std::vector<double> s(model.scales().size(), 0.0);
  solve::Solver solver(variation.pattern(), model.lu());
  solve::Course course(s.size());
  follow(variation, run, solver, options, from, to, s, course);
  return s[injury];
}

}  // namespace

const LinkEffect* Circle::weakest() const {
  if (injury < least_injury || links.empty()) return nullptr;
  const auto most = std::max_element(links.begin(), links.end(),
                                     [](const LinkEffect& a, const LinkEffect& b) { return a.eases < b.eases; });
  return most->eases < least_ease ? nullptr : &*most;
}

Circle circle_flows(const Run& run, std::size_t tissue, double day) {
  const std::vector<double> state = run.state(day);
  const std::vector<double> rates = body::reaction_rates(run.body(), state, run.levers(day));
  Circle circle{day, 0.0, tissue, 0.0, {}};
  const auto reactions = reactions_of(run.body(), tissue);
  circle.injury = state[run.body().model->tissue_ids()[tissue].injury];
  for (std::size_t i = 0; i < reactions.size(); ++i) {
    LinkEffect effect{static_cast<Link>(i), 0.0, 0.0};
    for (const std::size_t r : reactions.at(i)) effect.flow += 24.0 * rates[r];
    circle.links.push_back(effect);
  }
  return circle;
}

Circle circle_of(const Run& run, std::size_t tissue, double day, double days_back) {
  Circle circle = circle_flows(run, tissue, day);
  const double from = std::max(0.0, day - days_back);
  circle.days_back = day - from;
  if (circle.days_back <= 0.0 || circle.injury <= 0.0) return circle;
  const auto reactions = reactions_of(run.body(), tissue);
  const std::size_t injury = run.body().model->tissue_ids()[tissue].injury;
  for (std::size_t i = 0; i < reactions.size(); ++i) {
    const double tenth = (i < first_exit ? 10.0 : -10.0) / circle.injury;  // per cent of the injury
    circle.links[i].eases = tenth * slope(run, reactions.at(i), injury, 24.0 * from, 24.0 * day);
  }
  return circle;
}

}  // namespace drawdown::study
