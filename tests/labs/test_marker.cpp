// Is complement a marker for this person? On simulated people of each kind, known by how they were made (a stated
// model, fixed seeds; not a person): values as in labs/people.hpp; a marker's fall is log-normal between people (median
// 30 % of C3, 45 % of C4, ln spread 0.35), each flare's times exp(0.3 z), 15 % of flares miss it; what is none moves by
// a normal share with mean 0 (3 % of C3, 4.5 % of C4).
#include <doctest/doctest.h>

#include "labs/marker.hpp"
#include "labs/people.hpp"
#include "labs/read.hpp"
#include "support/near.hpp"

using namespace drawdown;
using labs::MarkerAnswer;
using tests::People;

namespace {

enum class Kind { none, c3, c4, both };

struct Counts {
  int right = 0, open = 0, wrong = 0, goes = 0, does_not = 0;
};

// `least`: a marker's falls of C3 and of C4 are at least so large, as shares.
std::vector<labs::Row> person(People& some, Kind kind, int quiet, int flares, double wrongly_marked,
                              std::array<double, 2> least) {
  const int n = quiet + flares;
  std::vector<std::array<double, 2>> off(static_cast<std::size_t>(n));
  std::vector<bool> flare(off.size(), false);
  // Flares between quiet visits, as evenly as it goes.
  for (int i = 0; i < flares; ++i) flare[static_cast<std::size_t>((2 * i + 1) * n / (2 * flares))] = true;
  const std::array<bool, 2> marks{kind == Kind::c3 || kind == Kind::both, kind == Kind::c4 || kind == Kind::both};
  const std::array<double, 2> median{0.30, 0.45};
  std::array<double, 2> depth{};
  for (std::size_t k = 0; k < 2; ++k) {
    do {
      depth[k] = median[k] * std::exp(0.35 * some.normal());
    } while (depth[k] < least[k] || depth[k] > 0.9);
  }
  for (std::size_t i = 0; i < off.size(); ++i) {
    if (!flare[i]) continue;
    const bool missed = some.uniform() < 0.15;
    for (std::size_t k = 0; k < 2; ++k) {
      const double moves = (k == 0 ? 0.03 : 0.045) * some.normal();
      const double falls = std::log(1.0 - std::min(0.9, depth[k] * std::exp(0.3 * some.normal())));
      off[i][k] = marks[k] && !missed ? falls : moves;
    }
  }
  auto rows = some.rows(n, off);
  for (std::size_t i = 0; i < rows.size(); ++i) {
    rows[i].flare = flare[i];
    if (some.uniform() < wrongly_marked) rows[i].flare = !flare[i];
  }
  return rows;
}

Counts tried(Kind kind, int n, int quiet, int flares, double wrongly_marked = 0.0,
             std::array<double, 2> least = {0.20, 0.30}) {
  People some(31 + static_cast<unsigned>(kind));
  Counts counts;
  for (int i = 0; i < n; ++i) {
    const labs::Marker m = labs::marker(person(some, kind, quiet, flares, wrongly_marked, least), {});
    const bool goes = m.answer == MarkerAnswer::goes;
    const bool not_one = m.answer == MarkerAnswer::does_not;
    counts.goes += goes ? 1 : 0;
    counts.does_not += not_one ? 1 : 0;
    counts.right += (kind == Kind::none ? not_one : goes) ? 1 : 0;
    counts.wrong += (kind == Kind::none ? goes : not_one) ? 1 : 0;
    counts.open += m.answer == MarkerAnswer::too_few ? 1 : 0;
  }
  return counts;
}

}  // namespace

TEST_CASE("with four flares and six quiet visits nine of ten people of each kind get the right answer") {
  constexpr int n = 1000;
  for (const Kind kind : {Kind::none, Kind::c3, Kind::c4, Kind::both}) {
    const Counts c = tried(kind, n, 6, 4);
    MESSAGE("kind " << static_cast<int>(kind) << ": right " << c.right << ", open " << c.open << ", wrong " << c.wrong);
    CHECK(c.right >= 0.90 * n);
    CHECK(c.wrong <= 0.02 * n);
  }
}

TEST_CASE("with one visit in ten marked wrongly a marker is denied to one in twenty at most") {
  constexpr int n = 1000;
  for (const Kind kind : {Kind::c3, Kind::c4, Kind::both}) {
    const Counts c = tried(kind, n, 6, 4, 0.1);
    MESSAGE("kind " << static_cast<int>(kind) << ", marked wrongly: right " << c.right << ", denied " << c.wrong);
    CHECK(c.wrong <= 0.05 * n);
  }
  // Marks that say nothing are no marker's: the answer comes from them, not from the values being low at times.
  const Counts none = tried(Kind::both, n, 6, 4, 0.5);
  MESSAGE("marks thrown: goes " << none.goes);
  CHECK(none.goes < 0.5 * n);
}

