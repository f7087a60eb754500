// Following the debts along the course.
#include "readout/account.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "network/elementary.hpp"

namespace drawdown::readout {

namespace {

constexpr double longest_piece = 6.0;  // hours: shorter ones change nothing, what is left is the course's own error

double ratio(double a, double b) {
  return b > 0.0 ? a / b : 1.0;
}
double sum_of(const std::vector<double>& v) {
  return std::accumulate(v.begin(), v.end(), 0.0);
}

}  // namespace

const char* level_trend_name(LevelTrend trend) {
  static constexpr std::array<const char*, 5> names{"falling", "slowly_falling", "holding", "slowly_filling",
                                                    "filling"};
  return names.at(static_cast<std::size_t>(trend));
}

Tokens::Tokens(const body::Model& model) : names{"made", "given", "wear"} {
  for (const body::Tissue& tissue : model.tissues()) names.push_back(tissue.name == "serosa" ? "linings" : tissue.name);
  std::size_t at = names.size();
  for (const char* name : {"red_cells", "fluid", "loop", "c1_free", "taken_out", "lost", "leak", "volume", "before"}) {
    names.emplace_back(name);
  }
  for (std::size_t* token : {&red_cells, &fluid, &loop, &c1_free, &taken_out, &lost, &leak, &volume, &before})
    *token = at++;
}

std::size_t Tokens::of_place(std::size_t place, bool classical) const {
  if (place == body::place_fluid) return classical ? c1_free : fluid;
  if (place == body::place_red_cells) return red_cells;
  return first_tissue + place - body::first_tissue_place;
}

std::vector<std::size_t> causes_of_level(const Tokens& tokens, const AccountOf& account) {
  struct Ranked {
    std::size_t token;
    double group, own;
  };
  double tissues = 0.0;
  for (std::size_t t = 0; t < tokens.size(); ++t) tissues += tokens.is_tissue(t) ? account.debts[t] : 0.0;
  std::vector<Ranked> ranked;
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    const double own = std::abs(account.debts[t]);
    const double group = tokens.is_tissue(t) ? std::abs(tissues) : own;
    if (group >= least_debt * account.usual && own >= 0.25 * least_debt * account.usual)
      ranked.push_back({t, group, own});
  }
  std::stable_sort(ranked.begin(), ranked.end(), [](const Ranked& a, const Ranked& b) {
    return a.group > b.group || (a.group == b.group && a.own > b.own);
  });
  std::vector<std::size_t> causes;
  causes.reserve(ranked.size());
  for (const Ranked& r : ranked) causes.push_back(r.token);
  return causes;
}

std::size_t cause_of_trend(const Tokens& tokens, const AccountOf& account) {
  const double way = account.slope < 0.0 ? -1.0 : 1.0;
  double tissues = 0.0;
  std::size_t of_tissues = tokens.first_tissue;
  std::size_t most = tokens.made;
  for (std::size_t t = 0; t < tokens.size(); ++t) {
    const double speed = way * account.debt_slopes[t];
    if (tokens.is_tissue(t)) {
      tissues += speed;
      if (speed > way * account.debt_slopes[of_tissues]) of_tissues = t;
    } else if (speed > way * account.debt_slopes[most]) {
      most = t;
    }
  }
  return tissues > way * account.debt_slopes[most] ? of_tissues : most;
}

double Account::Terms::used_total() const {
  return sum_of(used);
}

