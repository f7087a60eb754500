// What the numbers can say. Reference change values: Fraser & Harris 1989 Crit Rev Clin Lab Sci 27:409; log-normal:
// Fokkema 2006 Clin Chem 52:1602. Trend: Student's t as in any textbook of regression; SciPy 1.10's linregress and t
// gave the figures for the flat prior. Coverage by simulation, fixed seeds.
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
  CHECK(c3.symmetric == support::near(16.6, 0.005));
  CHECK(c3.log_normal.up == support::near(18.1, 0.005));
  CHECK(c3.log_normal.down == support::near(-15.3, 0.005));
  CHECK(c3.percent == support::near(-18.18, 0.001));
  CHECK(c3.beyond);
  const auto c4 = labs::change_between(0.20, 0.16, {4.0, 8.9}, labs::Noise{}.z());
  CHECK(c4.symmetric == support::near(27.0, 0.005));
  CHECK(c4.log_normal.up == support::near(31.0, 0.005));
  CHECK(c4.log_normal.down == support::near(-23.6, 0.005));
  CHECK_FALSE(c4.beyond);
}

TEST_CASE("one-sided limits are narrower, and the variations can be changed") {
  labs::Noise noise;
  noise.one_sided = true;
  CHECK(labs::change_between(1, 1, noise.c3, noise.z()).symmetric ==
        support::near(std::sqrt(2.0) * 1.6449 * 6.003, 1e-3));
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

TEST_CASE("the usual level is the middle of quiet values, untouched by one that is out, with its uncertainty") {
  std::vector<labs::Row> rows{row(0, 1.10, 0.20, false),   row(90, 1.12, 0.21, false),  row(180, 0.55, 0.05, true),
                              row(270, 1.08, 0.19, false), row(360, 1.11, 0.20, false), row(450, 0.60, 0.20, false)};
  const labs::Usual usual = labs::usual_level(rows, Protein::c3, {});
  CHECK(usual.values == 5);
  CHECK(usual.quiet_is_known);
  REQUIRE(usual.level.has_value());
  CHECK(*usual.level == doctest::Approx(1.10));
  CHECK(usual.low < 1.06);
  CHECK(usual.high > 1.14);
  rows.resize(3);
  CHECK_FALSE_MESSAGE(labs::usual_level(rows, Protein::c3, {}).level.has_value(), "two quiet values are too few");
}

TEST_CASE("the usual level's interval holds the truth 19 times in 20") {
  std::mt19937 random(11);
  std::normal_distribution<double> normal;
  const double sd = std::sqrt(std::log(1.0 + (9.0 + 27.04) / 1e4));
  int held = 0;
  constexpr int people = 4000;
  for (int i = 0; i < people; ++i) {
    std::vector<labs::Row> rows;
    for (int k = 0; k < 7; ++k) rows.push_back(row(90 * k, 1.2 * std::exp(sd * normal(random)), 0.2, false));
    const labs::Usual u = labs::usual_level(rows, Protein::c3, {});
    if (u.low < 1.2 && 1.2 < u.high) held += 1;
  }
  CHECK(held > 0.93 * people);
  CHECK(held < 0.98 * people);
}

TEST_CASE("the trend with a flat prior is Student's, with the known noise it does not believe three values on a line") {
  // days 0 30 60 90 120, C3 1.20 1.15 1.16 1.05 1.02; SciPy: slope of ln -0.00138670, s.e. 0.00028181, t(3).
  const std::vector<labs::Row> rows{row(0, 1.20, 0.2), row(30, 1.15, 0.2), row(60, 1.16, 0.2), row(90, 1.05, 0.2),
                                    row(120, 1.02, 0.2)};
  const auto flat = labs::trend(rows, Protein::c3, {}, 0.0);
  REQUIRE(flat.has_value());
  const auto percent = [](double per_day) { return 100.0 * (std::exp(30.44 * per_day) - 1.0); };
  CHECK(flat->percent_a_month == support::near(percent(-0.00138670), 1e-3));
  CHECK(flat->low == support::near(percent(-0.00138670 - 3.182446 * 0.00028181), 1e-3));
  CHECK(flat->high == support::near(percent(-0.00138670 + 3.182446 * 0.00028181), 1e-3));
  const std::vector<labs::Row> line{row(0, 1.20, 0.2), row(30, 1.19, 0.2), row(60, 1.18, 0.2)};
  CHECK_MESSAGE(labs::trend(line, Protein::c3, {}, 0.0)->falling(),
                "by themselves three values on a line look certain");
  CHECK_FALSE(labs::trend(line, Protein::c3, {})->falling());
  CHECK_FALSE(labs::trend({row(0, 1.2, 0.2), row(9, 1.1, 0.2), row(20, 1.0, 0.2)}, Protein::c3, {}).has_value());
}

TEST_CASE("steady people show a trend about one time in twenty or less") {
  std::mt19937 random(13);
  std::normal_distribution<double> normal;
  const double sd = std::sqrt(std::log(1.0 + (9.0 + 27.04) / 1e4));
  int called = 0;
  constexpr int people = 4000;
  for (int i = 0; i < people; ++i) {
    std::vector<labs::Row> rows;
    for (int k = 0; k < 6; ++k) rows.push_back(row(60 * k, 1.2 * std::exp(sd * normal(random)), 0.2));
    const auto t = labs::trend(rows, Protein::c3, {});
    if (t->falling() || t->rising()) called += 1;
  }
  CHECK(called < 0.06 * people);
  CHECK(called > 0.02 * people);
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

TEST_CASE("a limit inside the range leaves the pair's pattern unclear, and too many of them hide the usual level") {
  labs::Row vague = row(0, 1.2, 0.2);
  vague.c3->below = true;
  const auto j = labs::judge({vague}, {}, {});
  CHECK(j.pattern == labs::Pattern::unclear);
  CHECK(j.pattern_of == 0U);
  std::vector<labs::Row> rows;
  for (int i = 0; i < 4; ++i) {
    rows.push_back(row(90 * i, 1.1, 0.05));
    rows.back().c4->below = true;
  }
  const auto hidden = labs::judge(rows, {}, {});
  CHECK(hidden.c4.usual.hidden);
  CHECK(hidden.c4.usual.values == 4);
  CHECK_FALSE(hidden.c3.usual.hidden);
}

TEST_CASE("one person's C3 and C4 fill only a part of the interval: the index of individuality is below 0.6") {
  const auto j = labs::judge({row(0, 1.2, 0.2)}, {}, {});
  CHECK(j.c3.individuality == support::near(6.003 / 15.6, 1e-3));
  CHECK(j.c4.individuality == support::near(9.757 / 33.4, 1e-3));
}