TEST_CASE("on fewer than three flares or three quiet visits it is never denied, and falls too small are left open") {
  for (const auto& [quiet, flares] : {std::pair(6, 1), std::pair(6, 2), std::pair(2, 4), std::pair(1, 6)}) {
    CHECK(tried(Kind::none, 200, quiet, flares).does_not == 0);
  }
  CHECK(tried(Kind::none, 200, 6, 1).goes == 0);
  CHECK(tried(Kind::none, 200, 3, 3).does_not > 0);
}

namespace {
labs::Marker of(const std::string& lines) {
  return labs::marker(labs::read("date,C3 (g/L),C4 (g/L),flare\n" + lines).rows, {});
}
const std::string clear =
    "2020-01-10,1.10,0.22,no\n2020-04-10,1.06,0.20,no\n2020-07-10,0.70,0.10,yes\n2020-08-01,0.72,0.11,yes\n"
    "2020-11-10,1.08,0.21,no\n2021-02-10,1.12,0.23,no\n2021-05-10,0.66,0.09,yes\n2021-09-10,1.07,0.21,no\n"
    "2022-01-10,0.74,0.12,yes\n2022-05-10,1.11,0.22,no\n";
}  // namespace

TEST_CASE("what is counted beside the answer: flares, of them below the quiet visits, and whether it came back") {
  const labs::Marker m = of(clear);
  CHECK(m.answer == MarkerAnswer::goes);
  CHECK(m.c3.flares == 3);  // two visits of one flare are one
  CHECK(m.c3.quiet == 6);
  CHECK(m.c3.clearly_low == 3);
  CHECK(m.c3.followed == 3);
  CHECK(m.c3.came_back == 3);
  CHECK_FALSE(m.more.has_value());
  CHECK(of("2020-01-10,1.10,0.22,no\n2020-04-10,1.06,0.20,no\n").answer == MarkerAnswer::unmarked);
  const labs::Marker few = of(clear.substr(0, clear.find("2020-08")));
  CHECK(few.answer == MarkerAnswer::too_few);
  CHECK(few.quiet_wanted == 1);
  REQUIRE(few.more.has_value());
  CHECK(*few.more <= 3);
  // It did not come back.
  const labs::Marker stays =
      of("2020-01-10,1.10,0.22,no\n2020-04-10,1.06,0.20,no\n2020-05-10,1.12,0.21,no\n2020-06-10,1.08,0.22,no\n"
         "2020-07-10,0.60,0.10,yes\n2020-11-10,0.70,0.21,no\n");
  CHECK(stays.c3.followed == stays.c3.clearly_low);
  CHECK(stays.c3.came_back == 0);
}

TEST_CASE("a marker's answer counts values below detection and another laboratory's constant") {
  std::string hidden = clear;
  for (const char* low : {"0.10", "0.11", "0.09", "0.12"})
    hidden.replace(hidden.find(std::string(",") + low + ",yes"), 5, ",<0.13");
  CHECK(of(hidden).answer == MarkerAnswer::goes);
  CHECK(of(hidden).c4.clearly_low == 3);
  // A limit far above says nothing.
  std::string vague = hidden;
  for (std::size_t at = 0; (at = vague.find("<0.13", at)) != std::string::npos; ++at) vague.replace(at, 5, "<0.50");
  CHECK(std::abs(of(vague).c4.log_factor) < 0.2);
  // Flares measured by a laboratory that reads lower, and its own quiet visits with them: no fall.
  const std::string moved =
      "2020-01-10,1.10,0.21,0.90-1.80,no\n2020-04-10,1.06,0.20,,no\n2020-07-10,1.12,0.22,,no\n"
      "2020-08-01,0.80,0.21,0.65-1.30,yes\n2020-11-10,0.78,0.20,,no\n2021-02-10,0.81,0.22,,no\n"
      "2021-05-10,0.79,0.20,,yes\n2021-09-10,0.80,0.21,,no\n2022-01-10,0.82,0.22,,yes\n2022-05-10,0.77,0.21,,no\n"
      "2022-09-10,0.79,0.20,,yes\n";
  const auto known = labs::marker(labs::read("date,C3 (g/L),C4 (g/L),C3 range,flare\n" + moved).rows, {});
  CHECK(known.answer == MarkerAnswer::does_not);
  CHECK(known.c3.clearly_low == 0);
}
