// The opening picture's geometry, from the account and not from pixels: with u the width of tap and opening in the
// usual state, an opening of `drain` is drain u wide, streams are in u and out u, heights are shares of usual. What the
// account itself says is held to the rates in tests/readout.
#include "panels/stage_shape.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numeric>

#include "account_of.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;
using panels::Plate;
using panels::SideNumbers;
using panels::SideShape;
using panels::StageShape;
using support::near;

namespace {

const draw::Box area{20, 30, 1100, 480};

// A plate a token: every way out is drawn apart.
std::vector<Plate> plate_for_each(const readout::Tokens& tokens) {
  std::vector<Plate> plates;
  for (std::size_t t = 0; t < tokens.size(); ++t) plates.push_back({{t}, tokens.is_tissue(t), {}});
  return plates;
}

struct Widths {
  double opening = 0, out = 0, in = 0;
};
Widths in_units(const StageShape& shape, std::size_t i) {
  const SideShape& s = shape.side[i];
  const auto u = static_cast<double>(shape.unit);
  Widths w{static_cast<double>(std::abs(s.opening_to - s.opening_from)) / u, static_cast<double>(s.ordinary.width) / u,
           static_cast<double>(s.tap_width + s.given_width) / u};
  for (const panels::Way& way : s.extra) w.out += static_cast<double>(way.width) / u;
  return w;
}

}  // namespace

TEST_CASE(
    "on every third day of every story opening, streams and levels are drawn as wide and high as the account has "
    "them") {
  std::size_t drawn = 0;
  std::size_t found = 0;  // days on which tap and drain swapped would be seen
  for (const std::string& path : support::shipped_stories()) {
    const auto run = support::run_of(scenario::read_file(path));
    const auto account = account_with(run);
    const readout::Tokens& tokens = account->tokens();
    for (double day = 0; day <= run->last_day(); day += 3.0) {
      const readout::AccountOf of[2] = {account->at(0, 24 * day), account->at(1, 24 * day)};
      const SideNumbers numbers[2] = {panels::side_numbers(tokens, of[0]), panels::side_numbers(tokens, of[1])};
      const StageShape shape = panels::shape_of(numbers[0], numbers[1], plate_for_each(tokens), area, {});
      CHECK(shape.side[0].usual_y == shape.side[1].usual_y);
      for (std::size_t i = 0; i < 2; ++i) {
        const SideShape& s = shape.side[i];
        CHECK_MESSAGE(std::abs(s.tick_to - s.tick_from) == near(shape.unit, 1e-5), path);
        if (s.opening_broken || s.tap_broken) continue;
        drawn += 1;
        const Widths w = in_units(shape, i);
        CHECK_MESSAGE(std::abs(w.opening - of[i].drain) < 1e-4, path, " day ", day);
        CHECK_MESSAGE(std::abs(w.out - of[i].out) < 1e-3, path, " day ", day);
        CHECK_MESSAGE(std::abs(w.in - of[i].in) < 1e-4, path, " day ", day);
        const double usual = static_cast<double>(s.vessel.bottom() - s.usual_y);
        const double height = static_cast<double>(s.vessel.bottom() - s.surface_y) / usual;
        const double most = static_cast<double>(panels::most_high);
        CHECK_MESSAGE(std::abs(height - std::min(of[i].against_usual, most)) < 1e-4, path, " day ", day);
        CHECK(s.above_scale == (of[i].against_usual > most));
        // Streams do not cross: what opens further in goes higher.
        for (std::size_t k = 1; k < s.extra.size(); ++k) CHECK(s.extra[k].arrives < s.extra[k - 1].arrives);
        found += std::abs(w.opening - of[i].tap) > 0.1 ? 1U : 0U;
      }
    }
  }
  CHECK(drawn > 2000);
  CHECK(found > 300);
}

TEST_CASE("over four units an opening ends in a marked break, and what is beside it keeps its width") {
  readout::Tokens tokens(*body::standard_model());
  SideNumbers n;
  n.ordinary = 0.9;
  n.extra.assign(tokens.size(), 0.0);
  n.extra[tokens.taken_out] = 20.0;
  n.extra[tokens.first_tissue] = 0.5;
  n.level = 0.5;
  const StageShape shape = panels::shape_of(n, n, plate_for_each(tokens), area, {});
  const SideShape& s = shape.side[0];
  CHECK(s.opening_broken);
  CHECK(std::abs(s.opening_to - s.opening_from) == near(4.0F * shape.unit, 1e-3));
  CHECK(s.ordinary.opening() == near(0.9F * shape.unit, 1e-4));
  std::size_t broken = 0;
  for (const panels::Way& way : s.extra) {
    broken += way.broken ? 1U : 0U;
    if (!way.broken) CHECK(way.opening() == near(0.5F * shape.unit, 1e-4));
  }
  CHECK(broken == 1);
  // Negative control: at three units nothing is broken.
  n.extra[tokens.taken_out] = 1.6;
  const StageShape whole = panels::shape_of(n, n, plate_for_each(tokens), area, {});
  CHECK_FALSE(whole.side[0].opening_broken);
  CHECK(std::abs(whole.side[0].opening_to - whole.side[0].opening_from) == near(3.0F * whole.unit, 1e-3));
}

TEST_CASE("where a level holds as much streams out as in, and where it falls more does") {
  const auto run = support::run_of(scenario::read_file(support::source_folder() + "/scenarios/02-kidney-flare.toml"));
  const auto account = account_with(run);
  const auto streams = [&](double day) {
    const SideNumbers c3 = panels::side_numbers(account->tokens(), account->at(0, 24 * day));
    const SideNumbers c4 = panels::side_numbers(account->tokens(), account->at(1, 24 * day));
    return in_units(panels::shape_of(c3, c4, plate_for_each(account->tokens()), area, {}), 0);
  };
  const Widths falling = streams(60);
  const Widths holding = streams(125);
  CHECK(falling.out - falling.in > 0.05);
  CHECK(std::abs(holding.out - holding.in) < 0.02);
  CHECK(holding.opening > 1.5);
  CHECK(streams(0).opening < 1.1);
}
