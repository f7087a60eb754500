// A pack's lanes against doubles: every operation, the network and its factorisation give in each lane the very bits
// they give on that lane's number alone.
#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <limits>

#include "network/pack.hpp"
#include "solve/root.hpp"
#include "support/stories.hpp"

using namespace drawdown;

namespace {

using Pack = network::Pack<2, 4>;
constexpr std::size_t lanes = Pack::lanes;

bool same_bits(double a, double b) {
  std::uint64_t x = 0;
  std::uint64_t y = 0;
  std::memcpy(&x, &a, sizeof x);
  std::memcpy(&y, &b, sizeof y);
  return x == y || (std::isnan(a) && std::isnan(b));
}

constexpr double inf = std::numeric_limits<double>::infinity();
const double none = std::nan("");
constexpr std::array<double, lanes> left{0.1, -0.0, -3.5, 1e300, 5e-324, 7.0, inf, 2.0};
const std::array<double, lanes> right{0.3, 0.0, 1e-320, 1e300, 2.0, -7.0, inf, none};

// How many lanes `packed` has other bits in than `alone` gives for each.
template <class Alone>
std::size_t differing(const Pack& packed, const Alone& alone) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < lanes; ++i) count += same_bits(packed.of(i), alone(left.at(i), right.at(i))) ? 0U : 1U;
  return count;
}

// Every person's own levers, rates of inputs and state.
struct Eight {
  std::array<std::vector<double>, lanes> levers, slopes, states;
  std::vector<Pack> packed_levers, packed_slopes, packed_states;

  explicit Eight(const body::Body& body, unsigned seed) {
    std::mt19937 random(seed);
    for (std::size_t p = 0; p < lanes; ++p) {
      levers.at(p) = support::random_levers(random);
      states.at(p) = support::random_state(body.network, random);
      slopes.at(p).assign(levers.at(p).size(), 0.0);
      for (std::size_t i = p; i < levers.at(p).size(); i += 4) slopes.at(p)[i] = 1e-3 * static_cast<double>(i % 3);
    }
    packed_levers = packed(levers);
    packed_slopes = packed(slopes);
    packed_states = packed(states);
  }
  static std::vector<Pack> packed(const std::array<std::vector<double>, lanes>& people) {
    std::vector<Pack> all(people.front().size());
    for (std::size_t p = 0; p < lanes; ++p) {
      for (std::size_t i = 0; i < all.size(); ++i) all[i].set(p, people.at(p)[i]);
    }
    return all;
  }
};

std::size_t differing(const std::vector<Pack>& packed, std::size_t lane, const std::vector<double>& alone) {
  std::size_t count = 0;
  for (std::size_t i = 0; i < alone.size(); ++i) count += same_bits(packed[i].of(lane), alone[i]) ? 0U : 1U;
  return count;
}

}  // namespace

TEST_CASE("each operation on a pack gives in every lane the bits it gives on doubles, at the ends of the numbers too") {
  const Pack a = Pack::load(left.data());
  const Pack b = Pack::load(right.data());
  CHECK(differing(a + b, [](double x, double y) { return x + y; }) == 0);
  CHECK(differing(a - b, [](double x, double y) { return x - y; }) == 0);
  CHECK(differing(a * b, [](double x, double y) { return x * y; }) == 0);
  CHECK(differing(a / b, [](double x, double y) { return x / y; }) == 0);
  CHECK(differing(0.3 / b, [](double, double y) { return 0.3 / y; }) == 0);
  CHECK(differing(a - 0.3, [](double x, double) { return x - 0.3; }) == 0);
  const auto either = [](double v, double x, double y) { return v < 0.0 ? x : y; };
  CHECK(differing(if_negative(b, a, b), [&](double x, double y) { return either(y, x, y); }) == 0);
  // The comparison does see one lane that is off by its last bit, and a zero of the other sign.
  Pack off = a;
  off.set(3, std::nextafter(off.of(3), 0.0));
  off.set(1, 0.0);
  CHECK(differing(off, [](double x, double) { return x; }) == 2);
}