Account::Account(const body::Body& body, const solve::Course& course, std::vector<solve::Segment> segments,
                 const std::vector<double>& before, const std::vector<double>& usual,
                 const std::vector<double>& usual_levers, std::vector<body::ProteinId> proteins)
    : body_(&body),
      course_(&course),
      segments_(std::move(segments)),
      proteins_(std::move(proteins)),
      born_(born_of(body, usual, usual_levers, proteins_)),
      tokens_(*body.model),
      bound_(body.bound()),
      last_(proteins_.size()),
      usual_volume_(network::volume_share(body.network, usual_levers)),
      loops_(*body.model, usual, body::reaction_rates(body, usual, usual_levers)) {
  if (course.empty() || segments_.empty()) throw std::logic_error("account: of an empty course");
  for (const Terms& t : terms_of(usual, usual_levers, 0.0)) {
    Usual u;
    u.terms = t;
    for (const double used : t.used) u.used.push_back(t.level > 0.0 ? used / t.level : 0.0);
    u.k = sum_of(u.used);
    u.x = t.level > 0.0 ? t.escape / t.level : 0.0;
    u.r = t.tissue > 0.0 ? t.back / t.tissue : 0.0;
    const double half = 0.5 * (u.k + u.x + u.r);
    const double apart = std::sqrt(std::max(half * half - u.k * u.r, 0.0));
    u.fast = -half - apart;
    u.slow = -half + apart;
    usual_.push_back(u);
  }
  // The state that has settled before day 0: per litre of the plasma then.
  std::vector<double> x = course.state(0.0);
  const std::vector<double> after = x;
  bound_.bind(segments_.front().values, segments_.front().slopes, segments_.front().start);
  const double now = bound_.volume(segments_.front().start);
  const double then = network::volume_share(body.network, before);
  for (std::size_t i = 0; i < x.size(); ++i) {
    if (body.network.species[i].per_litre) x[i] *= now / then;
  }
  Knot knot;
  const std::vector<Terms> terms = terms_of(x, before, 0.0);
  for (std::size_t p = 0; p < proteins_.size(); ++p) knot.owed.push_back(start(p, terms[p]));
  jump(knot.owed, x, after);
  std::size_t segment = 0;
  for (std::size_t s = 0; s < course.step_count(); ++s) {
    const double from = course.step_start(s);
    const double to = course.step_end(s);
    while (segment + 1 < segments_.size() && segments_[segment].end <= from) segment += 1;
    segment_of_.push_back(segment);
    if (s > 0) {
      course.end_state(s - 1, x.data());
      jump(knot.owed, x, inside(s, from));
    }
    const auto pieces = static_cast<int>(std::max(2.0, std::ceil((to - from) / longest_piece)));
    for (int piece = 0; piece < pieces; ++piece) {
      knot.hour = from + (to - from) * piece / pieces;
      knot.segment = segment;
      knots_.push_back(knot);
      steps_.push_back(s);
      advance(knot.owed, knot.hour, from + (to - from) * (piece + 1) / pieces, segment, s);
    }
  }
  // The end of the course.
  knot.hour = course.end_time();
  knots_.push_back(knot);
  steps_.push_back(course.step_count() - 1);
}

// Just inside a step: at its ends the course may answer with another.
std::vector<double> Account::inside(std::size_t step, double hour) const {
  const double from = course_->step_start(step);
  const double to = course_->step_end(step);
  if (hour >= to) {
    std::vector<double> x(course_->species_count());
    course_->end_state(step, x.data());
    return x;
  }
  return course_->state(std::max(hour, from));
}

std::vector<Account::Terms> Account::terms_at(const std::vector<double>& state, double hour,
                                              std::size_t segment) const {
  const solve::Segment& s = segments_[segment];
  std::vector<double> levers = s.values;
  for (std::size_t i = 0; i < levers.size(); ++i) levers[i] += s.slopes[i] * (hour - s.start);
  double grows = 0.0;
  for (const network::Factor& f : body_->network.volume) {
    const auto i = static_cast<std::size_t>(f.symbol.index);
    const auto of = network::factor_value(f.kind, levers[i], f.a.value, f.b.value);
    grows += s.slopes[i] * of.slope / of.value;
  }
  return terms_of(state, levers, grows);
}

std::vector<Account::Terms> Account::terms_of(const std::vector<double>& state, const std::vector<double>& levers,
                                              double grows) const {
  using body::Term;
  bound_.bind(levers, {}, 0.0);
  std::vector<double> rates(bound_.plan().reactions());
  bound_.rates(0.0, state.data(), rates.data());
  const body::Model& model = *body_->model;
  const body::Accounts& accounts = model.accounts();
  const std::vector<double> shares = accounts.shares(rates.data());
  const std::size_t places = accounts.places.size();
  const double volume = network::volume_share(body_->network, levers) / usual_volume_;
  std::vector<Terms> all;
  for (const body::ProteinId protein : proteins_) {
    const double grams = model.proteins()[protein].mass * 1e-6;
    Terms t;
    t.volume = volume;
    t.grows = grows;
    t.level = state[model.in_plasma(protein)] * grams;
    if (model.proteins()[protein].outside > 0.0) t.tissue = state[model.in_tissue(protein)] * grams;
    t.used.assign(tokens_.size(), 0.0);
    const std::vector<double> at_usual_gain = loops_.at_usual_gain(protein, state, rates);
    for (const body::Accounts::Entry& entry : accounts.entries[protein]) {
      double amount = rates[entry.reaction] * entry.count * grams;
      switch (entry.term) {
        case Term::made:
          t.made += amount;
          break;
        case Term::wear:
          t.used[tokens_.wear] += amount;
          break;
        case Term::to_tissue:
          t.escape += amount;
          break;
        case Term::from_tissue:
          t.back += amount;
          break;
        case Term::taken_out:
          t.exchanged += amount;
          break;
        case Term::given:
          t.exchanged -= amount;
          break;
        case Term::lost:
          t.used[tokens_.lost] += amount;
          break;
        case Term::used:
          // What feeds a loop owes what the loop uses at the usual gain.
          amount = at_usual_gain[entry.reaction] * entry.count * grams;
          t.used[tokens_.loop] += (rates[entry.reaction] - at_usual_gain[entry.reaction]) * entry.count * grams;
          for (std::size_t place = 0; place < places; ++place) {
            const bool here = entry.origin.kind == body::Origin::Kind::place;
            const double share =
                here ? (entry.origin.index == place ? 1.0 : 0.0) : shares[entry.origin.index * places + place];
            t.used[tokens_.of_place(place, entry.classical)] += amount * share;
          }
          break;
      }
    }
    all.push_back(std::move(t));
  }
  return all;
}

