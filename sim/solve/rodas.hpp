// One step of the Rosenbrock method RODAS (order 4, embedded order 3; Hairer & Wanner, Solving Ordinary Differential
// Equations II, 2nd edition, section IV.7), on any number type V. Coefficients after the program RODAS of that book, in
// its transformed form; a test holds them to odeint's, but for d4, whose sign is wrong there.
#pragma once

#include <cstddef>
#include <vector>

namespace drawdown::solve {

struct RodasCoefficients {
  static constexpr double gamma = 0.25;
  static constexpr double d1 = 0.25, d2 = -0.1043, d3 = 0.1035, d4 = -0.3620000000000023e-01;
  static constexpr double c2 = 0.386, c3 = 0.21, c4 = 0.63;
  static constexpr double a21 = 0.1544000000000000e+01;
  static constexpr double a31 = 0.9466785280815826e+00, a32 = 0.2557011698983284e+00;
  static constexpr double a41 = 0.3314825187068521e+01, a42 = 0.2896124015972201e+01, a43 = 0.9986419139977817e+00;
  static constexpr double a51 = 0.1221224509226641e+01, a52 = 0.6019134481288629e+01, a53 = 0.1253708332932087e+02,
                          a54 = -0.6878860361058950e+00;
  static constexpr double c21 = -0.5668800000000000e+01;
  static constexpr double c31 = -0.2430093356833875e+01, c32 = -0.2063599157091915e+00;
  static constexpr double c41 = -0.1073529058151375e+00, c42 = -0.9594562251023355e+01, c43 = -0.2047028614809616e+02;
  static constexpr double c51 = 0.7496443313967647e+01, c52 = -0.1024680431464352e+02, c53 = -0.3399990352819905e+02,
                          c54 = 0.1170890893206160e+02;
  static constexpr double c61 = 0.8083246795921522e+01, c62 = -0.7981132988064893e+01, c63 = -0.3152159432874371e+02,
                          c64 = 0.1631930543123136e+02, c65 = -0.6058818238834054e+01;
  static constexpr double d21 = 0.1012623508344586e+02, d22 = -0.7487995877610167e+01, d23 = -0.3480091861555747e+02,
                          d24 = -0.7992771707568823e+01, d25 = 0.1025137723295662e+01;
  static constexpr double d31 = -0.6762803392801253e+00, d32 = 0.6087714651680015e+01, d33 = 0.1643084320892478e+02,
                          d34 = 0.2476722511418386e+02, d35 = -0.6594389125716872e+01;
};

// The stages of a step, kept for its dense output.
template <class V>
class RodasStages {
 public:
  explicit RodasStages(std::size_t size) {
    for (auto* v : {&fresh_, &g1_, &g2_, &g3_, &g4_, &g5_}) v->assign(size, V(0.0));
  }

  // From x at t over dt to xout, with the estimated error. `slope` and `dfdt` are the derivative and its explicit time
  // derivative at the start; `ramps` is false where dfdt is zero throughout. derivative(t, x, dxdt) is called five
  // times, solve(b) six times: b becomes (1 / (gamma dt) - J)^-1 b. Times are doubles or, where each lane has its own,
  // V.
  template <class Time, class Derivative, class Solve>
  void step(const V* x, const Time& t, const Time& dt, const V* slope, const V* dfdt, bool ramps, V* xout, V* error,
            V* inner, const Derivative& derivative, const Solve& solve) {
    using C = RodasCoefficients;
    const std::size_t n = g1_.size();
    const Time r = 1.0 / dt;
    const auto ramp = [&](std::vector<V>& g, double d) {
      if (!ramps) return;
      for (std::size_t i = 0; i < n; ++i) g[i] = g[i] + (dt * d) * dfdt[i];
    };
    for (std::size_t i = 0; i < n; ++i) g1_[i] = slope[i];
    ramp(g1_, C::d1);
    solve(g1_.data());
    for (std::size_t i = 0; i < n; ++i) inner[i] = x[i] + C::a21 * g1_[i];
    derivative(t + C::c2 * dt, inner, fresh_.data());
    for (std::size_t i = 0; i < n; ++i) g2_[i] = fresh_[i] + (r * C::c21) * g1_[i];
    ramp(g2_, C::d2);
    solve(g2_.data());
    for (std::size_t i = 0; i < n; ++i) inner[i] = x[i] + C::a31 * g1_[i] + C::a32 * g2_[i];
    derivative(t + C::c3 * dt, inner, fresh_.data());
    for (std::size_t i = 0; i < n; ++i) g3_[i] = fresh_[i] + r * (C::c31 * g1_[i] + C::c32 * g2_[i]);
    ramp(g3_, C::d3);
    solve(g3_.data());
    for (std::size_t i = 0; i < n; ++i) inner[i] = x[i] + C::a41 * g1_[i] + C::a42 * g2_[i] + C::a43 * g3_[i];
    derivative(t + C::c4 * dt, inner, fresh_.data());
    for (std::size_t i = 0; i < n; ++i) {
      g4_[i] = fresh_[i] + r * (C::c41 * g1_[i] + C::c42 * g2_[i] + C::c43 * g3_[i]);
    }
    ramp(g4_, C::d4);
    solve(g4_.data());
    for (std::size_t i = 0; i < n; ++i) {
      inner[i] = x[i] + C::a51 * g1_[i] + C::a52 * g2_[i] + C::a53 * g3_[i] + C::a54 * g4_[i];
    }
    derivative(t + dt, inner, fresh_.data());
    for (std::size_t i = 0; i < n; ++i) {
      g5_[i] = fresh_[i] + r * (C::c51 * g1_[i] + C::c52 * g2_[i] + C::c53 * g3_[i] + C::c54 * g4_[i]);
    }
    solve(g5_.data());
    for (std::size_t i = 0; i < n; ++i) inner[i] = inner[i] + g5_[i];
    derivative(t + dt, inner, fresh_.data());
    for (std::size_t i = 0; i < n; ++i) {
      error[i] =
          fresh_[i] + r * (C::c61 * g1_[i] + C::c62 * g2_[i] + C::c63 * g3_[i] + C::c64 * g4_[i] + C::c65 * g5_[i]);
    }
    solve(error);
    for (std::size_t i = 0; i < n; ++i) xout[i] = inner[i] + error[i];
  }

  // The dense output's two correction vectors of the last step (course.hpp has the formula), and one species' entries.
  void corrections(V* c3, V* c4) const {
    for (std::size_t i = 0; i < g1_.size(); ++i) corrections_of(i, c3[i], c4[i]);
  }
  void corrections_of(std::size_t i, V& c3, V& c4) const {
    using C = RodasCoefficients;
    c3 = C::d21 * g1_[i] + C::d22 * g2_[i] + C::d23 * g3_[i] + C::d24 * g4_[i] + C::d25 * g5_[i];
    c4 = C::d31 * g1_[i] + C::d32 * g2_[i] + C::d33 * g3_[i] + C::d34 * g4_[i] + C::d35 * g5_[i];
  }

 private:
  std::vector<V> fresh_, g1_, g2_, g3_, g4_, g5_;
};

}  // namespace drawdown::solve
