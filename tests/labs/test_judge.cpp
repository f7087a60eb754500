// What the numbers can say. Reference change values: Fraser & Harris 1989 Crit Rev Clin Lab Sci 27:409; log-normal:
// Fokkema 2006 Clin Chem 52:1602. How often a pair exceeds them by simulation, fixed seeds. Whether a level changed is
// tested in test_change.cpp.
#include <doctest/doctest.h>

#include <cmath>
#include <random>

#include "labs/judge.hpp"
#include "support/near.hpp"

using namespace drawdown;
using labs::Protein;

namespace {

labs::Row row(int day, double c3, double c4, std::optional<bool> flare = std::nullopt) {
  labs::Row r;
  r.day = day;
  r.c3 = labs::Value{c3, false};
  r.c4 = labs::Value{c4, false};
  r.flare = flare;
  return r;
}

}  // namespace

TEST_CASE("R1 to R3: the limits of a change are the published formulae's") {
  const auto c3 = labs::change_between(1.10, 0.90, {3.0, 5.2}, labs::Noise{}.z());
  CHECK(study::reference_change_value(3.0, 5.2) == support::near(16.6, 0.005));
  CHECK(c3.log_normal.up == support::near(18.1, 0.005));
  CHECK(c3.log_normal.down == support::near(-15.3, 0.005));
  CHECK(c3.percent == support::near(-18.18, 0.001));
  CHECK(c3.beyond);
  const auto c4 = labs::change_between(0.20, 0.16, {4.0, 8.9}, labs::Noise{}.z());
  CHECK(study::reference_change_value(4.0, 8.9) == support::near(27.0, 0.005));
  CHECK(c4.log_normal.up == support::near(31.0, 0.005));
  CHECK(c4.log_normal.down == support::near(-23.6, 0.005));
  CHECK_FALSE(c4.beyond);
}

TEST_CASE("one-sided limits are narrower, and the variations can be changed") {
  labs::Noise noise;
  noise.one_sided = true;
  CHECK(study::reference_change_value(noise.c3.analytical, noise.c3.within, noise.z()) ==
        support::near(std::sqrt(2.0) * 1.6449 * 6.003, 1e-3));
  CHECK(labs::change_between(1, 1, noise.c3, noise.z()).log_normal.up < 18.0);
  noise.c3 = {1.0, 2.0};
  CHECK(labs::change_between(1.10, 1.00, noise.c3, noise.z()).beyond);
}

TEST_CASE("unchanged people exceed the two-sided limits one time in twenty") {
  std::mt19937 random(7);
  std::normal_distribution<double> normal;
  const double sd = std::sqrt(std::log(1.0 + (9.0 + 27.04) / 1e4));
  int beyond = 0;
  constexpr int pairs = 20000;
  for (int i = 0; i < pairs; ++i) {
    const double a = std::exp(sd * normal(random));
    const double b = std::exp(sd * normal(random));
    if (labs::change_between(a, b, {3.0, 5.2}, 1.959964).beyond) beyond += 1;
  }
  CHECK(beyond > 0.045 * pairs);
  CHECK(beyond < 0.055 * pairs);
}

TEST_CASE("a pair beyond its limits is a figure and no finding, a level that changed is one") {
  // Two of these follow each other by more than one pair's noise; the person's own values all lie so.
  const std::vector<labs::Row> lively{row(0, 1.20, 0.2),   row(60, 1.00, 0.2),  row(120, 1.18, 0.2),
                                      row(180, 1.05, 0.2), row(240, 1.22, 0.2), row(300, 1.10, 0.2)};
  const labs::Judgement j = labs::judge(lively, {}, {});
  CHECK(j.c3.changes[0].beyond);
  CHECK_FALSE(j.any_beyond);
  std::vector<labs::Row> fell = lively;
  fell.push_back(row(360, 0.60, 0.2));
  CHECK(labs::judge(fell, {}, {}).any_beyond);
  CHECK(labs::judge(fell, {}, {}).c3.level.standing == labs::Standing::fell);
}

