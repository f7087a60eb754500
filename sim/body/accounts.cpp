// Who feeds whom.
#include "body/accounts.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <utility>

namespace drawdown::body {

Accounts::Accounts(const network::Network& network, const std::vector<network::SpeciesId>& proteins,
                   const std::vector<Purpose>& purposes, std::vector<network::Moiety> all_carriers,
                   std::vector<std::string> all_places)
    : places(std::move(all_places)), carriers(std::move(all_carriers)), entries(proteins.size()) {
  std::vector<network::Moiety> in_plasma;
  in_plasma.reserve(proteins.size());
  for (const network::SpeciesId protein : proteins) {
    in_plasma.push_back({network.species[protein].name, {{static_cast<int>(protein.index), 1.0}}});
  }
  for (std::size_t r = 0; r < network.reactions.size(); ++r) {
    const network::Reaction& reaction = network.reactions[r];
    const Purpose& purpose = purposes[r];
    const bool has_origin = purpose.origin.kind != Origin::Kind::unsaid;
    for (std::size_t p = 0; p < proteins.size(); ++p) {
      const double count = network::moiety_change(in_plasma[p], reaction);
      if (count == 0.0) continue;
      if (!purpose.said || (purpose.term == Term::used && !has_origin)) {
        throw std::logic_error("body: " + reaction.name + " changes " + network.species[proteins[p]].name +
                               " and does not say what it counts for");
      }
      const bool comes = purpose.term == Term::made || purpose.term == Term::from_tissue || purpose.term == Term::given;
      if (comes != (count > 0.0)) {
        throw std::logic_error("body: " + reaction.name + " counts as the opposite of what it does to " +
                               network.species[proteins[p]].name);
      }
      entries[p].push_back(
          {network::ReactionId(r), purpose.term, purpose.origin, reaction.chapter == "classical", std::abs(count)});
    }
    for (std::size_t c = 0; c < carriers.size(); ++c) {
      const double gained = network::moiety_change(carriers[c], reaction);
      const bool itself = purpose.origin.kind == Origin::Kind::carrier && purpose.origin.index == c;
      if (gained <= 0.0 || itself) continue;
      if (!has_origin) {
        throw std::logic_error("body: " + reaction.name + " feeds " + carriers[c].name +
                               " and does not say on whose account");
      }
      feeds.push_back({network::ReactionId(r), static_cast<std::uint32_t>(c), purpose.origin, gained});
    }
  }
}

std::vector<double> Accounts::shares(const double* rates) const {
  // S[c] = F[c] + sum over what other carriers feed into c of W[c][d] S[d]: a few small equations, solved for all
  // places at once by elimination. Every row's weights add up to one, so the shares do.
  const std::size_t n = carriers.size();
  const std::size_t m = places.size();
  std::vector<double> a(n * n, 0.0);
  std::vector<double> s(n * m, 0.0);
  std::vector<double> total(n, 0.0);
  for (const Feed& feed : feeds) {
    const double amount = std::max(0.0, rates[feed.reaction]) * feed.count;
    total[feed.carrier] += amount;
    if (feed.origin.kind == Origin::Kind::place) {
      s[feed.carrier * m + feed.origin.index] += amount;
    } else {
      a[feed.carrier * n + feed.origin.index] -= amount;
    }
  }
  // What nothing feeds at this moment (its maker has just been blocked) still counts as its makers would.
  for (const Feed& feed : feeds) {
    if (total[feed.carrier] > 0.0 || feed.origin.kind != Origin::Kind::carrier) continue;
    a[feed.carrier * n + feed.origin.index] = -1.0;
  }
  for (std::size_t c = 0; c < n; ++c) {
    if (total[c] <= 0.0) total[c] = -std::accumulate(&a[c * n], &a[c * n] + n, 0.0);
    if (total[c] > 0.0) {
      for (std::size_t d = 0; d < n; ++d) a[c * n + d] /= total[c];
      for (std::size_t p = 0; p < m; ++p) s[c * m + p] /= total[c];
    } else {
      s[c * m] = 1.0;
    }
    a[c * n + c] += 1.0;
  }
  // The matrix is weakly diagonally dominant; a ring of carriers that nothing outside feeds is singular and counts for
  // the fluid.
  for (std::size_t c = 0; c < n; ++c) {
    const double pivot = a[c * n + c];
    if (std::abs(pivot) < 1e-12) {
      for (std::size_t d = 0; d < n; ++d) a[c * n + d] = c == d ? 1.0 : 0.0;
      for (std::size_t p = 0; p < m; ++p) s[c * m + p] = p == 0 ? 1.0 : 0.0;
    }
    for (std::size_t r = c + 1; r < n; ++r) {
      const double factor = a[r * n + c] / a[c * n + c];
      if (factor == 0.0) continue;
      for (std::size_t d = c; d < n; ++d) a[r * n + d] -= factor * a[c * n + d];
      for (std::size_t p = 0; p < m; ++p) s[r * m + p] -= factor * s[c * m + p];
    }
  }
  for (std::size_t c = n; c-- > 0;) {
    for (std::size_t d = c + 1; d < n; ++d) {
      for (std::size_t p = 0; p < m; ++p) s[c * m + p] -= a[c * n + d] * s[d * m + p];
    }
    for (std::size_t p = 0; p < m; ++p) s[c * m + p] /= a[c * n + c];
  }
  return s;
}

}  // namespace drawdown::body