TEST_CASE(
    "of a pack a comparison holds when it holds in every lane, and one lane that is not finite spoils all_finite") {
  Pack a(2.0);
  CHECK(a == Pack(2.0));
  CHECK(a > Pack(1.0));
  CHECK(all_finite(a));
  CHECK(largest_of(a) == 2.0);
  for (std::size_t lane = 0; lane < lanes; ++lane) {
    Pack other = a;
    other.set(lane, 0.5);
    CHECK_FALSE(other == a);
    CHECK_FALSE(other > Pack(1.0));
    other.set(lane, 3.0);
    CHECK(largest_of(other) == 3.0);
    for (const double bad : {inf, -inf, none}) {
      other.set(lane, bad);
      CHECK_FALSE(all_finite(other));
    }
  }
}

TEST_CASE("the network bound for eight gives each the derivative, Jacobian and time derivative of a binding alone") {
  const auto body = support::standard_body();
  const network::Plan& plan = *body->plan;
  const Eight eight(*body, 301);
  network::Bound<Pack> together(body->plan);
  together.bind(eight.packed_levers, eight.packed_slopes, 10.0);
  std::vector<Pack> slope(plan.species);
  std::vector<Pack> jacobian(plan.pattern.entries.size());
  std::vector<Pack> dfdt(plan.species);
  together.linearise(31.0, eight.packed_states.data(), slope.data(), jacobian.data(), dfdt.data());
  // An input moves in lanes when it moves for one of the eight: the others' constants are then multiplied in another
  // order, and only close.
  std::vector<double> own_slope(plan.species);
  std::vector<double> own_jacobian(jacobian.size());
  std::vector<double> own_dfdt(plan.species);
  const auto close = [](const std::vector<Pack>& packed, std::size_t lane, const std::vector<double>& own) {
    double most = 0.0;
    double off = 0.0;
    for (std::size_t i = 0; i < own.size(); ++i) {
      most = std::max(most, std::abs(own[i]));
      off = std::max(off, std::abs(packed[i].of(lane) - own[i]));
    }
    return off <= 1e-14 * most;
  };
  for (std::size_t p = 0; p < lanes; ++p) {
    network::Bound<double> alone(body->plan);
    alone.bind(eight.levers.at(p), eight.slopes.at(p), 10.0);
    alone.linearise(31.0, eight.states.at(p).data(), own_slope.data(), own_jacobian.data(), own_dfdt.data());
    CHECK(close(slope, p, own_slope));
    CHECK(close(jacobian, p, own_jacobian));
    CHECK(close(dfdt, p, own_dfdt));
    CHECK_FALSE(close(slope, (p + 1) % lanes, own_slope));
  }
  // Where all inputs are held there is no other order, and the bits are the same.
  together.bind(eight.packed_levers, {}, 10.0);
  together.linearise(31.0, eight.packed_states.data(), slope.data(), jacobian.data(), dfdt.data());
  for (std::size_t p = 0; p < lanes; ++p) {
    network::Bound<double> alone(body->plan);
    alone.bind(eight.levers.at(p), {}, 10.0);
    alone.linearise(31.0, eight.states.at(p).data(), own_slope.data(), own_jacobian.data(), own_dfdt.data());
    CHECK(differing(slope, p, own_slope) == 0);
    CHECK(differing(jacobian, p, own_jacobian) == 0);
    CHECK(differing(jacobian, (p + 1) % lanes, own_jacobian) > 0);
  }
}

