// Several people's numbers as one: a number type of W * N lanes for bound.hpp, sparse_lu.hpp and rodas.hpp. It is N
// vector registers of W doubles, because compilers lower vectors wider than the machine's badly. Every operation is
// the one on double, lane by lane: the same lanes give the same bits whatever W is.
//
// Everything here is always inlined: code for different instruction sets shares no function that a linker could pick.
// The registers are GCC's and Clang's vector extension; where the machine has none so wide the compiler splits them.
#pragma once

#include <cstddef>
#include <cstring>

#include "network/factor_value.hpp"

#define DRAWDOWN_IN_LANES [[nodiscard, gnu::always_inline]] inline

namespace drawdown::network {

// Written out: the attribute is not heeded on a type that depends on a template's argument.
template <std::size_t W>
struct Lanes;
template <>
struct Lanes<2> {
  using Register = double __attribute__((vector_size(16)));
};
template <>
struct Lanes<4> {
  using Register = double __attribute__((vector_size(32)));
};
template <>
struct Lanes<8> {
  using Register = double __attribute__((vector_size(64)));
};

template <std::size_t W, std::size_t N>
struct Pack {
  using Register = typename Lanes<W>::Register;
  static constexpr std::size_t lanes = W * N;

  // Not set.
  Pack() = default;
  // The same in every lane.
  [[gnu::always_inline]] explicit inline Pack(double all) {
    for (std::size_t i = 0; i < N; ++i) part[i] = Register{} + all;
  }
  // From and to `lanes` numbers side by side.
  DRAWDOWN_IN_LANES static Pack load(const double* from) {
    Pack loaded;
    std::memcpy(&loaded, from, sizeof loaded);
    return loaded;
  }
  [[gnu::always_inline]] inline void store(double* to) const { std::memcpy(to, this, sizeof *this); }
  // One lane, 0 to lanes - 1.
  DRAWDOWN_IN_LANES double of(std::size_t lane) const { return part[lane / W][lane % W]; }
  [[gnu::always_inline]] inline void set(std::size_t lane, double value) { part[lane / W][lane % W] = value; }

  // The type's own alignment is lost as a template's argument; without this a std::vector would allocate too loosely.
  alignas(sizeof(Register)) Register part[N];
};

#define DRAWDOWN_LANE_BY_LANE(op)                                                      \
  template <std::size_t W, std::size_t N>                                              \
  DRAWDOWN_IN_LANES Pack<W, N> operator op(const Pack<W, N>& a, const Pack<W, N>& b) { \
    Pack<W, N> r;                                                                      \
    for (std::size_t i = 0; i < N; ++i) r.part[i] = a.part[i] op b.part[i];            \
    return r;                                                                          \
  }                                                                                    \
  template <std::size_t W, std::size_t N>                                              \
  DRAWDOWN_IN_LANES Pack<W, N> operator op(const Pack<W, N>& a, double b) {            \
    Pack<W, N> r;                                                                      \
    for (std::size_t i = 0; i < N; ++i) r.part[i] = a.part[i] op b;                    \
    return r;                                                                          \
  }                                                                                    \
  template <std::size_t W, std::size_t N>                                              \
  DRAWDOWN_IN_LANES Pack<W, N> operator op(double a, const Pack<W, N>& b) {            \
    Pack<W, N> r;                                                                      \
    for (std::size_t i = 0; i < N; ++i) r.part[i] = a op b.part[i];                    \
    return r;                                                                          \
  }
DRAWDOWN_LANE_BY_LANE(+)
DRAWDOWN_LANE_BY_LANE(-)
DRAWDOWN_LANE_BY_LANE(*)
DRAWDOWN_LANE_BY_LANE(/)
#undef DRAWDOWN_LANE_BY_LANE

// True if it is so in every lane.
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES bool operator==(const Pack<W, N>& a, const Pack<W, N>& b) {
  bool all = true;
  for (std::size_t lane = 0; lane < Pack<W, N>::lanes; ++lane) all = all && a.of(lane) == b.of(lane);
  return all;
}
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES bool operator>(const Pack<W, N>& a, const Pack<W, N>& b) {
  bool all = true;
  for (std::size_t lane = 0; lane < Pack<W, N>::lanes; ++lane) all = all && a.of(lane) > b.of(lane);
  return all;
}

// Beside those for one number in factor_value.hpp; found by the type they are given.
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES Pack<W, N> if_negative(const Pack<W, N>& v, const Pack<W, N>& a, const Pack<W, N>& b) {
  Pack<W, N> r;
  for (std::size_t i = 0; i < N; ++i) r.part[i] = v.part[i] < 0.0 ? a.part[i] : b.part[i];
  return r;
}
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES bool all_finite(const Pack<W, N>& v) {
  const Pack<W, N> nothing = v - v;  // not a number where v is not finite
  return nothing == Pack<W, N>(0.0);
}
template <std::size_t W, std::size_t N>
inline constexpr std::size_t lanes_of<Pack<W, N>> = Pack<W, N>::lanes;
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES double lane_of(const Pack<W, N>& v, std::size_t lane) {
  return v.of(lane);
}
template <std::size_t W, std::size_t N>
[[gnu::always_inline]] inline void set_lane(Pack<W, N>& v, std::size_t lane, double value) {
  v.set(lane, value);
}
// The largest of the lanes, all of them numbers.
template <std::size_t W, std::size_t N>
DRAWDOWN_IN_LANES double largest_of(const Pack<W, N>& v) {
  double most = v.of(0);
  for (std::size_t lane = 1; lane < Pack<W, N>::lanes; ++lane) most = v.of(lane) > most ? v.of(lane) : most;
  return most;
}

}  // namespace drawdown::network

#undef DRAWDOWN_IN_LANES
