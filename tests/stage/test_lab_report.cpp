// The sheet of the last reports: what is marked and why, against counts done here.
//   own mark: |ln(value / usual)| > 1.96 sqrt(ln(1 + CVa^2 + CVi^2)) (Fokkema 2006 Clin Chem 52:1602, from memory)
#include <doctest/doctest.h>

#include <cmath>

#include "stage/lab_report.hpp"
#include "stage/lab_sample.hpp"
#include "support/near.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {
std::shared_ptr<const Run> told(const char* name) {
  return simulate(scenario::read_file(support::source_folder() + "/scenarios/" + name));
}
}  // namespace

TEST_CASE("the last six reports stand four weeks apart, the newest last, and early days have fewer") {
  const auto run = told("02-kidney-flare.toml");
  const stage::LabReport late = stage::lab_report(*run, 200, 0, run->story().laboratory);
  REQUIRE(late.days.size() == 6);
  CHECK(late.days.front() == 60);
  CHECK(late.days.back() == 200);
  CHECK(stage::lab_report(*run, 30, 0, run->story().laboratory).days.size() == 2);
  CHECK(stage::lab_report(*run, 0, 0, run->story().laboratory).days.size() == 1);
  for (const stage::LabLine& line : late.lines) CHECK(line.cells.size() == 6);
  // Each report is the sample that a sheet of its own day shows.
  for (std::size_t i = 0; i < 6; ++i) {
    CHECK(late.lines[0].cells[i].value == stage::lab_sample(*run, late.days[i], 0).c3);
  }
}

TEST_CASE("a mark against the range follows the value as it is printed, on its own side") {
  const auto run = told("02-kidney-flare.toml");
  const scenario::Interval range = run->story().laboratory.c3;
  std::size_t below = 0;
  for (unsigned number = 0; number < 50; ++number) {
    const stage::LabReport report = stage::lab_report(*run, 120, number, run->story().laboratory);
    for (const stage::LabCell& cell : report.lines[0].cells) {
      CHECK(std::abs(100.0 * cell.value - std::round(100.0 * cell.value)) < 1e-9);
      CHECK(cell.mark == (cell.value < range.low ? -1 : cell.value > range.high ? 1 : 0));
      below += cell.mark < 0 ? 1U : 0U;
    }
  }
  CHECK(below > 50);
}

TEST_CASE("a steady person is marked off the own usual in about one report in twenty, a person in a flare in most") {
  const auto steady = told("01-steady-day.toml");
  const auto marked = [](const Run& run, double day, std::size_t line) {
    std::size_t count = 0;
    for (unsigned number = 0; number < 2000; ++number) {
      count += stage::lab_report(run, day, number, run.story().laboratory).lines[line].cells.back().own != 0 ? 1U : 0U;
    }
    return count;
  };
  for (const std::size_t line : {std::size_t{0}, std::size_t{1}}) {
    const std::size_t count = marked(*steady, 1, line);
    CHECK(count > 65);  // 100 expected, standard deviation 9.7
    CHECK(count < 135);
  }
  const auto flare = told("02-kidney-flare.toml");
  CHECK(marked(*flare, 110, 0) > 1500);
  // Against twice the noise hardly anything would be marked in the steady person: the limit is not loose.
  const double value = 1.2 * std::exp(1.97 * study::log_sd(study::c3_variation));
  CHECK(stage::against_usual(value, 1.2, study::log_sd(study::c3_variation)) == 1);
  CHECK(stage::against_usual(value, 1.2, 2.0 * study::log_sd(study::c3_variation)) == 0);
  CHECK(stage::against_usual(1.44 / value, 1.2, study::log_sd(study::c3_variation)) == -1);
}
