// Did the level change by more than noise? Known changes and known sameness; invented values in g/L. The interval of a
// further value is Student's t as in any textbook, its figure here integrated apart. How often unchanged people
// are told a change stands in test_nobody_changed.cpp.
#include <doctest/doctest.h>

#include <cmath>

#include "labs/change.hpp"
#include "labs/read.hpp"
#include "support/near.hpp"

using namespace drawdown;
using labs::LevelChange;
using labs::Protein;
using labs::Standing;
using support::near;

namespace {

// "1.10 1.12 <0.90 ..." two months apart; each may have ",yes" or ",no" (flare) and a treatment after a second comma.
std::vector<labs::Row> rows(const std::vector<std::string>& cells, const std::vector<std::string>& ranges = {}) {
  std::string text = "date,C3 (g/L),flare,treatment,C3 range\n";
  for (std::size_t i = 0; i < cells.size(); ++i) {
    std::string cell = cells[i];
    for (auto commas = std::count(cell.begin(), cell.end(), ','); commas < 2; ++commas) cell += ',';
    text += std::to_string(2015 + i / 6) + "-" + (2 * (i % 6) + 1 < 10 ? "0" : "") + std::to_string(2 * (i % 6) + 1) +
            "-10," + cell + "," + (i < ranges.size() ? ranges[i] : "") + "\n";
  }
  return labs::read(text).rows;
}
LevelChange c3(const std::vector<std::string>& cells, const std::vector<std::string>& ranges = {}) {
  return labs::level_change(rows(cells, ranges), Protein::c3, {});
}
const std::vector<std::string> steady{"1.10", "1.14", "1.06", "1.12", "1.08", "1.11", "1.09", "1.13"};
std::vector<std::string> with(std::vector<std::string> cells, const std::vector<std::string>& more) {
  cells.insert(cells.end(), more.begin(), more.end());
  return cells;
}

}  // namespace

TEST_CASE("the usual level and where a further value lies are Student's t by the stated formula") {
  const LevelChange of = c3({"1.00", "1.10", "1.20", "1.10"});
  REQUIRE(of.usual.has_value());
  CHECK(of.usual->values == 3);
  const std::array<double, 3> y{std::log(1.0), std::log(1.1), std::log(1.2)};
  const double mean = (y[0] + y[1] + y[2]) / 3.0;
  double squares = 0.0;
  for (const double v : y) squares += (v - mean) * (v - mean);
  const double level = std::exp((y[0] + y[1] + y[2] + std::log(1.1)) / 4.0);
  // 0.06003^2 = 0.03^2 + 0.052^2, and rounding to 0.01.
  const double known = 0.85 * std::log(1.0 + 0.03 * 0.03 + 0.052 * 0.052) + std::pow(0.01 / std::sqrt(12.0) / level, 2);
  // t above which 0.35 % of the distribution with 8.5 degrees of freedom lies: its density integrated by Simpson's
  // rule.
  const double half = 3.531819 * std::sqrt((6.5 * known + squares) / 8.5 * (1.0 + 1.0 / 3.0));
  CHECK(of.usual->level == near(std::exp(mean), 1e-9));
  CHECK(of.usual->low == near(std::exp(mean - half), 1e-6));
  CHECK(of.usual->high == near(std::exp(mean + half), 1e-6));
  CHECK(of.standing == Standing::within);
  CHECK(of.last_percent == near(100.0 * (1.1 / std::exp(mean) - 1.0), 1e-6));
}

TEST_CASE("fewer than three other values are too few to know the usual level, whatever the last one is") {
  CHECK(c3({"1.10"}).standing == Standing::too_few);
  CHECK(c3({"1.10", "1.12", "0.40"}).standing == Standing::too_few);
  CHECK_FALSE(c3({"1.10", "1.12", "0.40"}).found());
  CHECK(c3({"1.10", "1.12", "1.08", "0.40"}).standing == Standing::fell);
  CHECK(labs::level_change({}, Protein::c3, {}).standing == Standing::none);
}

TEST_CASE("a fall or a rise of the last value is found with its size, and a steady file has nothing") {
  CHECK_FALSE(c3(steady).found());
  CHECK(c3(steady).standing == Standing::within);
  const LevelChange fell = c3(with(steady, {"0.77"}));
  CHECK(fell.standing == Standing::fell);
  CHECK(fell.last_percent == near(-30.0, 0.02));
  CHECK(fell.usual->values == 8);
  CHECK(c3(with(steady, {"1.60"})).standing == Standing::rose);
  CHECK_FALSE(c3(with(steady, {"1.04"})).found());
}

TEST_CASE("a step that stays is found with the visit it begins at, and a value apart with its own") {
  const LevelChange step = c3({"1.10", "1.14", "1.06", "1.12", "1.08", "0.90", "0.88", "0.92", "0.89", "0.91"});
  REQUIRE(step.step.has_value());
  CHECK(step.step->row == 5);
  CHECK(step.step->way == labs::Way::fell);
  CHECK(step.step->percent == near(-18.2, 0.03));
  CHECK(step.standing == Standing::within);
  const LevelChange apart = c3({"1.10", "1.14", "0.62", "1.12", "1.08", "1.11", "1.09", "1.13"});
  REQUIRE(apart.earlier.size() == 1);
  CHECK(apart.earlier[0].row == 2);
  CHECK(apart.earlier[0].way == labs::Way::fell);
  CHECK(apart.standing == Standing::within);
  CHECK_FALSE(apart.step.has_value());
}

