// Measuring and comparing.
#include "study/claims.hpp"

#include <limits>

namespace drawdown::study {

namespace {

bool holds(scenario::Relation relation, double left, double right) {
  switch (relation) {
    case scenario::Relation::less:
      return left < right;
    case scenario::Relation::at_most:
      return left <= right;
    case scenario::Relation::more:
      return left > right;
    case scenario::Relation::at_least:
      return left >= right;
  }
  return false;
}

}  // namespace

double measure(const Run& run, const scenario::Measured& what, double day) {
  const double level = what.c4 ? run.c4(day) : run.c3(day);
  if (what.quantity == scenario::Quantity::grams_per_litre) return level;
  if (what.quantity == scenario::Quantity::level) return level / (what.c4 ? run.usual_c4() : run.usual_c3());
  const readout::FlowPair pair = run.flows(day);
  const readout::Flows& now = what.c4 ? pair.c4 : pair.c3;
  const readout::Flows& usual = what.c4 ? run.usual_flows().c4 : run.usual_flows().c3;
  switch (what.quantity) {
    case scenario::Quantity::in:
      return now.in() / usual.made;
    case scenario::Quantity::out:
      return now.out() / usual.used();
    case scenario::Quantity::share:
      return now.share_used() / usual.share_used();
    default:
      return 100.0 * now.slope / now.pool;
  }
}

std::vector<ClaimChecked> check_claims(const Run& run) {
  std::vector<ClaimChecked> checked;
  const auto check = [&](const scenario::Claim& claim, std::optional<std::size_t> step, double own_day) {
    ClaimChecked c;
    c.claim = &claim;
    c.step = step;
    c.holds = run.started();
    const double from = claim.from_day < 0.0 ? own_day : claim.from_day;
    const double to = claim.from_day < 0.0 ? own_day : claim.to_day;
    for (double day = from; day <= to && c.holds; day += 1.0) {
      c.day = day;
      const bool reached = day <= run.last_day() + 1e-9;
      c.left = reached ? measure(run, claim.left, day) : std::numeric_limits<double>::quiet_NaN();
      c.right = !claim.right ? claim.number : reached ? measure(run, *claim.right, day) : c.left;
      c.holds = holds(claim.relation, c.left, c.right);
    }
    checked.push_back(c);
  };
  for (const scenario::Claim& claim : run.story().claims) check(claim, std::nullopt, 0.0);
  const auto& talk = run.story().talk;
  for (std::size_t step = 0; step < talk.size(); ++step) {
    for (const scenario::Claim& claim : talk[step].claims) check(claim, step, talk[step].day);
  }
  return checked;
}

}  // namespace drawdown::study
