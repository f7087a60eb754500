// What each reaction counts for, by its name, and the equations at the head of sim/readout/account.hpp.
#include "stage/own_books.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "network/factor_value.hpp"

namespace drawdown::support {

namespace {

constexpr std::size_t shared = groups;      // used by the surface loop's enzyme: shared out as what fed its C3b
constexpr std::size_t no_use = groups + 1;  // a flow, not a use

bool begins(const std::string& name, const std::string& with) {
  return name.rfind(with, 0) == 0;
}
bool ends(const std::string& name, const std::string& with) {
  return name.size() >= with.size() && name.compare(name.size() - with.size(), with.size(), with) == 0;
}

std::size_t place_in(const std::string& name) {
  if (ends(name, "_red_cells")) return static_cast<std::size_t>(Group::red_cells);
  for (const char* tissue : {"_kidney", "_skin", "_joints", "_serosa"}) {
    if (ends(name, tissue)) return static_cast<std::size_t>(Group::tissue);
  }
  throw std::logic_error("own account: no place in " + name);
}

Line line_of(std::size_t reaction, const std::string& name, double count) {
  const auto use = [&](std::size_t group) { return Line{reaction, -count, Flow::use, group, false}; };
  const auto of = [](Group group) { return static_cast<std::size_t>(group); };
  if (begins(name, "make_")) return {reaction, count, Flow::made, no_use, false};
  if (begins(name, "return_")) return {reaction, count, Flow::from_tissue, no_use, false};
  if (begins(name, "escape_") || begins(name, "leak_") || begins(name, "inflamed_leak_")) {
    return {reaction, -count, Flow::to_tissue, no_use, false};
  }
  if (begins(name, "exchange_in_")) return {reaction, count, Flow::in, no_use, false};
  if (begins(name, "exchange_out_")) return {reaction, -count, Flow::out, no_use, false};
  if (begins(name, "turn_over_")) return use(of(Group::wear));
  if (name == "c4_fluid") return use(of(Group::c1));
  if (name == "tick_over" || name == "c3_loop" || name == "germs_work") return use(of(Group::fluid));
  if (name == "activator_works") return use(of(Group::tissue));
  if (begins(name, "c3_surface_")) return use(shared);
  for (const char* cut : {"c4_lost_", "c4_convertase_", "c4_sparse_", "c4_idle_", "c3_bound_", "c3_on_complex_",
                          "c3_free_", "c3_loop_"}) {
    if (!begins(name, cut)) continue;
    Line line = use(place_in(name));
    line.classical = begins(name, "c3_bound_") || begins(name, "c3_on_") || begins(name, "c3_free_");
    return line;
  }
  throw std::logic_error("own account: what is " + name + "?");
}

constexpr std::array<const char*, 4> loop_names{"C3b", "C3bBb", "C3b_surface", "C3bBb_surface"};

}  // namespace

Books::Books(const Run& run) : run_(run), bound_(run.body().bound()) {
  const network::Network& network = run.body().network;
  for (std::size_t p = 0; p < 2; ++p) {
    const char* name = p == 0 ? "C3" : "C4";
    plasma_[p] = static_cast<std::size_t>(network.species_index(name));
    tissue_[p] = static_cast<std::size_t>(network.species_index(std::string(name) + "_tissue"));
    for (std::size_t r = 0; r < network.reactions.size(); ++r) {
      double count = 0;
      for (const network::Change& change : network.reactions[r].changes) {
        if (static_cast<std::size_t>(change.species) == plasma_[p]) count += change.count;
      }
      if (count != 0) lines_[p].push_back(line_of(r, network.reactions[r].name, count));
    }
  }
  for (std::size_t r = 0; r < network.reactions.size(); ++r) {
    const std::string& name = network.reactions[r].name;
    if (name == "land_C3b" || name == "germs_work") feeds_.push_back({r, static_cast<std::size_t>(Group::fluid)});
    if (name == "activator_works") feeds_.push_back({r, static_cast<std::size_t>(Group::tissue)});
    if (begins(name, "c3_bound_")) feeds_.push_back({r, place_in(name)});
  }
  for (std::size_t i = 0; i < loop_.size(); ++i) loop_[i] = network.species_index(loop_names[i]);
  for (const network::Reaction& reaction : network.reactions) driver_.push_back(driver_of(reaction));
  const std::vector<double> quiet = quiet_levers(run.story());
  litres_ = volume_of(quiet);
  usual_rates_ = rates(run.usual_state(), quiet);
  usual_comes_ = comes(usual_rates_);
  usual_ = at(run.usual_state(), quiet, 0.0);
}

std::array<Now, 2> Books::at(const std::vector<double>& state, const std::vector<double>& levers, double grows) {
  const std::vector<double> rate = rates(state, levers);
  const std::vector<double> calm = calm_rates(state, rate);
  const std::array<double, groups> share = fed(rate);
  std::array<Now, 2> both;
  for (std::size_t p = 0; p < 2; ++p) {
    Now& now = both[p];
    now.c = state[plasma_[p]];
    now.e = state[tissue_[p]];
    now.volume = volume_of(levers) / litres_;
    now.grows = grows;
    for (const Line& line : lines_[p]) {
      const double amount = rate[line.reaction] * line.count;
      switch (line.flow) {
        case Flow::made:
          now.made += amount;
          break;
        case Flow::to_tissue:
          now.to += amount;
          break;
        case Flow::from_tissue:
          now.back += amount;
          break;
        case Flow::out:
          now.out += amount;
          break;
        case Flow::in:
          now.in += amount;
          break;
        case Flow::use: {
          const double settled = calm[line.reaction] * line.count;
          now.used[static_cast<std::size_t>(Group::loop)] += amount - settled;
          for (std::size_t g = 0; g < groups; ++g) {
            now.used[g] += settled * (line.group == shared ? share[g] : (line.group == g ? 1.0 : 0.0));
          }
          const auto tissue = static_cast<std::size_t>(Group::tissue);
          now.in_tissue += amount * (line.group == shared ? share[tissue] : (line.group == tissue ? 1.0 : 0.0));
          if (line.classical) now.by_classical += amount;
        }
      }
    }
  }
  return both;
}

Debts Books::sources(std::size_t p, const Now& n) const {
  const Now& u = usual_[p];
  Debts s;
  for (std::size_t g = 0; g < groups; ++g) s.c[g] = (u.c > 0 ? u.used[g] / u.c * n.c : 0.0) - n.used[g];
  add(s.c, Group::made, n.made * n.volume - u.made);
  add(s.c, Group::volume, n.made * (1 - n.volume) - n.c * n.grows);
  add(s.e, Group::volume, -n.e * n.grows);
  const double exchanged = n.out - n.in;
  add(s.c, exchanged > 0 ? Group::taken : Group::given, -exchanged);
  const double leaks = (n.to - x(p) * n.c) - (n.back - r(p) * n.e);
  add(s.c, Group::leak, -leaks);
  add(s.e, Group::leak, leaks);
  return s;
}
Debts Books::speed(std::size_t p, const Debts& source, const Debts& owed) const {
  Debts d;
  for (std::size_t g = 0; g < groups; ++g) {
    d.c[g] = source.c[g] - (k(p) + x(p)) * owed.c[g] + r(p) * owed.e[g];
    d.e[g] = source.e[g] + x(p) * owed.c[g] - r(p) * owed.e[g];
  }
  return d;
}
Debts Books::settled_under(std::size_t p, const Now& n) const {
  const Debts s = sources(p, n);
  Debts owed;
  double c = 0;
  double e = 0;
  for (std::size_t g = 0; g < groups; ++g) {
    owed.c[g] = k(p) > 0 ? (s.c[g] + s.e[g]) / k(p) : 0.0;
    owed.e[g] = r(p) > 0 ? (x(p) * owed.c[g] + s.e[g]) / r(p) : 0.0;
    c += owed.c[g];
    e += owed.e[g];
  }
  add(owed.c, Group::before, n.c - usual_[p].c - c);
  add(owed.e, Group::before, n.e - usual_[p].e - e);
  return owed;
}
OwnAccount Books::told(std::size_t p, const Now& n, const Debts& owed) const {
  const double grams = run_.body().model->proteins()[body::protein_at(p == 0 ? "C3" : "C4")].mass * 1e-6;
  const Now& u = usual_[p];
  const Debts d = speed(p, sources(p, n), owed);
  const double taken = std::max(n.out - n.in, 0.0);
  const double given = std::max(n.in - n.out, 0.0);
  const double leaves = n.all_used() + taken;
  OwnAccount a;
  a.usual = u.c * grams;
  a.level = n.c * grams;
  a.volume = n.volume;
  a.tap = u.made > 0 ? n.made * n.volume / u.made : 1.0;
  a.drain = n.c > 0 && k(p) > 0 ? leaves / n.c / k(p) : 1.0;
  a.in = u.made > 0 ? (n.made + given) * n.volume / u.made : 1.0;
  a.out = u.made > 0 ? leaves * n.volume / u.made : 1.0;
  a.from_tissue = u.made > 0 ? (n.back - n.to) * n.volume / u.made : 0.0;
  const double slope = n.made + given + n.back - n.to - leaves - n.c * n.grows;
  a.percent_a_day = u.c > 0 ? 2400 * slope / u.c : 0.0;
  for (std::size_t g = 0; g < groups; ++g) {
    a.debt[g] = owed.c[g] * grams;
    a.debt_slope[g] = 24 * d.c[g] * grams;
  }
  a.in_tissue = n.in_tissue;
  a.by_classical = n.by_classical;
  a.used = n.all_used();
  return a;
}
double Books::volume_of(const std::vector<double>& levers) {
  static const body::LeverId own = body::lever_at("plasma_volume");
  static const body::LeverId pregnancy = body::lever_at("pregnancy");
  return levers[own] * (1 + 0.4 * levers[pregnancy]);
}

std::vector<double> Books::rates(const std::vector<double>& state, const std::vector<double>& levers) {
  if (levers != bound_to_) bound_.bind(levers, {}, 0.0);
  bound_to_ = levers;
  std::vector<double> out(run_.body().network.reactions.size());
  bound_.rates(0.0, state.data(), out.data());
  return out;
}

int Books::loop_place(int species) const {
  const auto found = std::find(loop_.begin(), loop_.end(), species);
  return found == loop_.end() ? -1 : static_cast<int>(found - loop_.begin());
}
int Books::driver_of(const network::Reaction& reaction) const {
  for (const network::Factor& f : reaction.factors) {
    if (f.symbol.is_input || f.kind != network::FactorKind::first_order) continue;
    if (loop_place(f.symbol.index) >= 0) return loop_place(f.symbol.index);
  }
  return -1;
}
std::array<double, 4> Books::comes(const std::vector<double>& rate) const {
  std::array<double, 4> sum{};
  for (std::size_t q = 0; q < rate.size(); ++q) {
    for (const network::Change& change : run_.body().network.reactions[q].changes) {
      const int of = loop_place(change.species);
      if (of >= 0 && change.count > 0) sum[static_cast<std::size_t>(of)] += std::max(rate[q], 0.0) * change.count;
    }
  }
  return sum;
}
// What C3's reactions would run at if the loop's gain were the usual one.
std::vector<double> Books::calm_rates(const std::vector<double>& state, const std::vector<double>& rate) const {
  const auto& reactions = run_.body().network.reactions;
  std::vector<double> each(rate.size(), 0.0);
  std::array<std::array<double, 5>, 4> a{};  // I - G, and what feeds
  for (std::size_t i = 0; i < 4; ++i) {
    a[i][i] = 1;
    if (!(usual_comes_[i] > 0)) return rate;
  }
  for (std::size_t q = 0; q < rate.size(); ++q) {
    const int by = driver_[q];
    if (by >= 0) {
      each[q] = usual_rates_[q] / usual_comes_[static_cast<std::size_t>(by)];
      for (const network::Factor& f : reactions[q].factors) {
        const bool full = loop_place(f.symbol.index) >= 0 && f.kind != network::FactorKind::first_order;
        const bool c3 = static_cast<std::size_t>(f.symbol.index) == plasma_[0];
        if (f.symbol.is_input || (!full && !c3)) continue;
        const auto s = static_cast<std::size_t>(f.symbol.index);
        each[q] *= network::factor_value(f.kind, state[s], f.a.value, f.b.value).value /
                   network::factor_value(f.kind, run_.usual_state()[s], f.a.value, f.b.value).value;
      }
    }
    for (const network::Change& change : reactions[q].changes) {
      const int of = loop_place(change.species);
      if (of < 0 || change.count <= 0) continue;
      auto& row = a[static_cast<std::size_t>(of)];
      if (by < 0) row[4] += std::max(rate[q], 0.0) * change.count;
      if (by >= 0) row[static_cast<std::size_t>(by)] -= each[q] * change.count;
    }
  }
  // Gauss and Jordan.
  for (std::size_t i = 0; i < 4; ++i) {
    for (std::size_t j = 0; j < 4; ++j) {
      if (j == i) continue;
      const double times = a[j][i] / a[i][i];
      for (std::size_t q = 0; q < 5; ++q) a[j][q] -= times * a[i][q];
    }
  }
  std::vector<double> calm = rate;
  for (std::size_t i = 0; i < 4; ++i) {
    const double come = a[i][4] / a[i][i];
    if (!std::isfinite(come) || come < 0) return rate;
  }
  for (std::size_t q = 0; q < rate.size(); ++q) {
    if (driver_[q] < 0) continue;
    const auto i = static_cast<std::size_t>(driver_[q]);
    calm[q] = each[q] * a[i][4] / a[i][i];
  }
  return calm;
}
// Who fed the C3b on surfaces, as shares.
std::array<double, groups> Books::fed(const std::vector<double>& rate) const {
  std::array<double, groups> share{};
  double total = 0;
  for (const Feed& feed : feeds_) {
    share[feed.group] += std::max(rate[feed.reaction], 0.0);
    total += std::max(rate[feed.reaction], 0.0);
  }
  for (double& one : share) one = total > 0 ? one / total : 0.0;
  if (!(total > 0)) share[static_cast<std::size_t>(Group::fluid)] = 1;
  return share;
}

}  // namespace drawdown::support
