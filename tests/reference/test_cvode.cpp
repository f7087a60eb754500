// SUNDIALS CVODE (BDF, dense) at 1e-10 on every shipped story, segment by segment, from our own settled day 0:
// another method and library for the integration; the right-hand side and its Jacobian are ours.
// Every readout of ours at the shipped tolerance agrees within 1e-4 of its own course maximum.
#include <doctest/doctest.h>

#include <cmath>

#include "bench/cvode_year.hpp"
#include "support/stories.hpp"

using namespace drawdown;

TEST_CASE("every readout of every shipped story agrees with CVODE at 1e-10 within 1e-4 of its course maximum") {
  for (const std::string& path : support::shipped_stories()) {
    const auto story = scenario::read_file(path);
    const auto body = body::make_body(story.patient);
    const auto run = simulate(body, story);
    REQUIRE(run->complete());
    const scenario::Timeline timeline(story);
    network::Bound<double> bound = body->bound();
    bench::CvodeYear cvode(bound, bench::Linear::dense);
    const std::vector<double> atol = body->options(1e-10).atol;
    std::vector<double> x = run->state(0.0);
    std::vector<double> days;
    std::vector<std::vector<double>> states;
    for (const solve::Segment& segment : timeline.segments()) {
      bound.bind(segment.values, segment.slopes, segment.start);
      std::vector<double> hours;
      for (double day = std::floor(segment.start / 24) + 1; day * 24 < segment.end; day += 1) hours.push_back(24 * day);
      hours.push_back(segment.end);
      const auto part = cvode.run(x, segment.start, hours, 1e-10, atol);
      for (std::size_t i = 0; i < hours.size(); ++i) {
        days.push_back(hours[i] / 24);
        states.push_back(part[i]);
      }
      x = part.back();
    }
    using Readout = double readout::Serum::*;
    for (const Readout r : {&readout::Serum::c3,       &readout::Serum::c4,           &readout::Serum::c1q,
                            &readout::Serum::c2,       &readout::Serum::factor_b,     &readout::Serum::factor_h,
                            &readout::Serum::factor_i, &readout::Serum::c1_inhibitor, &readout::Serum::c5,
                            &readout::Serum::c9,       &readout::Serum::c4d,          &readout::Serum::c3d,
                            &readout::Serum::c3a,      &readout::Serum::bb,           &readout::Serum::c5a,
                            &readout::Serum::sc5b9,    &readout::Serum::ch50,         &readout::Serum::ah50,
                            &readout::Serum::antibody, &readout::Serum::crp,          &readout::Serum::urine_protein}) {
      double most = 1e-300;
      double worst = 0.0;
      double worst_day = 0.0;
      for (std::size_t i = 0; i < days.size(); ++i) {
        const auto reference = readout::in_blood(*body, states[i], timeline.levers_at(days[i]));
        const auto ours = run->serum(days[i]);
        most = std::max(most, std::abs(reference.*r));
        if (std::abs(ours.*r - reference.*r) > worst) {
          worst = std::abs(ours.*r - reference.*r);
          worst_day = days[i];
        }
      }
      CHECK_MESSAGE(worst <= 1e-4 * most, path, " day ", worst_day, ": off by ", worst / most, " of its maximum ",
                    most);
    }
  }
}
