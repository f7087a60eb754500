// Convergence order by halving a fixed step: order = log2(error(h) / error(h/2)).
#include <doctest/doctest.h>

#include <boost/numeric/odeint/stepper/rosenbrock4.hpp>

#include "solve/problems.hpp"
#include "solve/rodas.hpp"
#include "support/near.hpp"

using namespace drawdown;
using solve::Method;

namespace {

double end_error(const solve::System& system, double start, double answer, double t1, double step, Method method) {
  solve::Options options;
  options.method = method;
  options.fixed_step = step;
  solve::Course course(1);
  REQUIRE(solve::solve(system, {start}, 0.0, t1, options, course).status == solve::Status::ok);
  return std::abs(course.value(0, t1) - answer);
}

}  // namespace

TEST_CASE("order 4 on an autonomous nonlinear problem, our stepper and odeint's") {
  const auto problem = support::logistic();
  for (const Method method : {Method::sparse, Method::dense_reference}) {
    const double coarse = end_error(problem, 0.1, support::logistic_answer(4.0), 4.0, 0.25, method);
    const double fine = end_error(problem, 0.1, support::logistic_answer(4.0), 4.0, 0.125, method);
    const double order = std::log2(coarse / fine);
    CHECK(order > 3.7);
    CHECK(order < 4.8);
  }
}

TEST_CASE("order 4 where the right side depends on time (Prothero-Robinson, not stiff)") {
  // With the sign that Boost 1.74 gives d4 the order here is 1: this is the test of the corrected coefficient.
  const auto problem = support::prothero_robinson(-1.0);
  for (const Method method : {Method::sparse, Method::dense_reference}) {
    const double coarse = end_error(problem, 0.0, std::sin(3.0), 3.0, 0.2, method);
    const double fine = end_error(problem, 0.0, std::sin(3.0), 3.0, 0.1, method);
    CHECK(std::log2(coarse / fine) > 3.6);
  }
}

TEST_CASE("a stiff Prothero-Robinson problem keeps a small error and at least order 2") {
  const auto problem = support::prothero_robinson(-1e6);
  const double coarse = end_error(problem, 0.0, std::sin(3.0), 3.0, 0.2, Method::sparse);
  const double fine = end_error(problem, 0.0, std::sin(3.0), 3.0, 0.1, Method::sparse);
  CHECK(coarse < 1e-4);
  CHECK(std::log2(coarse / fine) > 1.8);
}

TEST_CASE("dense output is of order 3 or better between the steps") {
  const auto problem = support::logistic();
  const auto worst = [&](double step) {
    solve::Options options;
    options.fixed_step = step;
    solve::Course course(1);
    REQUIRE(solve::solve(problem, {0.1}, 0.0, 4.0, options, course).status == solve::Status::ok);
    double error = 0.0;
    for (double t = 0.0; t <= 4.0; t += 0.01)
      error = std::max(error, std::abs(course.value(0, t) - support::logistic_answer(t)));
    return error;
  };
  CHECK(std::log2(worst(0.25) / worst(0.125)) > 2.8);
}

TEST_CASE("a ramp given as a time derivative equals the same ramp as an extra state") {
  // y' = u y (1 - y), u = 0.5 + 0.2 t: once with u inside the function, once as a second state with slope 0.2. The two
  // forms of a Rosenbrock method are the same in exact arithmetic.
  const support::Problem inside(
      1, [](double t, const double* y, double* f) { f[0] = (0.5 + 0.2 * t) * y[0] * (1.0 - y[0]); },
      [](double t, const double* y, double* j, double* dfdt) {
        j[0] = (0.5 + 0.2 * t) * (1.0 - 2.0 * y[0]);
        dfdt[0] = 0.2 * y[0] * (1.0 - y[0]);
      });
  const support::Problem extra(
      2,
      [](double, const double* y, double* f) {
        f[0] = y[1] * y[0] * (1.0 - y[0]);
        f[1] = 0.2;
      },
      [](double, const double* y, double* j, double* dfdt) {
        j[0] = y[1] * (1.0 - 2.0 * y[0]);
        j[1] = y[0] * (1.0 - y[0]);
        j[2] = j[3] = 0.0;
        dfdt[0] = dfdt[1] = 0.0;
      });
  solve::Options options;
  options.fixed_step = 0.3;
  solve::Course one(1);
  solve::Course two(2);
  REQUIRE(solve::solve(inside, {0.1}, 0.0, 6.0, options, one).status == solve::Status::ok);
  REQUIRE(solve::solve(extra, {0.1, 0.5}, 0.0, 6.0, options, two).status == solve::Status::ok);
  for (double t = 0.3; t <= 6.0; t += 0.3) CHECK(one.value(0, t) == support::near(two.value(0, t), 1e-12));
}