TEST_CASE("bound lane by lane each has the bits of a binding alone at its own time, whatever moves in the others") {
  const auto body = support::standard_body();
  const network::Plan& plan = *body->plan;
  const Eight eight(*body, 301);
  network::Bound<Pack> together(body->plan);
  std::vector<Pack> slope(plan.species);
  std::vector<Pack> jacobian(plan.pattern.entries.size());
  std::vector<Pack> dfdt(plan.species);
  std::vector<double> own_slope(plan.species);
  std::vector<double> own_jacobian(jacobian.size());
  std::vector<double> own_dfdt(plan.species);
  // Once, then each with the neighbour's levers, and back: what is left of an earlier binding would show.
  for (const std::size_t shift : {0U, 1U, 0U}) {
    Pack now(0.0);
    for (std::size_t p = 0; p < lanes; ++p) {
      const std::size_t of = (p + shift) % lanes;
      const double start = 10.0 + static_cast<double>(of);
      together.bind_lane(p, eight.levers.at(of).data(), eight.slopes.at(of).data(), start);
      now.set(p, start + 2.0 * static_cast<double>(of));
    }
    together.linearise(now, eight.packed_states.data(), slope.data(), jacobian.data(), dfdt.data());
    for (std::size_t p = 0; p < lanes; ++p) {
      const std::size_t of = (p + shift) % lanes;
      network::Bound<double> alone(body->plan);
      alone.bind(eight.levers.at(of), eight.slopes.at(of), 10.0 + static_cast<double>(of));
      alone.linearise(now.of(p), eight.states.at(p).data(), own_slope.data(), own_jacobian.data(), own_dfdt.data());
      CHECK(differing(slope, p, own_slope) == 0);
      CHECK(differing(jacobian, p, own_jacobian) == 0);
      CHECK(differing(dfdt, p, own_dfdt) == 0);
      CHECK(differing(slope, (p + 1) % lanes, own_slope) > 0);
    }
  }
}

TEST_CASE(
    "the sparse factors of eight matrices are each the bits of its own, and a bad pivot is told of its lane alone") {
  const auto body = support::standard_body();
  const std::size_t n = body->plan->species;
  std::mt19937 random(302);
  std::normal_distribution<double> normal;
  std::vector<Pack> values(body->plan->pattern.entries.size());
  std::vector<Pack> b(n);
  for (auto* numbers : {&values, &b}) {
    for (Pack& v : *numbers) {
      for (std::size_t p = 0; p < lanes; ++p) v.set(p, normal(random));
    }
  }
  const std::vector<Pack> right_sides = b;
  solve::SparseLu<Pack> together(body->model->lu());
  REQUIRE(together.factorise(25.0, values.data()));
  together.solve(b.data());
  for (std::size_t p = 0; p < lanes; ++p) {
    std::vector<double> own_values;
    std::vector<double> own;
    for (const Pack& v : values) own_values.push_back(v.of(p));
    for (const Pack& v : right_sides) own.push_back(v.of(p));
    solve::SparseLu<double> alone(body->model->lu());
    REQUIRE(alone.factorise(25.0, own_values.data()));
    alone.solve(own.data());
    CHECK(differing(b, p, own) == 0);
    CHECK(differing(b, (p + 1) % lanes, own) > 0);
    CHECK(together.sign().of(p) == alone.sign());
  }
  const auto& entries = body->plan->pattern.entries;
  const auto first = static_cast<std::size_t>(body->model->lu()->order.front());
  for (std::size_t e = 0; e < entries.size(); ++e) {
    if (entries[e].first != static_cast<int>(first) || entries[e].second != static_cast<int>(first)) continue;
    for (const double bad : {25.0, none, inf}) {
      values[e].set(5, bad);
      CHECK_FALSE(together.factorise(25.0, values.data()));
      for (std::size_t p = 0; p < lanes; ++p) CHECK(together.trust().of(p) == (p == 5 ? -1.0 : 1.0));
    }
  }
}

TEST_CASE("whether a root is stable is told lane by lane") {
  // Two kinds of matrix by their sign: x' = rate * x is at rest at 0, stable where the rate is below 0.
  const network::Pattern one{1, {{0, 0}}};
  solve::SparseLu<Pack> lu(std::make_shared<const solve::LuPlan>(one));
  Pack rate(-0.5);
  REQUIRE(lu.factorise(1e-12, &rate));
  CHECK(largest_of(-1.0 * lu.sign()) < 0.0);
  rate.set(6, 0.5);
  REQUIRE(lu.factorise(1e-12, &rate));
  CHECK(lu.sign().of(6) == -1.0);
  CHECK(lu.sign().of(5) == 1.0);
  CHECK_FALSE(largest_of(-1.0 * lu.sign()) < 0.0);
}