void Account::sources(std::size_t p, const Terms& t, Owed& out) const {
  const Usual& u = usual_[p];
  out.plasma.assign(tokens_.size(), 0.0);
  out.tissue.assign(tokens_.size(), 0.0);
  for (std::size_t j = 0; j < tokens_.size(); ++j) out.plasma[j] = u.used[j] * t.level - t.used[j];
  out.plasma[tokens_.made] += t.made * t.volume - u.terms.made;
  out.plasma[tokens_.volume] += t.made * (1.0 - t.volume) - t.level * t.grows;
  out.tissue[tokens_.volume] = -t.tissue * t.grows;
  out.plasma[t.exchanged > 0.0 ? tokens_.taken_out : tokens_.given] -= t.exchanged;
  const double leaks = (t.escape - u.x * t.level) - (t.back - u.r * t.tissue);
  out.plasma[tokens_.leak] -= leaks;
  out.tissue[tokens_.leak] += leaks;
}

Account::Owed Account::start(std::size_t p, const Terms& terms) const {
  const Usual& u = usual_[p];
  Owed source;
  sources(p, terms, source);
  Owed owed{std::vector<double>(tokens_.size(), 0.0), std::vector<double>(tokens_.size(), 0.0)};
  for (std::size_t i = 0; i < tokens_.size(); ++i) {
    // What leaves the plasma for its twin comes back: the leak owes nothing there.
    const double lasting = source.plasma[i] + source.tissue[i];
    owed.plasma[i] = u.k > 0.0 ? lasting / u.k : 0.0;
    owed.tissue[i] = u.r > 0.0 ? (u.x * owed.plasma[i] + source.tissue[i]) / u.r : 0.0;
  }
  owed.plasma[tokens_.before] += terms.level - u.terms.level - sum_of(owed.plasma);
  owed.tissue[tokens_.before] += terms.tissue - u.terms.tissue - sum_of(owed.tissue);
  return owed;
}

// Where the course jumps the plasma volume has: the same grams in other litres.
void Account::jump(std::vector<Owed>& owed, const std::vector<double>& from, const std::vector<double>& to) const {
  const body::Model& model = *body_->model;
  for (std::size_t p = 0; p < proteins_.size(); ++p) {
    const double grams = model.proteins()[proteins_[p]].mass * 1e-6;
    const auto change = [&](std::size_t species) { return (to[species] - from[species]) * grams; };
    owed[p].plasma[tokens_.volume] += change(model.in_plasma(proteins_[p]));
    if (model.proteins()[proteins_[p]].outside <= 0.0) continue;
    owed[p].tissue[tokens_.volume] += change(model.in_tissue(proteins_[p]));
  }
}

// to += times * exp(A hours) from, where A is the usual exchange: exp(A t) = a I + b A by its two eigenvalues.
void Account::turn(const Usual& u, double hours, const Owed& from, double times, Owed& to) const {
  const double fast = elementary::exp(u.fast * hours);
  const double slow = elementary::exp(u.slow * hours);
  const double apart = u.slow - u.fast;
  const double b = apart > 0.0 ? (slow - fast) / apart : hours * slow;
  const double a = slow - u.slow * b;
  for (std::size_t i = 0; i < to.plasma.size(); ++i) {
    const double c = from.plasma[i];
    const double e = from.tissue[i];
    to.plasma[i] += times * (a * c + b * (u.r * e - (u.k + u.x) * c));
    to.tissue[i] += times * (a * e + b * (u.x * c - u.r * e));
  }
}