TEST_CASE("flares are left out of the usual level and are held against it, and so are visits under treatment") {
  const LevelChange of =
      c3({"1.10,no", "1.14,no", "0.60,yes", "1.06,no", "0.65,yes", "1.12,no", "1.08,no,drug", "1.05", "1.10,no"});
  CHECK(of.series.flares == 2);
  CHECK(of.series.treated == 1);
  CHECK(of.series.unmarked == 1);
  CHECK(of.usual->values == 4);
  CHECK(of.usual->level == near(1.105, 0.003));
  CHECK(of.standing == Standing::within);
  REQUIRE(of.earlier.size() == 2);
  CHECK(of.earlier[0].row == 2);
  CHECK(of.earlier[1].row == 4);
  // Not marked, the same flares widen what is usual.
  const LevelChange unmarked = c3({"1.10", "1.14", "0.60", "1.06", "0.65", "1.12", "1.08", "1.05", "1.10"});
  CHECK(unmarked.usual->low < 0.75 * of.usual->low);
  // Who is treated at every visit has a usual level under treatment.
  const LevelChange always = c3({"1.10,,d", "1.14,,d", "1.06,,d", "1.12,,d", "1.08,,d"});
  CHECK(always.series.all_treated);
  CHECK(always.usual->values == 4);
  CHECK(always.standing == Standing::within);
}

TEST_CASE("another laboratory's constant is no change, without its range it is, and its first value cannot be judged") {
  const std::vector<std::string> shifted{"1.10", "1.14", "1.06", "1.12", "1.08",
                                         "1.36", "1.40", "1.33", "1.38", "1.35"};
  std::vector<std::string> ranges(10, "0.90-1.80");
  for (std::size_t i = 5; i < 10; ++i) ranges[i] = "1.00-2.10";
  const LevelChange known = c3(shifted, ranges);
  CHECK(known.series.laboratories == 2);
  CHECK_FALSE(known.found());
  CHECK(known.usual->values == 9);
  CHECK(known.usual->level == near(1.365, 0.01));
  CHECK(c3(shifted).step.has_value());
  // A blank range is the one before it.
  std::vector<std::string> named(10);
  named[0] = "0.90-1.80";
  named[5] = "1.00-2.10";
  CHECK_FALSE(c3(shifted, named).found());
  // Each laboratory costs a degree of freedom.
  CHECK(std::log(known.usual->high / known.usual->low) >
        std::log(c3({"1.36", "1.40", "1.33", "1.38", "1.35"}).usual->high / 1.70));
  std::vector<std::string> first{"1.10", "1.14", "1.06", "1.12", "0.60"};
  CHECK(c3(first, {"0.90-1.80", "", "", "", "1.00-2.10"}).standing == Standing::new_laboratory);
  CHECK(c3(first).standing == Standing::fell);
  // A fall within the new laboratory is found beside the shift.
  CHECK(c3(with(shifted, {"0.90"}), ranges).standing == Standing::fell);
}

TEST_CASE("a value below detection is a fall only if its limit is one, and among the others it is no number") {
  const LevelChange far = c3(with(steady, {"<0.50"}));
  CHECK(far.standing == Standing::fell);
  CHECK(far.last_at_least);
  CHECK(c3(with(steady, {"<1.05"})).standing == Standing::open);
  CHECK_FALSE(c3(with(steady, {"<3.00"})).found());
  // Beside values that are sometimes under the limit a further one under it is usual.
  const LevelChange beside = c3({"0.10", "<0.09", "0.11", "0.09", "<0.09", "0.10", "0.10", "<0.09"});
  CHECK(beside.standing == Standing::within);
  CHECK(beside.usual->level < 0.10);
  CHECK(beside.usual->level > 0.085);
  CHECK(beside.below_detection == 3);
  CHECK_FALSE(beside.found());
  // From under the limit to far above it is a rise.
  CHECK(c3({"0.10", "<0.09", "0.11", "0.09", "<0.09", "0.10", "0.10", "0.30"}).standing == Standing::rose);
  // Nothing but limits: nobody knows, however the limits change.
  for (const auto& limits : {std::vector<std::string>{"<0.02", "<0.05", "<0.10", "<0.20", "<0.20"},
                             {"<0.20", "<0.10", "<0.05", "<0.02", "<0.02"},
                             {"0.03", "<0.05", "<0.10", "<0.20", "<0.20"}}) {
    CHECK(c3(limits).standing == Standing::hidden);
    CHECK_FALSE(c3(limits).found());
  }
  // A level that goes under the limit and stays there is a step, told as at least so far.
  const LevelChange step = c3({"0.30", "0.28", "0.31", "0.29", "<0.15", "<0.15", "<0.15", "<0.15"});
  REQUIRE(step.step.has_value());
  CHECK(step.step->at_least);
  CHECK(step.step->row == 4);
  CHECK_FALSE(c3({"0.30", "0.28", "0.31", "0.29", "<0.29", "<0.29", "<0.29", "<0.29"}).step.has_value());
}

TEST_CASE("two results of one day are one visit, and a day whose results disagree is none") {
  labs::Row again;
  auto all = rows(steady);
  again = all.back();
  again.c3->value = 1.09;
  all.push_back(again);
  CHECK(labs::level_change(all, Protein::c3, {}).visits == 8);
  all.back().c3->value = 0.60;
  const LevelChange disputed = labs::level_change(all, Protein::c3, {});
  CHECK(disputed.visits == 7);
  CHECK(disputed.series.disputed == 1);
  CHECK(disputed.standing == Standing::disputed);
  CHECK_FALSE(disputed.found());
}
