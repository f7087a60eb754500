// Dual numbers: value and derivative carried together, so that a derivative is exact to round-off whatever formula it
// comes from. Forward-mode differentiation (Wengert 1964, Commun ACM 7:463).
#pragma once

namespace drawdown::support {

struct Dual {
  double v = 0.0;
  double d = 0.0;
  Dual() = default;
  Dual(double value) : v(value) {}  // NOLINT(google-explicit-constructor): plain numbers mix freely with dual ones
  Dual(double value, double slope) : v(value), d(slope) {}
};

inline Dual operator+(Dual a, Dual b) {
  return {a.v + b.v, a.d + b.d};
}
inline Dual operator-(Dual a, Dual b) {
  return {a.v - b.v, a.d - b.d};
}
inline Dual operator*(Dual a, Dual b) {
  return {a.v * b.v, a.d * b.v + a.v * b.d};
}
inline Dual operator/(Dual a, Dual b) {
  return {a.v / b.v, (a.d * b.v - a.v * b.d) / (b.v * b.v)};
}
inline bool operator==(Dual a, Dual b) {
  return a.v == b.v && a.d == b.d;
}
inline bool operator<(Dual a, double b) {
  return a.v < b;
}

}  // namespace drawdown::support