// Variation of constants, the integral by three Gauss points (order six).
void Account::advance(std::vector<Owed>& owed, double from, double to, std::size_t segment, std::size_t step) const {
  const double h = to - from;
  if (!(h > 0.0)) return;
  const std::vector<double> none(tokens_.size(), 0.0);
  std::vector<Owed> next(owed.size(), Owed{none, none});
  for (std::size_t p = 0; p < owed.size(); ++p) turn(usual_[p], h, owed[p], 1.0, next[p]);
  const double root = 0.5 * std::sqrt(0.6);
  const std::array<std::pair<double, double>, 3> points{
      {{0.5 - root, 5.0 / 18.0}, {0.5, 8.0 / 18.0}, {0.5 + root, 5.0 / 18.0}}};
  Owed source;
  for (const auto& [at, weight] : points) {
    const double hour = from + at * h;
    const std::vector<Terms> terms = terms_at(inside(step, hour), hour, segment);
    for (std::size_t p = 0; p < owed.size(); ++p) {
      sources(p, terms[p], source);
      turn(usual_[p], (1.0 - at) * h, source, weight * h, next[p]);
    }
  }
  owed = std::move(next);
}

AccountOf Account::at(std::size_t p, double hour, Side side) const {
  hour = std::clamp(hour, knots_.front().hour, knots_.back().hour);
  Answer& last = last_[p];
  if (last.hour != hour || last.side != side) last = {hour, side, worked_out(p, hour, side)};
  return last.of;
}

AccountOf Account::worked_out(std::size_t p, double hour, Side side) const {
  auto after =
      std::upper_bound(knots_.begin(), knots_.end(), hour, [](double t, const Knot& knot) { return t < knot.hour; });
  auto k = static_cast<std::size_t>(after - knots_.begin()) - 1;
  if (side == Side::before && k > 0 && knots_[k].hour >= hour) k -= 1;
  if (k + 1 == knots_.size() && k > 0) k -= 1;  // the end: by the last piece
  const Knot& knot = knots_[k];
  std::vector<Owed> owed = knot.owed;
  advance(owed, knot.hour, hour, knot.segment, steps_[k]);
  const Terms t = terms_at(inside(steps_[k], hour), hour, knot.segment)[p];
  const Usual& u = usual_[p];
  const Terms& u0 = u.terms;
  AccountOf a;
  a.usual = u0.level;
  a.level = t.level;
  a.against_usual = ratio(t.level, u0.level);
  a.volume = t.volume;
  const double taken = std::max(t.exchanged, 0.0);
  const double leaving = t.used_total() + taken;
  a.tap = ratio(t.made * t.volume, u0.made);
  const double k_now = t.level > 0.0 ? leaving / t.level : u.k;
  a.drain = ratio(k_now, u.k);
  a.settles = u0.level * ratio(a.tap, a.drain * a.volume);
  a.in = ratio((t.made + std::max(-t.exchanged, 0.0)) * t.volume, u0.made);
  a.out = ratio(leaving * t.volume, u0.made);
  a.from_tissue = u0.made > 0.0 ? (t.back - t.escape) * t.volume / u0.made : 0.0;
  const double slope = t.made - leaving + std::max(-t.exchanged, 0.0) + t.back - t.escape - t.level * t.grows;
  // Of litres times level: (c V)' = (c' + c V'/V) V.
  a.pool_change = u0.made > 0.0 ? (slope + t.level * t.grows) * t.volume / u0.made : 0.0;
  a.slope = u0.level > 0.0 ? 2400.0 * slope / u0.level : 0.0;
  const double size = std::abs(a.slope);
  if (size >= 0.1) {
    const bool falls = a.slope < 0.0;
    a.trend = size < 0.5 ? (falls ? LevelTrend::slowly_falling : LevelTrend::slowly_filling)
                         : (falls ? LevelTrend::falling : LevelTrend::filling);
  }
  a.given = ratio(std::max(-t.exchanged, 0.0) * t.volume, u0.made);
  if (u0.made <= 0.0) a.given = 0.0;
  a.drain_parts.assign(tokens_.size(), 0.0);
  a.usual_parts.assign(tokens_.size(), 0.0);
  for (std::size_t j = 0; j < tokens_.size(); ++j) {
    const double by = t.used[j] + (j == tokens_.taken_out ? taken : 0.0);
    if (t.level > 0.0 && u.k > 0.0) a.drain_parts[j] = by / t.level / u.k;
    if (u.k > 0.0) a.usual_parts[j] = u.used[j] / u.k;
  }
  a.debts = owed[p].plasma;
  Owed source;
  sources(p, t, source);
  for (std::size_t i = 0; i < tokens_.size(); ++i) {
    const double speed = source.plasma[i] - (u.k + u.x) * owed[p].plasma[i] + u.r * owed[p].tissue[i];
    a.debt_slopes.push_back(24.0 * speed);
  }
  return a;
}

}  // namespace drawdown::readout