TEST_CASE("step by step our sparse stepper equals odeint's dense one, dense output included") {
  const auto problem = support::robertson();
  for (const double step : {1e-6, 1e-5, 1e-4}) {
    solve::Options options;
    options.fixed_step = step;
    solve::Course ours(3);
    solve::Course theirs(3);
    REQUIRE(solve::solve(problem, {1.0, 0.0, 0.0}, 0.0, 20 * step, options, ours).status == solve::Status::ok);
    options.method = Method::dense_reference;
    REQUIRE(solve::solve(problem, {1.0, 0.0, 0.0}, 0.0, 20 * step, options, theirs).status == solve::Status::ok);
    REQUIRE(ours.step_count() == theirs.step_count());
    for (double s = 0.1; s < 20.0; s += 0.37) {
      for (std::size_t i = 0; i < 3; ++i) {
        CHECK(ours.value(i, s * step) == support::near(theirs.value(i, s * step), 1e-9));
      }
    }
  }
}

TEST_CASE("the method's coefficients are odeint's, but for d4, whose sign is turned") {
  // d4 = -0.0362 is Hairer & Wanner's; odeint (Boost 1.74) has +0.0362.
  const boost::numeric::odeint::default_rosenbrock_coefficients<double> theirs;
  using Ours = solve::RodasCoefficients;
  CHECK(Ours::gamma == theirs.gamma);
  CHECK(Ours::d1 == theirs.d1);
  CHECK(Ours::d2 == theirs.d2);
  CHECK(Ours::d3 == theirs.d3);
  CHECK(Ours::c2 == theirs.c2);
  CHECK(Ours::c3 == theirs.c3);
  CHECK(Ours::c4 == theirs.c4);
  CHECK(Ours::c21 == theirs.c21);
  CHECK(Ours::a21 == theirs.a21);
  CHECK(Ours::c31 == theirs.c31);
  CHECK(Ours::c32 == theirs.c32);
  CHECK(Ours::a31 == theirs.a31);
  CHECK(Ours::a32 == theirs.a32);
  CHECK(Ours::c41 == theirs.c41);
  CHECK(Ours::c42 == theirs.c42);
  CHECK(Ours::c43 == theirs.c43);
  CHECK(Ours::a41 == theirs.a41);
  CHECK(Ours::a42 == theirs.a42);
  CHECK(Ours::a43 == theirs.a43);
  CHECK(Ours::c51 == theirs.c51);
  CHECK(Ours::c52 == theirs.c52);
  CHECK(Ours::c53 == theirs.c53);
  CHECK(Ours::c54 == theirs.c54);
  CHECK(Ours::a51 == theirs.a51);
  CHECK(Ours::a52 == theirs.a52);
  CHECK(Ours::a53 == theirs.a53);
  CHECK(Ours::a54 == theirs.a54);
  CHECK(Ours::c61 == theirs.c61);
  CHECK(Ours::c62 == theirs.c62);
  CHECK(Ours::c63 == theirs.c63);
  CHECK(Ours::c64 == theirs.c64);
  CHECK(Ours::c65 == theirs.c65);
  CHECK(Ours::d21 == theirs.d21);
  CHECK(Ours::d22 == theirs.d22);
  CHECK(Ours::d23 == theirs.d23);
  CHECK(Ours::d24 == theirs.d24);
  CHECK(Ours::d25 == theirs.d25);
  CHECK(Ours::d31 == theirs.d31);
  CHECK(Ours::d32 == theirs.d32);
  CHECK(Ours::d33 == theirs.d33);
  CHECK(Ours::d34 == theirs.d34);
  CHECK(Ours::d35 == theirs.d35);
  CHECK(Ours::d4 == -theirs.d4);
}
