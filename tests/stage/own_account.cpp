// The equations once more, by Runge and Kutta's method with steps that grow after each event.
#include "stage/own_account.hpp"

#include <algorithm>
#include <string>

#include "stage/own_books.hpp"

namespace drawdown::support {

namespace {

Debts plus(const Debts& a, double h, const Debts& b) {
  Debts sum = a;
  for (std::size_t g = 0; g < groups; ++g) {
    sum.c[g] += h * b.c[g];
    sum.e[g] += h * b.e[g];
  }
  return sum;
}

// Short steps while the enzymes follow an event, long ones later; hours.
double step_after(double since) {
  if (since < 0.05) return 0.0025;
  if (since < 2) return 0.02;
  if (since < 6) return 0.1;
  if (since < 24) return 0.5;
  return since < 48 ? 1.0 : 3.0;
}

}  // namespace

std::vector<OwnPair> own_accounts(const Run& run, const std::vector<double>& days) {
  Books books(run);
  std::vector<OwnPair> out;
  std::array<Debts, 2> owed;
  // Settled under the levers before day 0.
  const std::vector<solve::Segment> segments = scenario::Timeline(run.story()).segments();
  std::vector<double> levers = run.story().levers;
  const auto jump = [&](const std::vector<double>& from, const std::vector<double>& to, std::vector<double> state) {
    const double ratio = Books::volume_of(from) / Books::volume_of(to);  // of what is per litre
    for (std::size_t p = 0; p < 2; ++p) {
      const char* name = p == 0 ? "C3" : "C4";
      const network::Network& network = run.body().network;
      const auto c = static_cast<std::size_t>(network.species_index(name));
      const auto e = static_cast<std::size_t>(network.species_index(std::string(name) + "_tissue"));
      Books::add(owed[p].c, Group::volume, state[c] * (1 - 1 / ratio));
      Books::add(owed[p].e, Group::volume, state[e] * (1 - 1 / ratio));
    }
  };
  std::vector<double> state = run.course().state(0.0);
  {
    std::vector<double> before = state;
    const double ratio = Books::volume_of(segments.front().values) / Books::volume_of(levers);
    for (std::size_t i = 0; i < before.size(); ++i) before[i] *= run.body().network.species[i].per_litre ? ratio : 1;
    const std::array<Now, 2> settled = books.at(before, levers, 0.0);
    for (std::size_t p = 0; p < 2; ++p) owed[p] = books.settled_under(p, settled[p]);
  }
  std::size_t next = 0;
  for (const solve::Segment& segment : segments) {
    const auto levers_at = [&](double hour) {
      std::vector<double> now = segment.values;
      for (std::size_t i = 0; i < now.size(); ++i) now[i] += segment.slopes[i] * (hour - segment.start);
      return now;
    };
    const auto grows_at = [&](double hour) {
      const double tiny = 1e-3;
      const double v = Books::volume_of(levers_at(hour));
      return (Books::volume_of(levers_at(hour + tiny)) - Books::volume_of(levers_at(hour - tiny))) / (2 * tiny) / v;
    };
    // Just before an event, not at it: there the course answers with what comes after.
    const double last = segment.end - 1e-9;
    const auto now_at = [&](double hour) {
      return books.at(run.course().state(std::min(hour, last)), levers_at(hour), grows_at(hour));
    };
    if (Books::volume_of(levers) != Books::volume_of(segment.values)) {
      jump(levers, segment.values, run.course().state(segment.start));
    }
    double hour = segment.start;
    std::array<Now, 2> here = now_at(hour);
    const bool final = &segment == &segments.back();
    for (;;) {
      while (next < days.size() && 24 * days[next] <= hour + 1e-9 && (hour < segment.end || final)) {
        OwnPair pair;
        pair.day = days[next];
        pair.c3 = books.told(0, here[0], owed[0]);
        pair.c4 = books.told(1, here[1], owed[1]);
        out.push_back(pair);
        next += 1;
      }
      if (hour >= segment.end) break;
      double to = std::min(segment.end, hour + step_after(hour - segment.start));
      if (next < days.size() && 24 * days[next] > hour + 1e-9) to = std::min(to, 24 * days[next]);
      if (segment.end - to < 1e-6) to = segment.end;
      const double h = to - hour;
      const std::array<Now, 2> half = now_at(hour + h / 2);
      const std::array<Now, 2> there = now_at(to);
      for (std::size_t p = 0; p < 2; ++p) {
        const Debts first = books.sources(p, here[p]);
        const Debts middle = books.sources(p, half[p]);
        const Debts end = books.sources(p, there[p]);
        const Debts k1 = books.speed(p, first, owed[p]);
        const Debts k2 = books.speed(p, middle, plus(owed[p], h / 2, k1));
        const Debts k3 = books.speed(p, middle, plus(owed[p], h / 2, k2));
        const Debts k4 = books.speed(p, end, plus(owed[p], h, k3));
        owed[p] = plus(plus(plus(plus(owed[p], h / 6, k1), h / 3, k2), h / 3, k3), h / 6, k4);
      }
      hour = to;
      here = there;
    }
    levers = levers_at(segment.end);
  }
  return out;
}

}  // namespace drawdown::support
