// Random numbers by seed, person and name: the generator's published answers, the normal quantile against Boost.Math,
// and that a name is a place of its own.
#include <doctest/doctest.h>

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <cmath>
#include <map>
#include <string>
#include <vector>

#include "study/people.hpp"
#include "study/random.hpp"

using namespace drawdown::study;

namespace {

using Block = std::array<std::uint32_t, 4>;

double boost_quantile(double p) {
  const boost::math::normal_distribution<double> standard;
  return p < 0.5 ? boost::math::quantile(standard, p)
                 : boost::math::quantile(boost::math::complement(standard, 1.0 - p));
}

// The largest relative difference of `ours` from Boost's over places from 2^-53 to the middle and their mirror images.
template <class Quantile>
double worst_difference(Quantile ours) {
  double worst = 0.0;
  const auto compare = [&](double p) {
    const double exact = boost_quantile(p);
    worst = std::max(worst, std::abs(ours(p) - exact) / std::max(std::abs(exact), 1e-3));
  };
  for (double p = 0x1p-53; p < 0.5; p *= 1.01) {
    compare(p);
    if (p > 1e-6) compare(1.0 - p);
  }
  for (int i = 1; i < 4000; ++i) compare(i / 4000.0);
  return worst;
}

// Chi-square of the shares in sixteen equal parts of (0, 1).
template <class Number>
double chi_square(Number number, int count) {
  std::array<int, 16> in{};
  for (int i = 0; i < count; ++i) in[static_cast<std::size_t>(16.0 * number(static_cast<std::uint32_t>(i)))] += 1;
  double sum = 0.0;
  for (const int n : in) sum += (n - count / 16.0) * (n - count / 16.0) / (count / 16.0);
  return sum;
}

// The first name whose slot another one has, or nothing.
std::string shares_a_slot(const std::vector<std::string>& names) {
  std::map<std::uint32_t, std::string> seen;
  for (const std::string& name : names) {
    if (!seen.emplace(slot(name).place, name).second) return name;
  }
  return "";
}

}  // namespace

TEST_CASE("the generator gives the known answers published with it") {
  // Philox4x32 with ten rounds, from the known-answer vectors of Salmon, Moraes, Dror & Shaw's library.
  CHECK(philox({0, 0, 0, 0}, {0, 0}) == Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
  CHECK(philox({~0U, ~0U, ~0U, ~0U}, {~0U, ~0U}) == Block{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd});
  CHECK(philox({0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, {0xa4093822, 0x299f31d0}) ==
        Block{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1});
  // One bit of the counter or of the key makes another block.
  CHECK(philox({1, 0, 0, 0}, {0, 0}) != Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
  CHECK(philox({0, 0, 0, 0}, {0, 1}) != Block{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8});
}

TEST_CASE("a name's place is the published hash of it, and no two names that are drawn share one") {
  CHECK(slot("").place == 0x811c9dc5U);
  CHECK(slot("a").place == 0xe40c292cU);
  CHECK(slot("foobar").place == 0xbf9cf968U);
  std::vector<std::string> names = drawn_names();
  CHECK(names.size() > 30);
  CHECK(shares_a_slot(names) == "");
  names.push_back(names.front());
  CHECK(shares_a_slot(names) == names.front());
}

TEST_CASE("the normal quantile is within 1e-14 of Boost.Math's from 2^-53 up") {
  const double worst = worst_difference(normal_quantile);
  CHECK_MESSAGE(worst < 1e-14, worst);
  // What is off by three parts in 10^14 is found.
  CHECK(worst_difference([](double p) { return normal_quantile(p) * (1.0 + 3e-14); }) > 1e-14);
  CHECK(normal_quantile(0.5) == 0.0);
  CHECK(normal_quantile(0.25) == -normal_quantile(0.75));
  for (const double outside : {0.0, 1.0, -0.1, 1.1, std::nan("")}) CHECK(std::isnan(normal_quantile(outside)));
}

TEST_CASE("uniform numbers fill (0, 1) evenly over people, over seeds and over draws, and never reach an end") {
  constexpr int count = 16000;
  constexpr double limit = 44.3;  // of chi-square with 15 degrees of freedom, exceeded once in ten thousand
  const Slot name = slot("severity");
  CHECK(chi_square([&](std::uint32_t i) { return uniform({1, i}, name); }, count) < limit);
  CHECK(chi_square([&](std::uint32_t i) { return uniform({i, 17}, name); }, count) < limit);
  CHECK(chi_square([&](std::uint32_t i) { return uniform({1, 17}, name, i); }, count) < limit);
  // Squares of them do not, nor a generator that only counts through a part.
  CHECK(chi_square([&](std::uint32_t i) { return std::pow(uniform({1, i}, name), 1.1); }, count) > limit);
  CHECK(chi_square([&](std::uint32_t i) { return 0.95 * i / count; }, count) > limit);
  for (std::uint64_t i = 0; i < count; ++i) {
    const double u = uniform({1, i}, name);
    if (!(u > 0.0 && u < 1.0)) FAIL_CHECK(i);
  }
  // People, seeds and draws beyond 32 bits are told apart.
  CHECK(uniform({1, 17}, name) != uniform({1, 17 + (1ULL << 32U)}, name));
  CHECK(uniform({1, 17}, name) != uniform({1 + (1ULL << 32U), 17}, name));
}