TEST_CASE("below the range and within what is usual for the person is told apart from a fall below it") {
  std::vector<labs::Row> rows;
  for (int i = 0; i < 6; ++i) rows.push_back(row(60 * i, 0.80 + 0.01 * (i % 3), 0.2));
  const labs::Judgement low = labs::judge(rows, {}, {});
  CHECK(low.c3.low_but_usual);
  CHECK(low.low_now);
  CHECK_FALSE(low.any_beyond);
  CHECK_FALSE(low.c4.low_but_usual);
  for (labs::Row& one : rows) one.c3->value += 0.4;
  rows.push_back(row(400, 0.80, 0.2));
  const labs::Judgement fell = labs::judge(rows, {}, {});
  CHECK_FALSE(fell.c3.low_but_usual);
  CHECK(fell.any_beyond);
}

TEST_CASE("the pattern of the pair is the last sample's, each value in its own laboratory's interval") {
  const scenario::Laboratory lab;
  CHECK(labs::judge({row(0, 1.2, 0.2), row(9, 0.7, 0.05)}, {}, lab).pattern == labs::Pattern::both);
  CHECK(labs::judge({row(0, 0.7, 0.2)}, {}, lab).pattern == labs::Pattern::c3_only);
  CHECK(labs::judge({row(0, 1.2, 0.05)}, {}, lab).pattern == labs::Pattern::c4_only);
  CHECK(labs::judge({row(0, 0.7, 0.05), row(9, 1.2, 0.2)}, {}, lab).pattern == labs::Pattern::neither);
  labs::Row own = row(0, 0.80, 0.2);
  own.c3_range = scenario::Interval{0.75, 1.60};
  CHECK(labs::judge({own}, {}, lab).pattern == labs::Pattern::neither);
  CHECK(labs::judge({row(0, 0.80, 0.2)}, {}, lab).pattern == labs::Pattern::c3_only);
}

TEST_CASE("a value below detection is at least so low: a fall to it counts, what may have gone either way does not") {
  labs::Row low = row(60, 0.9, 0.05);
  low.c4->below = true;
  const auto falls = labs::judge({row(0, 0.9, 0.20), low}, {}, {});
  REQUIRE(falls.c4.changes.size() == 1);
  CHECK(falls.c4.changes[0].at_least);
  CHECK(falls.c4.changes[0].beyond);
  labs::Row also = low;
  also.day = 90;
  CHECK(labs::judge({low, also}, {}, {}).c4.changes.empty());
  labs::Row lower = row(90, 0.9, 0.03);
  CHECK(labs::judge({low, lower}, {}, {}).c4.changes.empty());
}

TEST_CASE("two results of one day are told as such and make no change") {
  const auto j = labs::judge({row(0, 1.20, 0.2), row(0, 0.80, 0.2), row(60, 0.82, 0.2)}, {}, {});
  REQUIRE(j.c3.twice.size() == 1);
  CHECK(j.c4.twice.empty());    // the same figure
  CHECK(j.c3.changes.empty());  // nothing is compared with a day whose results disagree
  REQUIRE(j.c4.changes.size() == 1);
  CHECK(j.c4.changes[0].from == 1);
  CHECK(j.c3.twice[0].beyond);  // they differ by more than noise: that is to be looked at
  CHECK(j.any_beyond);
  CHECK_FALSE(labs::judge({row(0, 0.84, 0.2), row(0, 0.80, 0.2), row(60, 0.82, 0.2)}, {}, {}).any_beyond);
}

TEST_CASE("a limit inside the range leaves the pair's pattern unclear") {
  labs::Row vague = row(0, 1.2, 0.2);
  vague.c3->below = true;
  const auto j = labs::judge({vague}, {}, {});
  CHECK(j.pattern == labs::Pattern::unclear);
  CHECK(j.pattern_of == 0U);
}

TEST_CASE("one person's C3 and C4 fill only a part of the interval: the index of individuality is below 0.6") {
  const auto j = labs::judge({row(0, 1.2, 0.2)}, {}, {});
  CHECK(j.c3.individuality == support::near(6.003 / 15.6, 1e-3));
  CHECK(j.c4.individuality == support::near(9.757 / 33.4, 1e-3));
}
